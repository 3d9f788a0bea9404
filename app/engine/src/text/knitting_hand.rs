//! Which hand knits. Not the hand that holds the phone.

use crate::needles::Origin;
use crate::recipe::LeftRight;
use serde::{Deserialize, Serialize};

/// The hand whose needle takes the stitches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum KnittingHand {
    /// Stitches go from the left needle to the right one.
    #[default]
    Right,
    /// Stitches go from the right needle to the left one: everything is the mirror image.
    Left,
}

impl KnittingHand {
    /// The one that does not knit.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Right => Self::Left,
            Self::Left => Self::Right,
        }
    }

    /// The foot that a toe fits which is shaped for this one where a right-handed knitter works it. The
    /// mirror image of a left toe is a right one.
    #[must_use]
    pub const fn makes_for(self, foot: LeftRight) -> LeftRight {
        match self {
            Self::Right => foot,
            Self::Left => foot.other(),
        }
    }

    /// The group of stitches that lies where a right-handed knitter has this one.
    pub const fn sees(self, origin: Origin) -> Origin {
        match (self, origin) {
            (Self::Left, Origin::GussetLeft) => Origin::GussetRight,
            (Self::Left, Origin::GussetRight) => Origin::GussetLeft,
            (_, origin) => origin,
        }
    }
}
