//! The top of the leg: rib, a folded hem, or a rolled edge.

use super::layout::{plain_rounds, rib_round, round_of, run_repeat};
use super::make::Maker;
use super::seat;
use super::{Cue, Step};
use crate::knit::Refusal;
use crate::recipe::Edge;
use crate::stitch::{Op, run};

/// From the cast-on edge down: a hem is folded and knitted together at its end.
pub(super) fn down(m: &mut Maker<'_>) -> Result<(), Refusal> {
    write(m)?;
    if let Edge::Hem { .. } = m.recipe.cuff.edge {
        let join = round_of(&m.needles, |ops, n| run(ops, Op::FoldJoin, n));
        m.step(Step::round(Cue::JoinHem, join))?;
    }
    Ok(())
}

/// From the leg up: a hem is folded and sewn down when it is bound off.
pub(super) fn up(m: &mut Maker<'_>) -> Result<(), Refusal> {
    seat::cuff(m)?;
    write(m)
}

fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let height = m.numbers.cuff;
    match m.recipe.cuff.edge {
        Edge::Rib(rib) => {
            let ops = rib_round(&m.needles, rib);
            (0..height).try_for_each(|_| m.step(Step::round(Cue::Plain, ops.clone())))
        }
        Edge::Rolled => plain_rounds(m, height),
        Edge::Hem { picot } => {
            plain_rounds(m, height)?;
            let turning = if picot { points(m) } else { purled(m) };
            m.step(Step::round(Cue::TurnHem, turning))?;
            plain_rounds(m, height)
        }
    }
}

fn purled(m: &Maker<'_>) -> Vec<Op> {
    round_of(&m.needles, |ops, n| run(ops, Op::Purl, n))
}

/// A hole every second stitch: folded there, the edge stands in points.
fn points(m: &Maker<'_>) -> Vec<Op> {
    round_of(&m.needles, |ops, n| {
        run_repeat(ops, vec![Op::YarnOver, Op::K2tog], n / 2);
        run(ops, Op::Knit, n % 2);
    })
}
