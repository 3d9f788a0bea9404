//! How long the leg of a sock of a certain name usually is, for a foot.
//!
//! Common practice, no source, from memory: on a grown foot of 24 cm an ankle sock's leg is about
//! 6 cm from the cast-on edge to the heel flap, a crew sock's 15, one to the middle of the calf 18,
//! one to below the knee 36. Legs grow with feet, so they are shares of the foot's length.
//!
//! Pure. May use the foot; must not know a plan.

use crate::foot::percent_of;
use crate::recipe::LEG_LENGTH;
use crate::units::{Length, LengthUnit};

/// What knitters call a sock by its leg.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LegName {
    /// Just over the ankle bone.
    Ankle,
    /// A hand's breadth above it.
    Crew,
    /// To the middle of the calf.
    MidCalf,
    /// To below the knee.
    Knee,
}

impl LegName {
    /// Every name, the shortest first.
    pub const ALL: [Self; 4] = [Self::Ankle, Self::Crew, Self::MidCalf, Self::Knee];

    /// Percent of the foot's length.
    const fn share(self) -> u32 {
        match self {
            Self::Ankle => 25,
            Self::Crew => 62,
            Self::MidCalf => 75,
            Self::Knee => 150,
        }
    }

    /// From the cast-on edge to the heel flap for such a foot, a round figure in that unit; always a leg
    /// that a recipe can have.
    pub fn leg(self, foot: Length, unit: LengthUnit) -> Length {
        let round = percent_of(foot, self.share()).round_figure(unit);
        round.clamp(*LEG_LENGTH.start(), *LEG_LENGTH.end())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::recipe::FOOT_LENGTH;

    #[test]
    fn a_grown_foot_has_the_legs_that_are_usual() {
        let legs = LegName::ALL.map(|name| name.leg(Length::cm(24), LengthUnit::Cm));
        assert_eq!(legs, [60, 150, 180, 360].map(Length::mm));
    }

    #[test]
    fn every_foot_has_four_legs_in_order_that_a_recipe_can_have() {
        for foot in FOOT_LENGTH.start().0..=FOOT_LENGTH.end().0 {
            for unit in [LengthUnit::Cm, LengthUnit::Inch] {
                let legs = LegName::ALL.map(|name| name.leg(Length(foot), unit));
                assert!(legs.is_sorted_by(|a, b| a < b), "{foot}: {legs:?}");
                assert!(legs.iter().all(|leg| LEG_LENGTH.contains(leg)), "{foot}");
            }
        }
    }
}
