//! How many rounds cover a height, plain or where the motif is knitted: its own rounds, where they were
//! counted on a swatch in it.
//!
//! Instep and sole, or front and back, have the same number of rounds however tall each fabric lies by
//! itself: the recipe says whose counts.

use crate::plan::model::Plan;
use crate::plan::section_kind::SectionKind;
use crate::recipe::{MotifPlacement, Recipe, RoundsBy};
use crate::swatch::Swatch;
use crate::units::{Length, scaled};

/// How many rounds make a height, in tenths of a millimetre.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) struct RoundGauge {
    rounds: u64,
    over: u64,
}

impl RoundGauge {
    /// Rounds that cover a height, to the nearest whole.
    pub(in crate::plan) fn rounds_in(self, height: Length) -> u16 {
        to_u16(scaled(height.0.into(), self.rounds, self.over.max(1)))
    }

    /// How tall so many rounds are.
    pub(in crate::plan) fn height_of(self, rounds: u16) -> Length {
        let tenths = scaled(rounds.into(), self.over, self.rounds.max(1));
        Length(u32::try_from(tenths).unwrap_or(u32::MAX))
    }
}

/// The rounds of each part of a sock.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) struct Rounds {
    /// Where all is plain.
    pub plain: RoundGauge,
    /// Of the leg under its cuff.
    pub leg: RoundGauge,
    /// Of the foot between heel and toe, its gusset included.
    pub foot: RoundGauge,
}

impl Rounds {
    /// The round gauges of a recipe.
    pub(in crate::plan) fn of(recipe: &Recipe) -> Self {
        let swatch = &recipe.swatch;
        let gauge = |rounds: u16, height: Length| RoundGauge {
            rounds: rounds.into(),
            over: height.0.into(),
        };
        let plain = gauge(swatch.rounds, swatch.height);
        let measured = recipe.motif.as_ref().zip(swatch.pattern_rounds);
        let Some((motif, pattern)) = measured else {
            return Self {
                plain,
                leg: plain,
                foot: plain,
            };
        };
        let pattern = gauge(pattern.rounds, pattern.height);
        let foot = match motif.rounds_by {
            RoundsBy::Plain => plain,
            // The mean height of a round of either.
            RoundsBy::Between => RoundGauge {
                rounds: 2 * plain.rounds * pattern.rounds,
                over: plain.over * pattern.rounds + pattern.over * plain.rounds,
            },
            RoundsBy::Pattern => pattern,
        };
        let leg = match motif.place {
            MotifPlacement::AllRound => pattern,
            MotifPlacement::Front => foot,
        };
        Self { plain, leg, foot }
    }

    /// The same before washing, where the swatch was measured then. A patterned swatch changes in the
    /// same proportion.
    pub(in crate::plan) fn before_washing(self, swatch: &Swatch) -> Option<Self> {
        let (washed, before) = (
            u64::from(swatch.height.0),
            u64::from(swatch.unwashed?.height.0),
        );
        let unwashed = |gauge: RoundGauge| RoundGauge {
            rounds: gauge.rounds * washed,
            over: gauge.over * before,
        };
        Some(Self {
            plain: unwashed(self.plain),
            leg: unwashed(self.leg),
            foot: unwashed(self.foot),
        })
    }

    /// Rounds of a foot of that length, of which so many at its ends are plain.
    pub(in crate::plan) fn of_foot(&self, length: Length, plain: u16) -> u16 {
        let (round, over) = (self.plain.rounds.max(1), self.plain.over);
        let ends = u64::from(plain) * over;
        // In tenths of a millimetre times the plain swatch's rounds: nothing is rounded but the end.
        let Some(between) = (u64::from(length.0) * round).checked_sub(ends) else {
            return self.plain.rounds_in(length);
        };
        let rounds = scaled(between, self.foot.rounds, round * self.foot.over.max(1));
        plain.saturating_add(to_u16(rounds))
    }

    /// How long a foot of so many rounds is, of which so many at its ends are plain.
    pub(in crate::plan) fn foot_of(&self, rounds: u16, plain: u16) -> Length {
        let between = rounds.saturating_sub(plain);
        let (a, b) = (self.plain, self.foot);
        let [plain, between] = [rounds - between, between].map(u128::from);
        let [a_over, a_rounds, b_over, b_rounds] =
            [a.over, a.rounds.max(1), b.over, b.rounds.max(1)].map(u128::from);
        // One rounding at the end.
        let tenths = plain * a_over * b_rounds + between * b_over * a_rounds;
        let over = a_rounds * b_rounds;
        Length(u32::try_from((2 * tenths + over) / (2 * over)).unwrap_or(u32::MAX))
    }

    /// Rounds of a leg of that length under a cuff of so many.
    pub(in crate::plan) fn of_leg(&self, length: Length, cuff: u16) -> u16 {
        let leg = Self {
            foot: self.leg,
            ..*self
        };
        leg.of_foot(length, cuff).saturating_sub(cuff)
    }

    /// How long a leg of so many rounds under a cuff of so many is.
    pub(in crate::plan) fn leg_of(&self, cuff: u16, leg: u16) -> Length {
        Self {
            foot: self.leg,
            ..*self
        }
        .foot_of(cuff.saturating_add(leg), cuff)
    }
}

impl Plan {
    /// How tall a section is on the needles: before washing, where the swatch was measured then.
    pub(crate) fn height_on_needles(&self, kind: SectionKind) -> Length {
        let section = self.sections.iter().find(|s| s.kind == kind);
        let rounds = section.map_or(0, |s| u16::try_from(s.counted()).unwrap_or(u16::MAX));
        self.rounds_on_needles(kind, rounds)
    }

    /// How tall so many rounds of a section are on the needles.
    pub(crate) fn rounds_on_needles(&self, kind: SectionKind, rounds: u16) -> Length {
        let washed = Rounds::of(&self.recipe);
        let all = washed.before_washing(&self.recipe.swatch).unwrap_or(washed);
        let gauge = match kind {
            SectionKind::Leg => all.leg,
            SectionKind::Gusset | SectionKind::Foot => all.foot,
            _ => all.plain,
        };
        gauge.height_of(rounds)
    }
}

fn to_u16(n: u64) -> u16 {
    u16::try_from(n).unwrap_or(u16::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::recipe::Motif;
    use crate::swatch::{PatternRounds, Swatch};

    fn patterned(place: MotifPlacement, rounds_by: RoundsBy) -> Rounds {
        Rounds::of(&Recipe {
            swatch: Swatch {
                pattern_rounds: Some(PatternRounds {
                    rounds: 50,
                    height: Length::cm(10),
                }),
                rounds: 40,
                ..Swatch::default()
            },
            motif: Some(Motif {
                rows: vec!["k2 p2".parse().expect("a row")],
                place,
                rounds_by,
                ..Motif::default()
            }),
            ..Recipe::default()
        })
    }

    #[test]
    fn rounds_are_those_of_the_fabric_that_counts() {
        let ten = Length::cm(10);
        for (by, foot) in [
            (RoundsBy::Plain, 40),
            // a round of 2.5 mm beside one of 2: 2.25 mm
            (RoundsBy::Between, 44),
            (RoundsBy::Pattern, 50),
        ] {
            let front = patterned(MotifPlacement::Front, by);
            assert_eq!(front.foot.rounds_in(ten), foot, "{by:?}");
            assert_eq!(front.leg.rounds_in(ten), foot, "{by:?}");
            let round = patterned(MotifPlacement::AllRound, by);
            assert_eq!(round.foot.rounds_in(ten), foot, "{by:?}");
            assert_eq!(round.leg.rounds_in(ten), 50, "all of the leg is patterned");
            assert_eq!(round.plain.rounds_in(ten), 40);
        }
    }

    #[test]
    fn heel_and_toe_of_a_patterned_foot_are_plain() {
        let rounds = patterned(MotifPlacement::Front, RoundsBy::Pattern);
        // 40 plain rounds are 10 cm, the 13 cm that are left 65 rounds
        assert_eq!(rounds.of_foot(Length::cm(23), 40), 105);
        assert_eq!(rounds.foot_of(105, 40), Length::cm(23));
        assert_eq!(rounds.leg_of(20, 50), Length::cm(15));
        let plain = patterned(MotifPlacement::Front, RoundsBy::Plain);
        assert_eq!(plain.of_foot(Length::cm(23), 40), 92);
        assert_eq!(
            plain.of_foot(Length::cm(5), 40),
            20,
            "shorter than its ends"
        );
    }
}
