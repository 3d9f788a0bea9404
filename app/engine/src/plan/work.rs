//! Rounds written and knitted one after another.

use super::maker::Maker;
use super::model::{Cue, Step};
use super::rounds::{Shaping, closing_corners, plain_round};
use crate::knit::Refusal;
use crate::needles::Needles;
use crate::stitch::Op;

/// A number of rounds of plain knitting.
pub(super) fn plain_rounds(m: &mut Maker<'_>, n: u16) -> Result<(), Refusal> {
    if n == 0 {
        return Ok(());
    }
    let ops = plain_round(&m.needles);
    (0..n).try_for_each(|_| m.step(Step::round(Cue::Plain, ops.clone())))
}

/// Rounds of plain knitting that close the double stitches they come to.
pub(super) fn plain_rounds_closing(m: &mut Maker<'_>, n: u16) -> Result<(), Refusal> {
    for _ in 0..n {
        let ops = plain_round(&m.needles);
        m.step(Step::round(Cue::Plain, ops))?;
    }
    Ok(())
}

/// The two rounds after short rows: the first closes the double stitches on one side, the second those on
/// the other and both corners.
pub(super) fn rounds_after_short_rows(m: &mut Maker<'_>) -> Result<(), Refusal> {
    plain_rounds_closing(m, 1)?;
    let ops = closing_corners(&m.needles, plain_round(&m.needles))?;
    m.step(Step::round(Cue::Plain, ops))
}

/// Works the rounds of a schedule that are still to be worked.
pub(super) fn scheduled(
    m: &mut Maker<'_>,
    rounds: impl IntoIterator<Item = Option<Shaping>>,
    shape: fn(&Needles, Shaping) -> Vec<Op>,
) -> Result<(), Refusal> {
    let done = usize::from(m.done.rounds);
    rounds.into_iter().skip(done).try_for_each(|round| {
        let step = match round {
            Some(shaping) => Step::round(Cue::Shape, shape(&m.needles, shaping)),
            None => Step::round(Cue::Plain, plain_round(&m.needles)),
        };
        m.step(step)
    })
}
