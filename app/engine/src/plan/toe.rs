//! The wedge toe: four stitches away in a decrease round, two at each side, ever more often.

use super::layout::{Shaping, plain_round, shaping_round};
use super::make::Maker;
use super::{Cue, Step};
use crate::knit::Refusal;
use crate::recipe::{Method, Narrowing};
use crate::stitch::{Marker, Op};

/// Stitches left for the graft, both needles together: a multiple of 4, more for a wider sock
/// (common practice, no source).
pub(super) const fn to_graft(around: u16) -> u16 {
    match around {
        0..48 => 12,
        48..84 => 16,
        84..104 => 20,
        _ => 24,
    }
}

/// How many decrease rounds stand in every third, every second and every round.
pub(super) struct Schedule {
    thirds: u16,
    seconds: u16,
    every: u16,
}

impl Schedule {
    /// Rounds of the whole toe.
    pub(super) const fn rounds(&self) -> u16 {
        3 * self.thirds + 2 * self.seconds + self.every
    }
}

/// Spreads the decrease rounds from `around` stitches to `to_graft`.
pub(super) fn schedule(around: u16, to_graft: u16, narrowing: Narrowing) -> Schedule {
    let all = (around - to_graft) / 4;
    // decrease rounds that leave at least `floor` stitches
    let down_to = |floor: u16| around.saturating_sub(floor) / 4;
    match narrowing {
        Narrowing::Even => Schedule {
            thirds: 0,
            seconds: all,
            every: 0,
        },
        Narrowing::Rounded => {
            let seconds = down_to(around / 2).min(all);
            Schedule {
                thirds: 0,
                seconds,
                every: all - seconds,
            }
        }
        Narrowing::Long => {
            let thirds = down_to(around * 3 / 4).min(all);
            let seconds = down_to(around / 2).min(all) - thirds;
            Schedule {
                thirds,
                seconds,
                every: all - thirds - seconds,
            }
        }
    }
}

pub(super) fn write(m: &mut Maker<'_>, narrowing: Narrowing) -> Result<(), Refusal> {
    if m.recipe.needles == Method::ShortCircular {
        let around = m.numbers.around;
        m.step(Step::walk(vec![(
            Cue::ChangeNeedles,
            vec![
                Op::Remove(Marker::Round),
                Op::LoopOut(around / 2),
                Op::LoopOut(around),
            ],
        )]))?;
    }
    let spread = schedule(m.numbers.around, m.numbers.to_graft, narrowing);
    for (times, plain_after) in [(spread.thirds, 2), (spread.seconds, 1), (spread.every, 0)] {
        for _ in 0..times {
            let shape = shaping_round(&m.needles, Shaping::BothSides);
            m.step(Step::round(Cue::Shape, shape))?;
            let plain = plain_round(&m.needles);
            for _ in 0..plain_after {
                m.step(Step::round(Cue::Plain, plain.clone()))?;
            }
        }
    }
    Ok(())
}
