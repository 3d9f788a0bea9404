//! The gusset, on the sole side of each border: two stitches away in a decrease round from the cuff
//! down, until as many are around as before the heel; two more in an increase round from the toe up.

use super::layout::{Shaping, increase_round, shaping_round};
use super::make::Maker;
use super::numbers::Gusset;
use super::schedule::{self, spaced};
use super::seat;
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
    if !m.done.seated {
        seat::foot(m, m.recipe.needles)?;
    }
    let plain = u16::from(!gusset.every_round);
    let done = std::mem::take(&mut m.done);
    // a gusset that was begun may have had another rhythm: what counts is how often it was shaped
    let owed = usize::from(done.ends_shaped && plain > 0);
    let left = gusset.shapings.saturating_sub(done.shapings);
    let rounds = std::iter::repeat_n(None, owed).chain(spaced(Shaping::SoleOnly, left, plain));
    schedule::work(m, rounds, shape)
}
