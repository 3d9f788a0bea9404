//! The heel flap: the first half of the round, back and forth, the first stitch of each row
//! slipped so that its edges are chains to pick up from; every second stitch of a right-side row
//! slipped, which makes it thick.

use super::layout::{reseat, run_repeat};
use super::make::Maker;
use super::{Cue, Step};
use crate::knit::Refusal;
use crate::needles::Facing;
use crate::recipe::Method;
use crate::stitch::{Op, run};

pub(super) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let heel = m.numbers.heel;
    if matches!(m.recipe.needles, Method::FourDpns | Method::FiveDpns) {
        let wanted = [heel, heel / 2, heel / 2];
        let ops = reseat(&m.needles.per_needle(), &wanted);
        if !ops.is_empty() {
            m.step(Step::walk(vec![(Cue::SetHeel, ops)]))?;
        }
    }
    for row in 0..m.numbers.flap {
        let mut ops = Vec::with_capacity(4);
        let facing = if row % 2 == 0 {
            Facing::RightSide
        } else {
            Facing::WrongSide
        };
        if row == 0 {
            run(&mut ops, Op::WorkFlat, heel);
        }
        match facing {
            Facing::RightSide => {
                let mut pair = Vec::with_capacity(2);
                run(&mut pair, Op::Slip, 1);
                run(&mut pair, Op::Knit, 1);
                run_repeat(&mut ops, pair, heel / 2);
            }
            Facing::WrongSide => {
                run(&mut ops, Op::Slip, 1);
                run(&mut ops, Op::Purl, heel - 1);
            }
        }
        ops.push(Op::Turn);
        m.step(Step::row(facing, Cue::Plain, ops))?;
    }
    Ok(())
}
