//! What a count on the needles means.

use super::place::NamedPlace;
use crate::needles::Origin;
use crate::text::technique::Technique;

/// A finding with all that is said of it. Needles count from 1; `needle` is `None` where there is only
/// one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Diagnosis {
    /// Nothing is on the needles yet, as it should be.
    RightAndEmpty,
    /// The count is right.
    Right {
        /// Stitches on each needle.
        counts: Vec<u16>,
    },
    /// The count is that of an earlier place.
    FitsEarlier(NamedPlace),
    /// The count is that of a later place.
    FitsLater(NamedPlace),
    /// The count is that of the middle of a round, of which so many needles are worked.
    FitsWithin(NamedPlace, usize),
    /// A decrease was missed.
    MissedDecrease {
        /// Where there is one stitch too many.
        needle: Option<usize>,
        /// The round of the decrease.
        round: NamedPlace,
        /// The gusset on whose side it is, where only one lies on that needle.
        side: Option<Origin>,
        /// Which decrease, where there is only one.
        only: Option<Technique>,
    },
    /// A stitch was not made.
    MissedIncrease {
        /// Where there is one stitch too few.
        needle: Option<usize>,
        /// The round in which it is made.
        round: NamedPlace,
    },
    /// One stitch more was picked up.
    PickedUpOneMore(Option<usize>),
    /// One stitch less was picked up.
    PickedUpOneLess(Option<usize>),
    /// There is a stitch too many.
    ExtraStitch(Option<usize>),
    /// There is a stitch too few.
    DroppedStitch(Option<usize>),
    /// All stitches are there, but on other needles.
    WrongNeedle {
        /// What each needle should carry.
        counts: Vec<u16>,
        /// How to bring them where they belong.
        shifts: Vec<Shift>,
    },
    /// Nothing explains the count.
    Unexplained {
        /// What each needle should carry.
        counts: Vec<u16>,
    },
}

/// Stitches to be slipped from one needle to its neighbour; needles count from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Shift {
    /// So many stitches.
    pub(in crate::text) stitches: i32,
    /// From this needle.
    pub(in crate::text) from: usize,
    /// To this needle.
    pub(in crate::text) to: usize,
}
