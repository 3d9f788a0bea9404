//! The wedge toe: four stitches away in a decrease round, two at each side, ever more often.

use super::super::layout::{Borders, Shaping};
use super::super::schedule::{Schedule, spaced};
use crate::recipe::Narrowing;

/// How many decrease rounds stand in every third, every second and every round.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in super::super) struct Wedge {
    thirds: u16,
    seconds: u16,
    every: u16,
}

impl Wedge {
    /// The decrease rounds from `around` down to `left` stitches.
    pub(in super::super) fn new(around: u16, left: u16, narrowing: Narrowing) -> Self {
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
    pub(in super::super) const fn rounds(self) -> u16 {
        3 * self.thirds + 2 * self.seconds + self.every
    }

    /// From wide to narrow.
    pub(in super::super) fn schedule(self) -> Schedule {
        let all_four = Shaping::BothSides(Borders::Both);
        spaced(all_four, self.thirds, 2)
            .chain(spaced(all_four, self.seconds, 1))
            .chain(spaced(all_four, self.every, 0))
            .collect()
    }
}
