//! The heel that is knitted last: a waste yarn keeps its place, or a strand of the finished sock is
//! snipped there. When all else is done the row is drawn out and the heel is knitted like a wedge
//! toe. One stitch is picked up in the corner at each end of both
//! needles, against holes: two made from one strand there would lift the same one twice (common
//! practice, no source).

use super::toe::{Wedge, to_graft};
use crate::knit::Refusal;
use crate::needles::Needles;
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::plan::rounds::{Shaping, round_of, shaping_round};
use crate::plan::{seating, work};
use crate::recipe::{HeelOpening, Narrowing};
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

/// The round in which the waste yarn is knitted in; or the one that is snipped, and a plain one above it
/// whose loops are taken up then, whatever the leg's motif makes of the next.
pub(in crate::plan) fn keep_place(m: &mut Maker<'_>, opening: HeelOpening) -> Result<(), Refusal> {
    seating::heel(m, m.recipe.needles, false)?;
    match opening {
        HeelOpening::WasteYarn => {
            let ops = over_the_heel(m, Op::Waste);
            m.step(Step::round(Cue::Waste, ops))
        }
        HeelOpening::Snipped => {
            let ops = over_the_heel(m, Op::KnitToSnip);
            m.step(Step::round(Cue::RowToSnip, ops))?;
            let above = round_of(&m.needles, |ops, n| run(ops, Op::Knit, n));
            m.step(Step::round(Cue::Plain, above))
        }
    }
}

/// A round in which the heel's stitches are worked otherwise than the instep's.
fn over_the_heel(m: &Maker<'_>, work: fn(Count) -> Op) -> Vec<Op> {
    let heel = m.numbers.heel;
    let mut first = true;
    round_of(&m.needles, |ops, n| {
        if std::mem::take(&mut first) {
            run(ops, work, heel);
            run(ops, Op::Knit, n.saturating_sub(heel));
        } else {
            run(ops, Op::Knit, n);
        }
    })
}

pub(in crate::plan) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let mut open = Vec::with_capacity(1);
    // what was knitted says how it is opened, and over how many stitches
    let (waste, row) = (m.needles.waste(), m.needles.to_snip());
    let heel = waste.max(row);
    if row > 0 {
        run(&mut open, Op::SnipRow, heel);
        m.step(Step::walk(vec![
            (Cue::OpenRow, open),
            (Cue::SnipRow, Vec::new()),
        ]))?;
    } else {
        run(&mut open, Op::OpenWaste, heel);
        m.step(Step::walk(vec![(Cue::OpenWaste, open)]))?;
    }
    let corners = round_of(&m.needles, |ops, n| {
        ops.push(Op::PickUpCorner);
        run(ops, Op::Knit, n);
        ops.push(Op::PickUpCorner);
    });
    m.step(Step::round(Cue::Shape, corners))?;
    let wedge = wedge(2 * heel, m.recipe.fit.narrow_heel);
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
