//! The gusset, on the sole side of each border: two stitches away in a decrease round from the cuff
//! down, until as many are around as before the heel; two more in an increase round from the toe up.

use super::layout::{Shaping, increase_round, plain_rounds, shaping_round};
use super::make::Maker;
use super::numbers::Gusset;
use super::{Cue, Step};
use crate::knit::Refusal;
use crate::needles::Needles;
use crate::stitch::Op;

pub(super) fn decrease(m: &mut Maker<'_>, gusset: Gusset) -> Result<(), Refusal> {
    write(m, gusset, shaping_round)
}

pub(super) fn increase(m: &mut Maker<'_>, gusset: Gusset) -> Result<(), Refusal> {
    write(m, gusset, increase_round)
}

fn write(
    m: &mut Maker<'_>,
    gusset: Gusset,
    shape: fn(&Needles, Shaping) -> Vec<Op>,
) -> Result<(), Refusal> {
    for _ in 0..gusset.shapings {
        let ops = shape(&m.needles, Shaping::SoleOnly);
        m.step(Step::round(Cue::Shape, ops))?;
        plain_rounds(m, u16::from(!gusset.every_round))?;
    }
    Ok(())
}
