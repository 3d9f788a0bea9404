//! The numbers of each kind of heel.

use crate::plan::short_rows::ShortRows;
use crate::recipe::HeelTurn;

/// What each kind of heel asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) enum HeelNumbers {
    /// Flap, turn, pick-up, decreased gusset.
    Flap(FlapNumbers),
    /// Increased gusset, turn in short rows, flap that takes the gusset up.
    ToeUpFlap(ToeUpFlapNumbers),
    /// Short rows there and back, and the rounds between.
    ShortRow {
        /// Its short rows.
        rows: ShortRows,
        /// Rounds between its halves.
        between: u16,
    },
    /// Knitted last.
    Late,
}

/// A flap from the cuff down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) struct FlapNumbers {
    /// How the heel is turned.
    pub turn: HeelTurn,
    /// Rows of the flap; even.
    pub rows: u16,
    /// Whether the corners are picked up too.
    pub corners: bool,
    /// Decrease rounds of the gusset.
    pub gusset: Gusset,
}

/// A flap from the toe up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) struct ToeUpFlapNumbers {
    /// Increase rounds; each side gains as many stitches, and the flap has twice as many rows.
    pub gusset: Gusset,
    /// The turn's short rows.
    pub rows: ShortRows,
}

/// How a gusset is shaped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) struct Gusset {
    /// Rounds that take away or add two stitches.
    pub shapings: u16,
    /// Whether every round is one of them instead of every second.
    pub every_round: bool,
}

impl Gusset {
    /// Its rounds.
    pub(in crate::plan) const fn rounds(self) -> u16 {
        if self.every_round {
            self.shapings
        } else {
            2 * self.shapings
        }
    }
}

impl HeelNumbers {
    /// Whether the gusset had to hurry.
    pub(in crate::plan) const fn hurried(&self) -> bool {
        match self {
            Self::Flap(f) => f.gusset.every_round,
            Self::ToeUpFlap(f) => f.gusset.every_round,
            Self::ShortRow { .. } | Self::Late => false,
        }
    }

    /// How its gusset is shaped, for a heel that has one.
    pub(in crate::plan) const fn gusset_mut(&mut self) -> Option<&mut Gusset> {
        match self {
            Self::Flap(f) => Some(&mut f.gusset),
            Self::ToeUpFlap(f) => Some(&mut f.gusset),
            Self::ShortRow { .. } | Self::Late => None,
        }
    }

    /// Rounds of its gusset; none for a heel without one.
    pub(in crate::plan) const fn gusset_rounds(&self) -> u16 {
        match self {
            Self::Flap(f) => f.gusset.rounds(),
            Self::ToeUpFlap(f) => f.gusset.rounds(),
            Self::ShortRow { .. } | Self::Late => 0,
        }
    }
}
