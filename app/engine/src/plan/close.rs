//! Closing the toe: the re-seating that puts instep and sole face to face and the graft, or the
//! last stitches of a round toe drawn closed.

use super::make::Maker;
use super::{Cue, Step};
use crate::knit::Refusal;
use crate::needles::{Item, Origin};
use crate::recipe::Toe;
use crate::stitch::{Marker, Op, run};

pub(super) fn write(m: &mut Maker<'_>, toe: Toe) -> Result<(), Refusal> {
    match toe {
        Toe::Wedge { .. } => graft(m),
        Toe::Round => draw_closed(m),
    }
}

fn draw_closed(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let mut draw = Vec::with_capacity(1);
    run(&mut draw, Op::DrawClosed, m.numbers.toe_left);
    m.step(Step::walk(vec![
        (Cue::DrawClosed, draw),
        (Cue::FastenOff, vec![Op::FastenOff]),
    ]))
}

fn graft(m: &mut Maker<'_>) -> Result<(), Refusal> {
    if let Some(step) = seat_for_graft(m) {
        m.step(step)?;
    }
    let pairs = m.numbers.toe_left / 2;
    let mut moves = vec![(Cue::GraftStart, vec![Op::GraftStart])];
    for _ in 1..pairs {
        let mut one = Vec::new();
        run(&mut one, Op::Graft, 1);
        moves.push((Cue::GraftPair, one));
    }
    moves.push((Cue::GraftEnd, vec![Op::GraftEnd]));
    moves.push((Cue::FastenOff, vec![Op::FastenOff]));
    m.step(Step::walk(moves))
}

/// Knits half the sole to the instep, then moves needle ends until instep and sole have a needle
/// each. Nothing to do where they have already.
fn seat_for_graft(m: &Maker<'_>) -> Option<Step> {
    let instep = m.needles.stitches_of(Origin::Instep);
    let sole = m.needles.stitches_of(Origin::Sole);
    let seated = [Item::Stitches(Origin::Sole, sole), Item::End];
    if m.needles.items().take(2).eq(seated) {
        return None;
    }
    let half_sole = sole.div_ceil(2);
    let mut reach = Vec::with_capacity(2);
    run(&mut reach, Op::Knit, half_sole);

    // Ends inside the instep and inside the sole, as seen from the instep's first stitch.
    let mut passed = 0;
    let mut inner = Vec::new();
    let mut border_end = false;
    for item in m.needles.items() {
        match item {
            Item::Stitches(_, n) => passed += n,
            Item::End if passed == half_sole => border_end = true,
            Item::End if passed > half_sole => inner.push(passed - half_sole),
            _ => {}
        }
    }
    let mut seat = Vec::with_capacity(8);
    for marker in [Marker::Left, Marker::Right] {
        if m.needles.has_marker(marker) {
            seat.push(Op::Remove(marker));
        }
    }
    if border_end {
        reach.push(Op::Next);
    } else {
        seat.extend([Op::LoopOut(0), Op::Next]);
    }
    seat.push(Op::BeginHere);
    seat.extend(
        inner
            .iter()
            .filter(|at| **at != instep)
            .map(|at| Op::LoopIn(*at)),
    );
    if !inner.contains(&instep) {
        seat.push(Op::LoopOut(instep));
    }
    Some(Step::walk(vec![
        (Cue::ReachInstep, reach),
        (Cue::SeatForGraft, seat),
    ]))
}
