//! The wedge toe: four stitches away in a decrease round, two at each side, ever more often.

use super::super::layout::{Borders, Shaping, increase_round, plain_rounds, shaping_round};
use super::super::make::Maker;
use super::super::{Cue, Step};
use crate::knit::Refusal;
use crate::recipe::Narrowing;

const ALL_FOUR: Shaping = Shaping::BothSides(Borders::Both);

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
    pub(in super::super) fn decrease(self, m: &mut Maker<'_>) -> Result<(), Refusal> {
        for (times, plain_after) in [(self.thirds, 2), (self.seconds, 1), (self.every, 0)] {
            for _ in 0..times {
                let shape = shaping_round(&m.needles, ALL_FOUR);
                m.step(Step::round(Cue::Shape, shape))?;
                plain_rounds(m, plain_after)?;
            }
        }
        Ok(())
    }

    /// From narrow to wide: the same the other way round.
    pub(super) fn increase(self, m: &mut Maker<'_>) -> Result<(), Refusal> {
        for (times, plain_before) in [(self.every, 0), (self.seconds, 1), (self.thirds, 2)] {
            for _ in 0..times {
                plain_rounds(m, plain_before)?;
                let widen = increase_round(&m.needles, ALL_FOUR);
                m.step(Step::round(Cue::Shape, widen))?;
            }
        }
        Ok(())
    }
}
