//! The gusset, on the sole side of each border: two stitches away in a decrease round from the cuff
//! down, until as many are around as before the heel; two more in an increase round from the toe up.
//! Stitches that were picked up are knitted through the back loop once, which closes them (common
//! practice, no source).

use crate::knit::Refusal;
use crate::needles::{Needles, Origin};
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::plan::numbers::Gusset;
use crate::plan::rounds::{
    Shaping, increase_round, plain_round, shaping_round, through_the_back_loop,
};
use crate::plan::schedule::spaced;
use crate::plan::seating;
use crate::plan::work;
use crate::recipe::Seating;
use crate::stitch::Op;

pub(in crate::plan) fn decrease(m: &mut Maker<'_>, gusset: Gusset) -> Result<(), Refusal> {
    // what was picked up is knitted for the first time, unless the pick-up went over it already
    let first = match m.recipe.needles.seating() {
        Some(Seating::InstepAndSole) => &[Origin::GussetRight][..],
        Some(Seating::EvenHalves) | None => &[Origin::GussetLeft, Origin::GussetRight],
    };
    write(m, gusset, first, shaping_round)
}

pub(in crate::plan) fn increase(m: &mut Maker<'_>, gusset: Gusset) -> Result<(), Refusal> {
    write(m, gusset, &[], increase_round)
}

fn write(
    m: &mut Maker<'_>,
    gusset: Gusset,
    picked_up: &[Origin],
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
    let mut rounds = rounds.peekable();
    if done.rounds == 0
        && let Some(first) = rounds.next_if(|_| !picked_up.is_empty())
    {
        let ops = first.map_or_else(|| plain_round(&m.needles), |one| shape(&m.needles, one));
        let closed = through_the_back_loop(&m.needles, ops, |o| picked_up.contains(&o))?;
        let cue = first.map_or(Cue::Plain, |_| Cue::Shape);
        m.step(Step::round(cue, closed))?;
    }
    work::scheduled(m, rounds, shape)
}
