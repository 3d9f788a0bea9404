//! The gusset, on the sole side of each border: two stitches away in a decrease round from the cuff
//! down, until as many are around as before the heel; two more in an increase round from the toe up.

use crate::knit::Refusal;
use crate::needles::Needles;
use crate::plan::maker::Maker;
use crate::plan::numbers::Gusset;
use crate::plan::rounds::{Shaping, increase_round, shaping_round};
use crate::plan::schedule::spaced;
use crate::plan::seating;
use crate::plan::work;
use crate::stitch::Op;

pub(in crate::plan) fn decrease(m: &mut Maker<'_>, gusset: Gusset) -> Result<(), Refusal> {
    write(m, gusset, shaping_round)
}

pub(in crate::plan) fn increase(m: &mut Maker<'_>, gusset: Gusset) -> Result<(), Refusal> {
    write(m, gusset, increase_round)
}

fn write(
    m: &mut Maker<'_>,
    gusset: Gusset,
    shape: fn(&Needles, Shaping) -> Vec<Op>,
) -> Result<(), Refusal> {
    if !m.done.seated {
        seating::foot(m, m.recipe.needles)?;
    }
    let plain = u16::from(!gusset.every_round);
    let done = std::mem::take(&mut m.done);
    // a gusset that was begun may have had another rhythm: what counts is how often it was shaped
    let owed = usize::from(done.ends_shaped && plain > 0);
    let left = gusset.shapings.saturating_sub(done.shapings);
    let rounds = std::iter::repeat_n(None, owed).chain(spaced(Shaping::SoleOnly, left, plain));
    work::scheduled(m, rounds, shape)
}
