//! What a weighing says.

use crate::journal::Decigrams;
use crate::yarn::{GramRange, Need};

/// One thing that the latest weighing says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Weighed {
    /// What ten rounds take.
    TenRounds {
        /// Between so much.
        grams: GramRange,
        /// Whether they are rows.
        rows: bool,
        /// Whether that is by the knitter's own weighings; else by the ball's band.
        own: bool,
    },
    /// Whether the rest of the sock can be knitted.
    Sock(Enough),
    /// Whether the rest of the sock and the second can be knitted.
    Pair(Enough),
    /// How long the leg can be.
    Leg {
        /// Rounds it can have under the cuff.
        rounds: u16,
        /// Rounds that are planned.
        planned: usize,
        /// Whether both socks' legs are meant.
        both: bool,
    },
    /// How to wind off yarn for two at a time; whether it is enough for each.
    Halves(Enough),
}

/// Yarn needed and there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Enough {
    /// What is there.
    pub(in crate::text) left: Decigrams,
    /// What is needed, and whether it is there.
    pub(in crate::text) need: Need,
}
