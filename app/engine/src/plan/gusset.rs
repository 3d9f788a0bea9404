//! The gusset: two stitches away in a decrease round, on the sole side of each border, until as
//! many are around as before the heel.

use super::layout::{Shaping, plain_round, shaping_round};
use super::make::Maker;
use super::{Cue, Step};
use crate::knit::Refusal;

pub(super) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    for _ in 0..m.numbers.gusset_shapings {
        let shape = shaping_round(&m.needles, Shaping::SoleOnly);
        m.step(Step::round(Cue::Shape, shape))?;
        if !m.numbers.gusset_every_round {
            let plain = plain_round(&m.needles);
            m.step(Step::round(Cue::Plain, plain))?;
        }
    }
    Ok(())
}
