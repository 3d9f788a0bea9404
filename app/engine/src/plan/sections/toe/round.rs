//! The round toe: eight stitches away in a decrease round, spread evenly, until eight are left to be
//! drawn closed.

use super::wedge::{Wedge, to_graft};
use crate::knit::Refusal;
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::plan::rounds::{plain_round, spread_round};
use crate::recipe::Narrowing;

/// Stitches that a round toe is drawn closed over.
pub(in crate::plan) const DRAWN: u16 = 8;

/// Eight wedges of `group` stitches each, and the plain rounds after each decrease round. The toe is
/// as long as the rounded wedge toe, its plain rounds shared out by width.
pub(in crate::plan) struct RoundToe {
    around: u16,
    /// Stitches around that do not divide by 8: four go in a round of their own first, and a plain one
    /// follows, for two decrease rounds running would pucker where the toe is widest.
    evened: bool,
    group: u16,
    plain_after: Vec<u16>,
}

impl RoundToe {
    pub(in crate::plan) fn new(around: u16) -> Self {
        let evened = !around.is_multiple_of(DRAWN);
        let group = around / DRAWN;
        let shapings = group - 1;
        let length = Wedge::new(around, to_graft(around), Narrowing::Rounded).rounds();
        let plain = length.saturating_sub(shapings + 2 * u16::from(evened));
        let weight: u16 = group * shapings / 2;
        let mut passed = 0;
        let mut given = 0;
        let plain_after = (1..group)
            .rev()
            .map(|wide| {
                passed += wide;
                // all plain rounds that belong up to here, to the nearest whole
                let due = (2 * plain * passed + weight) / (2 * weight);
                let now = due - given;
                given = due;
                now
            })
            .collect();
        Self {
            around,
            evened,
            group,
            plain_after,
        }
    }

    pub(in crate::plan) fn rounds(&self) -> u16 {
        let plain: u16 = self.plain_after.iter().sum();
        2 * u16::from(self.evened) + (self.group - 1) + plain
    }

    pub(in crate::plan) fn decrease(&self, m: &mut Maker<'_>) -> Result<(), Refusal> {
        let even = self.evened.then_some([Some(self.around / 4), None]);
        let narrower = (2..=self.group).rev().zip(&self.plain_after);
        let rounds = even
            .into_iter()
            .flatten()
            .chain(narrower.flat_map(|(group, plain)| {
                std::iter::once(Some(group)).chain(std::iter::repeat_n(None, usize::from(*plain)))
            }));
        let done = usize::from(m.done.rounds);
        rounds.skip(done).try_for_each(|group| {
            let step = match group {
                Some(group) => Step::round(Cue::Shape, spread_round(&m.needles, group)),
                None => Step::round(Cue::Plain, plain_round(&m.needles)),
            };
            m.step(step)
        })
    }
}
