//! A first guess at a gauge, for a knitter who has no swatch yet: from the yarn's weight or the stitches
//! that its band prints, and from the needles. The sock itself is measured after its first centimetres and
//! the rest is replanned, so the guess only has to be good enough to begin with.
//!
//! All of it is from memory; common practice, no source: what each weight gives in socks, that a needle a
//! quarter of a millimetre thinner makes about one stitch more to 10 cm, that socks are knitted on needles
//! about half a millimetre thinner than the band's, and eleven rounds to eight stitches. The outside checks
//! compare it with the published ranges of each weight.
//!
//! Pure. May use swatch and needle sizes; must not know a sock or its plan.

use crate::needle_size::Needle;
use crate::recipe::{ROUND_GAUGE, STITCH_GAUGE};
use crate::swatch::{FirstGuess, Swatch};
use crate::units::Length;
use crate::yarn_weight::WeightName;

/// How tall the knitting is when the guess is to be checked in it.
pub const CHECKED_AT: Length = Length::cm(5);

/// Hundredths of a millimetre that make a stitch of difference to 10 cm.
const STEP: i32 = 25;
/// The most stitches that are added or taken off for the needles.
const MOST: i32 = 4;
/// How many steps thinner than the band's the needles of a sock usually are.
const THINNER: i32 = 2;

/// What a weight usually gives in socks.
struct InSocks {
    /// Stitches to 10 cm.
    stitches: i32,
    /// On needles of so many hundredths of a millimetre.
    needle: i32,
    /// The needles that its band usually names, in hundredths of a millimetre.
    band_needle: i32,
}

impl InSocks {
    const fn of(yarn: WeightName) -> Self {
        let (stitches, needle, band_needle) = match yarn {
            WeightName::Lace => (36, 200, 225),
            WeightName::Fingering => (32, 250, 275),
            WeightName::Sport => (26, 300, 350),
            WeightName::Dk => (24, 350, 400),
            WeightName::Worsted => (20, 450, 500),
            WeightName::Bulky => (15, 550, 650),
        };
        Self {
            stitches,
            needle,
            band_needle,
        }
    }
}

impl FirstGuess {
    /// The swatch that is guessed: over 10 cm, on the needles that `noted` has. All else that was measured
    /// stays as it is in `noted`.
    #[must_use]
    pub fn swatch(self, noted: Swatch) -> Swatch {
        let stitches = self.stitches(noted.needle);
        let rounds = (stitches * 11 + 4) / 8;
        Swatch {
            stitches,
            width: Length::cm(10),
            rounds: rounds.clamp(*ROUND_GAUGE.start(), *ROUND_GAUGE.end()),
            height: Length::cm(10),
            guess: Some(self),
            ..noted
        }
    }

    /// Stitches to 10 cm.
    fn stitches(self, needle: Option<Needle>) -> u16 {
        let usual = InSocks::of(self.yarn);
        let needle = needle.map(|needle| i32::from(needle.size().hundredths));
        let steps = |from: i32, to: i32| ((from - to) / STEP).clamp(-MOST, MOST);
        let stitches = match (self.band_stitches, needle) {
            (Some(band), Some(needle)) => i32::from(band) + steps(usual.band_needle, needle),
            (Some(band), None) => i32::from(band) + THINNER,
            (None, Some(needle)) => usual.stitches + steps(usual.needle, needle),
            (None, None) => usual.stitches,
        };
        let stitches = u16::try_from(stitches).unwrap_or(0);
        stitches.clamp(*STITCH_GAUGE.start(), *STITCH_GAUGE.end())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Caution, Plan, SectionKind, make, replan};
    use crate::recipe::Recipe;

    fn guessed(yarn: WeightName, band: Option<u16>, needle: Option<u16>) -> (u16, u16) {
        let guess = FirstGuess {
            yarn,
            band_stitches: band,
        };
        let needle = needle
            .and_then(|wanted| Needle::all().find(|needle| needle.size().hundredths == wanted));
        let swatch = guess.swatch(Swatch {
            needle,
            ..Swatch::default()
        });
        assert_eq!(swatch.guess, Some(guess));
        (swatch.stitches, swatch.rounds)
    }

    #[test]
    fn sock_yarn_gives_what_socks_mostly_have() {
        assert_eq!(guessed(WeightName::Fingering, None, None), (32, 44));
        assert_eq!(guessed(WeightName::Fingering, None, Some(225)), (33, 45));
        assert_eq!(guessed(WeightName::Fingering, None, Some(300)), (30, 41));
        // what the band says is for its own needles
        assert_eq!(
            guessed(WeightName::Fingering, Some(28), Some(275)),
            (28, 39)
        );
        assert_eq!(
            guessed(WeightName::Fingering, Some(28), Some(225)),
            (30, 41)
        );
        assert_eq!(guessed(WeightName::Fingering, Some(28), None), (30, 41));
    }

    #[test]
    fn every_guess_is_a_gauge_that_a_sock_can_have_and_thinner_needles_give_more_stitches() {
        let bands = [None, Some(10), Some(28), Some(50)];
        for yarn in WeightName::ALL {
            for band_stitches in bands {
                let guess = FirstGuess {
                    yarn,
                    band_stitches,
                };
                let mut before = u16::MAX;
                for needle in Needle::all() {
                    let recipe = Recipe {
                        swatch: guess.swatch(Swatch {
                            needle: Some(needle),
                            ..Swatch::default()
                        }),
                        ..Recipe::default()
                    };
                    assert_eq!(recipe.check(), Ok(()), "{guess:?} {needle}");
                    assert!(recipe.swatch.stitches <= before, "{guess:?} {needle}");
                    before = recipe.swatch.stitches;
                }
            }
        }
    }

    #[test]
    fn a_sock_by_a_guess_says_so() {
        let with = |swatch| Recipe {
            swatch,
            ..Recipe::default()
        };
        let cautions = |swatch| make(&with(swatch)).expect("a sock").outcome.cautions;
        let guess = FirstGuess::default().swatch(Swatch::default());
        assert!(cautions(guess).contains(&Caution::GaugeGuessed));
        assert!(!cautions(Swatch::default()).contains(&Caution::GaugeGuessed));
    }

    /// What is knitted stays, the rest is as many rounds as the measured gauge takes, and nothing is called a
    /// guess any more.
    #[test]
    fn what_is_measured_in_the_sock_takes_the_place_of_the_guess() {
        let guessed = Recipe {
            swatch: FirstGuess::default().swatch(Swatch::default()),
            ..Recipe::default()
        };
        let old = make(&guessed).expect("a sock");
        let leg = |plan: &Plan| {
            let leg = plan.sections.iter().find(|s| s.kind == SectionKind::Leg);
            leg.expect("a leg").counted()
        };
        let before_leg = old
            .sections
            .iter()
            .take_while(|s| s.kind != SectionKind::Leg);
        let done = before_leg.map(|s| s.steps.len()).sum::<usize>() + 22;
        let measured = Recipe {
            swatch: Swatch {
                stitches: 30,
                rounds: 40,
                guess: None,
                ..guessed.swatch
            },
            ..guessed
        };
        let new = replan(&old, done, &measured).expect("the rest of it");
        assert_eq!(new.outcome.stitches, old.outcome.stitches);
        assert!(leg(&new) < leg(&old), "{} {}", leg(&new), leg(&old));
        let round = measured.swatch.height_of(1);
        let off = new.outcome.leg_length.0.abs_diff(measured.leg.0);
        assert!(off <= round.0, "{}", new.outcome.leg_length);
        assert!(new.outcome.circumference > old.outcome.circumference);
        assert!(!new.outcome.cautions.contains(&Caution::GaugeGuessed));
    }
}
