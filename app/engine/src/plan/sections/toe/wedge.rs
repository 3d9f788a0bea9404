//! The wedge toe: four stitches away in a decrease round, two at each side, ever more often.

use crate::plan::rounds::{Borders, Shaping};
use crate::plan::schedule::{Schedule, spaced};
use crate::recipe::Narrowing;

/// How many decrease rounds stand in every third, every second and every round.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) struct Wedge {
    thirds: u16,
    seconds: u16,
    every: u16,
}

impl Wedge {
    /// The decrease rounds from `around` down to `left` stitches.
    pub(in crate::plan) fn new(around: u16, left: u16, narrowing: Narrowing) -> Self {
        let all = around.saturating_sub(left) / 4;
        // decrease rounds that leave at least `floor` stitches
        let down_to = |floor: u16| around.saturating_sub(floor) / 4;
        let (thirds, seconds) = match narrowing {
            Narrowing::Even => (0, all),
            Narrowing::Rounded => (0, down_to(around / 2).min(all)),
            Narrowing::Long => {
                let thirds = down_to(around * 3 / 4).min(all);
                (thirds, down_to(around / 2).min(all) - thirds)
            }
        };
        Self {
            thirds,
            seconds,
            every: all - thirds - seconds,
        }
    }

    /// Rounds of the whole wedge.
    pub(in crate::plan) const fn rounds(self) -> u16 {
        3 * self.thirds + 2 * self.seconds + self.every
    }

    /// From wide to narrow.
    pub(in crate::plan) fn schedule(self) -> Schedule {
        let all_four = Shaping::BothSides(Borders::Both);
        spaced(all_four, self.thirds, 2)
            .chain(spaced(all_four, self.seconds, 1))
            .chain(spaced(all_four, self.every, 0))
            .collect()
    }
}

/// Stitches left for the graft, both needles together: a multiple of 4, more for a wider sock
/// (common practice, no source).
pub(in crate::plan) const fn to_graft(around: u16) -> u16 {
    match around {
        0..48 => 12,
        48..84 => 16,
        84..104 => 20,
        _ => 24,
    }
}
