//! Whether a pattern fits the knitter's foot in her gauge: which of its sizes does, which number of stitches would,
//! and how many rounds its leg and foot take then. It advises only: nothing is changed unasked.
//!
//! Stands above the reader of patterns and the planner, whose numbers these are. Writes no sentence.

use crate::pattern::{Part, gauge, size_names, with_plain_rounds};
use crate::plan::{count_that_fits, is_good_fit};
use crate::recipe::Recipe;
use crate::sock::make;
use crate::units::{Length, scaled};

/// Most sizes that are tried.
const MOST_SIZES: usize = 12;

/// What the knitter has measured: what she has not is not judged by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Measured {
    /// Stitches of her gauge.
    pub stitches: bool,
    /// Rounds of her gauge.
    pub rounds: bool,
    /// The length of the foot.
    pub foot: bool,
}

/// One piece of advice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Advice {
    /// How a size comes out round the foot.
    Size {
        /// Which of the pattern's sizes, from 1; nothing where it has one.
        place: Option<usize>,
        /// Whether it is the one that is chosen.
        chosen: bool,
        /// Stitches around.
        stitches: u16,
        /// Round the foot, unstretched.
        round: Length,
        /// How much smaller than the foot that is, in thousandths; negative where it is larger.
        ease_permille: i32,
        /// Whether that fits.
        fits: bool,
    },
    /// So many stitches would fit.
    Count(u16),
    /// The foot comes to another length than is wanted.
    Foot {
        /// What it comes to.
        comes_to: Length,
        /// What the foot wants.
        wanted: Length,
        /// Rounds more, or fewer where negative.
        rounds: i32,
    },
    /// The leg's plain rounds, for the height that they have in the pattern's gauge.
    Leg {
        /// The pattern's.
        was: u16,
        /// In the knitter's gauge.
        is: u16,
    },
}

/// What is advised, and what would be done about it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Refit {
    /// In the order in which it is said.
    pub advice: Vec<Advice>,
    /// Another of the pattern's sizes that fits better, from 0.
    pub size: Option<u8>,
    /// The pattern's text with its rounds changed as is advised.
    pub text: Option<String>,
}

/// Looks whether a recipe's pattern fits; nothing where it has none or makes no sock.
pub fn refit(recipe: &Recipe, measured: Measured) -> Refit {
    let mut out = Refit::default();
    let Some(written) = &recipe.written else {
        return out;
    };
    let Ok(plan) = make(recipe) else { return out };
    if measured.stitches {
        sizes(recipe, &mut out);
    }
    let mut text = written.text.clone();
    let per_height = gauge(&text).and_then(|gauge| Some((gauge.rounds?, gauge.over)));
    if measured.rounds
        && let Some((rounds, over)) = per_height
    {
        let swatch = &recipe.swatch;
        let in_hers = |n: u16| {
            let hers = u64::from(swatch.rounds) * u64::from(over.0);
            let theirs = u64::from(rounds.max(1)) * u64::from(swatch.height.0.max(1));
            u16::try_from(scaled(n.into(), hers, theirs)).unwrap_or(n)
        };
        if let Some((was, is, longer)) = with_plain_rounds(&text, Part::Leg, in_hers) {
            out.advice.push(Advice::Leg { was, is });
            text = longer;
        }
    }
    if measured.rounds && measured.foot {
        let comes_to = plan.outcome.foot_length;
        let wanted = recipe.foot.length.less(recipe.fit.length_ease);
        let off = Length(comes_to.0.abs_diff(wanted.0));
        let many = i32::try_from(recipe.swatch.rounds_in(off)).unwrap_or(0);
        let rounds = if wanted > comes_to { many } else { -many };
        if rounds != 0 {
            out.advice.push(Advice::Foot {
                comes_to,
                wanted,
                rounds,
            });
            let other = |n: u16| u16::try_from(i32::from(n) + rounds).unwrap_or(1);
            if let Some((.., longer)) = with_plain_rounds(&text, Part::Foot, other) {
                text = longer;
            }
        }
    }
    out.text = (text != written.text).then_some(text);
    out
}

/// Each of the pattern's sizes as it comes out: the one that is chosen is always named, another one only where it
/// fits better.
fn sizes(recipe: &Recipe, out: &mut Refit) {
    let Some(written) = &recipe.written else {
        return;
    };
    let many = size_names(&written.text).len().clamp(1, MOST_SIZES);
    let chosen = usize::from(written.size.unwrap_or(0)).min(many - 1);
    let wished = i32::from(recipe.fit.ease_percent) * 10;
    let mut all = Vec::with_capacity(many);
    for place in 0..many {
        let mut of_size = recipe.clone();
        if let Some(written) = &mut of_size.written {
            written.size = u8::try_from(place).ok().filter(|_| many > 1);
        }
        if let Ok(plan) = make(&of_size) {
            all.push((place, plan.outcome));
        }
    }
    let best = all
        .iter()
        .min_by_key(|(_, outcome)| outcome.ease_permille.abs_diff(wished))
        .map(|(place, _)| *place);
    let mut any_fits = false;
    for (place, outcome) in &all {
        let better = best == Some(*place) && *place != chosen;
        let fits = is_good_fit(outcome.ease_permille);
        any_fits |= fits;
        if *place != chosen && !(better && fits) {
            continue;
        }
        if better {
            out.size = u8::try_from(*place).ok();
        }
        out.advice.push(Advice::Size {
            place: (many > 1).then_some(place + 1),
            chosen: *place == chosen,
            stitches: outcome.stitches,
            round: outcome.circumference,
            ease_permille: outcome.ease_permille,
            fits,
        });
    }
    if !any_fits {
        out.advice.push(Advice::Count(count_that_fits(recipe)));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::recipe::Written;
    use crate::swatch::Swatch;

    const ALL: Measured = Measured {
        stitches: true,
        rounds: true,
        foot: true,
    };

    fn recipe(text: &str, size: Option<u8>, stitches: u16, rounds: u16) -> Recipe {
        let mut recipe = Recipe {
            written: Some(Written {
                text: text.to_owned(),
                size,
                ours: Vec::new(),
            }),
            swatch: Swatch {
                stitches,
                width: Length::cm(10),
                rounds,
                height: Length::cm(10),
                ..Swatch::default()
            },
            ..Recipe::default()
        };
        recipe.foot.length = Length::cm(26);
        recipe.foot.circumference = Some(Length::cm(22));
        recipe
    }

    const THREE: &str = "Gauge: 32 sts and 44 rnds to 10 cm\nCUFF\nCO 56 (64, 72) sts. Join.\n\
         Knit 8 rnds.\nLEG\nKnit 44 rnds.\nFOOT\nKnit 50 rnds.\n";

    /// 56, 64 and 72 stitches at 32 to 10 cm are 17.5, 20 and 22.5 cm: for a foot of 22 cm the middle one is
    /// 9 % smaller, which is what is wished (10 %, common practice, no source).
    #[test]
    fn the_size_that_fits_is_found_in_her_gauge() {
        let told = refit(&recipe(THREE, Some(0), 32, 44), ALL);
        assert_eq!(told.size, Some(1));
        let sizes: Vec<_> = told
            .advice
            .iter()
            .filter_map(|advice| match advice {
                Advice::Size {
                    stitches, round, ..
                } => Some((*stitches, *round)),
                _ => None,
            })
            .collect();
        assert_eq!(sizes, [(56, Length(1750)), (64, Length(2000))]);
        // in a finer gauge the largest one is as wide as the middle one was
        let finer = refit(&recipe(THREE, Some(1), 36, 44), ALL);
        assert_eq!(finer.size, Some(2));
        let right = refit(&recipe(THREE, Some(1), 32, 44), ALL);
        assert_eq!(right.size, None);
    }

    #[test]
    fn where_no_size_fits_the_count_that_would_is_told() {
        let told = refit(&recipe(THREE, Some(2), 48, 60), ALL);
        // 22 cm less 10 % at 48 to 10 cm are 95 stitches, in fours 96
        assert!(
            told.advice.contains(&Advice::Count(96)),
            "{:?}",
            told.advice
        );
        assert_eq!(told.size, None);
    }

    /// 44 rounds at 44 to 10 cm are 10 cm; at 33 to 10 cm those are 33 rounds.
    #[test]
    fn lengths_are_planned_anew_in_her_gauge() {
        let told = refit(&recipe(THREE, Some(1), 32, 33), ALL);
        assert!(told.advice.contains(&Advice::Leg { was: 44, is: 33 }));
        // 50 rounds at 33 to 10 cm are 15.2 cm; 25 cm are wanted, 33 rounds more
        let foot = told.advice.iter().find_map(|advice| match advice {
            Advice::Foot { wanted, rounds, .. } => Some((*wanted, *rounds)),
            _ => None,
        });
        assert_eq!(foot, Some((Length::cm(25), 33)));
        let text = told.text.expect("another text");
        assert!(text.contains("Knit 33 rnds."), "{text}");
        assert!(text.contains("Knit 83 rnds."), "{text}");
    }

    #[test]
    fn what_was_not_measured_is_not_judged_by() {
        let told = refit(&recipe(THREE, Some(1), 32, 33), Measured::default());
        assert_eq!(told, Refit::default());
    }
}
