//! The afterthought heel: a waste yarn keeps its place; when all else is done it is taken out and
//! the heel is knitted like a wedge toe. One stitch is picked up in the corner at each end of both
//! needles, against holes: two made from one strand there would lift the same one twice (common
//! practice, no source).

use super::toe::{Wedge, to_graft};
use crate::knit::Refusal;
use crate::needles::Needles;
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::plan::rounds::{Shaping, round_of, shaping_round};
use crate::plan::{seating, work};
use crate::recipe::Narrowing;
use crate::stitch::{Count, Op, run};

/// It narrows like the usual toe; a narrow heel goes on for one decrease round more.
fn wedge(around: u16, narrow: bool) -> Wedge {
    let around = with_corners(around);
    let left = to_graft(around) - if narrow { 4 } else { 0 };
    Wedge::new(around, left, Narrowing::Rounded)
}

/// Stitches around once the corners are made.
const fn with_corners(around: u16) -> u16 {
    around + 4
}

/// Rounds of the heel: how far it reaches beyond its place.
pub(in crate::plan) fn rounds(around: u16, narrow: bool) -> u16 {
    1 + wedge(around, narrow).rounds()
}

/// The round in which the waste yarn is knitted in.
pub(in crate::plan) fn keep_place(m: &mut Maker<'_>) -> Result<(), Refusal> {
    seating::heel(m, m.recipe.needles, false)?;
    let heel = m.numbers.heel;
    let mut first = true;
    let ops = round_of(&m.needles, |ops, n| {
        if std::mem::take(&mut first) {
            run(ops, Op::Waste, heel);
            run(ops, Op::Knit, n - heel);
        } else {
            run(ops, Op::Knit, n);
        }
    });
    m.step(Step::round(Cue::Waste, ops))
}

pub(in crate::plan) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let mut open = Vec::with_capacity(1);
    run(&mut open, Op::OpenWaste, m.numbers.heel);
    m.step(Step::walk(vec![(Cue::OpenWaste, open)]))?;
    let corners = round_of(&m.needles, |ops, n| {
        ops.push(Op::PickUpCorner);
        run(ops, Op::Knit, n);
        ops.push(Op::PickUpCorner);
    });
    m.step(Step::round(Cue::Shape, corners))?;
    let wedge = wedge(m.numbers.around, m.recipe.fit.narrow_heel);
    work::scheduled(m, wedge.schedule().into_iter().take(1), closing_round)?;
    work::scheduled(m, wedge.schedule().into_iter().skip(1), shaping_round)
}

/// The first decrease round: the stitches out of the corners, first and last on each needle, are closed
/// by knitting them through the back loop.
fn closing_round(needles: &Needles, shaping: Shaping) -> Vec<Op> {
    let edge = Op::Knit(Count::MIN);
    let mut ops = shaping_round(needles, shaping);
    for op in ops.iter_mut().filter(|op| **op == edge) {
        *op = Op::KnitThroughBackLoop(Count::MIN);
    }
    ops
}
