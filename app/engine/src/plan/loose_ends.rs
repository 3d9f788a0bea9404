//! Where a yarn over lies at a needle's end: nothing holds it there until the next needle is worked.

use super::model::{Move, Plan};
use crate::stitch::Op;

impl Plan {
    /// Whether a yarn over of the motif lies at a needle's end. Those of a picot hem cannot lie elsewhere.
    pub(super) fn has_loose_yarn_over(&self) -> bool {
        let steps = self.sections.iter().flat_map(|s| &s.steps);
        let moves = steps.flat_map(|s| &s.moves);
        let mut of_motif = moves.filter(|mv| mv.motif_round().is_some());
        of_motif.any(Move::has_loose_yarn_over)
    }
}

impl Move {
    /// Whether a yarn over is the last thing on a needle, or the first.
    pub(crate) fn has_loose_yarn_over(&self) -> bool {
        fn over(op: &Op, pick: fn(&[Op]) -> Option<&Op>) -> bool {
            match op {
                Op::YarnOver | Op::YarnOverBehind => true,
                Op::Repeat(inner, _) => pick(inner).is_some_and(|op| over(op, pick)),
                _ => false,
            }
        }
        // naming the chart's round works nothing
        let silent = |op: &&Op| matches!(op, Op::MotifRow(_) | Op::Yarn(_));
        self.ops.split(|op| *op == Op::Next).any(|ops| {
            let first = ops.iter().find(|op| !silent(op));
            first.is_some_and(|op| over(op, <[Op]>::first))
                || ops.last().is_some_and(|op| over(op, <[Op]>::last))
        })
    }
}
