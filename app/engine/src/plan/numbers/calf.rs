//! A leg that follows the calf: how many stitches it has at each height. What it has more than the
//! ankle lies at the back, so that front, instep and foot never change.

use super::fabric::Fabric;
use super::round_gauge::Rounds;
use crate::error::{FieldError, Problem};
use crate::recipe::{Girth, Recipe, TOP_STITCHES};
use crate::units::Length;

/// Pairs of stitches more than at the ankle, by height.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::plan) struct Profile {
    /// Rounds above the heel, ascending from 0, and pairs there; straight lines between.
    points: Vec<(u16, u16)>,
}

impl Profile {
    /// Decides the stitches of a leg of so many rounds under the cuff.
    pub(in crate::plan) fn decide(
        recipe: &Recipe,
        calf: Option<&[Girth]>,
        around: u16,
        leg: u16,
    ) -> Result<Self, FieldError> {
        let rounds = Rounds::of(recipe).leg;
        let mut points = vec![(0, 0)];
        if recipe.fit.tender_legs && calf.is_some_and(<[Girth]>::is_empty) {
            // As wide as the foot itself, widened a pair in every fourth round.
            let wide = pairs_to(recipe, around, recipe.foot.round_ball()).min(leg);
            points.push((leg.min(4 * wide), wide));
        }
        for girth in calf.unwrap_or_default() {
            let (below, pairs_below) = points[points.len() - 1];
            if below == leg {
                break;
            }
            let height = rounds.rounds_in(girth.height);
            let pairs = pairs_to(recipe, around, girth.circumference);
            if height <= below {
                return Err(wrong(Problem::GirthsInOneRound {
                    height: girth.height,
                }));
            }
            points.push(if height > leg {
                (leg, between((below, pairs_below), (height, pairs), leg))
            } else {
                (height, pairs)
            });
        }
        let (last, pairs) = points[points.len() - 1];
        if last < leg {
            points.push((leg, pairs));
        }
        // every rib has whole repeats in a multiple of four
        if let Some((_, top)) = points.last_mut() {
            *top = top.next_multiple_of(2);
        }
        let profile = Self { points };
        profile.check(around, leg)?;
        Ok(profile)
    }

    fn check(&self, around: u16, leg: u16) -> Result<(), FieldError> {
        let steep = (1..=leg).find(|r| self.at(*r).abs_diff(self.at(r - 1)) > 1);
        if let Some(round) = steep {
            return Err(wrong(Problem::LegTooSteep { round }));
        }
        let widest = self
            .points
            .iter()
            .map(|(_, pairs)| around + 2 * pairs)
            .max();
        match widest {
            Some(n) if n > *TOP_STITCHES.end() => Err(wrong(Problem::LegTooWide {
                stitches: n,
                most: *TOP_STITCHES.end(),
            })),
            _ => Ok(()),
        }
    }

    /// Pairs at so many rounds above the heel; above the line's end it goes on upright.
    pub(in crate::plan) fn at(&self, round: u16) -> u16 {
        self.points
            .windows(2)
            .find(|w| (w[0].0..=w[1].0).contains(&round))
            .map_or(self.top(), |w| between(w[0], w[1], round))
    }

    /// Pairs at the cuff.
    pub(in crate::plan) fn top(&self) -> u16 {
        self.points.last().map_or(0, |(_, pairs)| *pairs)
    }
}

fn wrong(problem: Problem) -> FieldError {
    FieldError::new("calf", problem)
}

/// Pairs that a circumference takes beyond those of the ankle, less the ease; none where the leg is
/// narrower. They are plain, at the back; what the ankle's stitches cover depends on their fabric.
fn pairs_to(recipe: &Recipe, around: u16, round: Length) -> u16 {
    let swatch = &recipe.swatch;
    // Tender legs have no negative ease.
    let ease = if recipe.fit.tender_legs {
        0
    } else {
        recipe.fit.ease_percent
    };
    let share = 1000 * u64::from(100 - ease) * u64::from(swatch.stitches);
    let width = 100 * u64::from(swatch.width.0.max(1));
    let wanted = u64::from(round.0) * share;
    let ankle = u64::from(around) * width * u64::from(Fabric::of(recipe).leg(around));
    let pair = 2 * 1000 * width;
    let more = wanted.saturating_sub(ankle);
    u16::try_from((more + pair / 2) / pair).unwrap_or(u16::MAX)
}

/// The height `round` on the line between two points, to the nearest whole.
fn between(low: (u16, u16), high: (u16, u16), round: u16) -> u16 {
    let [(x0, y0), (x1, y1)] = [low, high].map(|(x, y)| (i64::from(x), i64::from(y)));
    let length = (x1 - x0).max(1);
    let rise = (y1 - y0) * (i64::from(round) - x0);
    let pairs = y0 + (2 * rise + length).div_euclid(2 * length);
    u16::try_from(pairs).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::make;
    use crate::recipe::{Direction, Method};
    use crate::trace::Trace;
    use crate::units::Length;

    fn knee_sock(direction: Direction, needles: Method) -> Recipe {
        let girth = |height, circumference| Girth {
            height: Length::cm(height),
            circumference: Length::cm(circumference),
        };
        Recipe {
            direction,
            needles,
            stitches: Some(64),
            leg: Length::cm(40),
            calf: vec![girth(22, 36), girth(36, 33)],
            ..Recipe::default()
        }
    }

    #[test]
    fn a_knee_sock_is_as_wide_as_the_calf_at_its_height() {
        for direction in [Direction::CuffDown, Direction::ToeUp] {
            for needles in Method::ALL {
                let recipe = knee_sock(direction, needles);
                let plan = make(&recipe).expect("a knee sock");
                let trace = Trace::of(&plan).expect("it can be knitted");
                // 36 cm less 10 % at 30 stitches to 10 cm are 97.2; 33 cm are 89.1
                let widest = trace.steps.iter().map(|s| s.after().stitches()).max();
                assert_eq!(widest, Some(98), "{needles:?}");
                assert_eq!(plan.outcome.cast_on, 92, "{needles:?}");
            }
        }
    }

    #[test]
    fn a_leg_that_widens_at_once_is_refused() {
        let mut recipe = knee_sock(Direction::CuffDown, Method::default());
        recipe.calf = vec![Girth {
            height: Length::cm(2),
            circumference: Length::cm(50),
        }];
        let refused = make(&recipe).expect_err("too steep");
        assert_eq!(refused.fields()[0].field, "calf");
    }
}
