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

/// Stitches left for the graft, both needles together: a multiple of 4 between a quarter and a third of
/// those around, so that a wide toe does not come to a point. The quarter, rounded up; but 16, the usual
/// end of an adult's toe, where that is no more than the third (common practice, no source).
pub(in crate::plan) const fn to_graft(around: u16) -> u16 {
    let quarter = around.div_ceil(16) * 4;
    let third = around / 12 * 4;
    let usual = if third < 16 { third } else { 16 };
    if quarter > usual { quarter } else { usual }
}
