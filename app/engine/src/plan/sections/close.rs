//! Closing the toe: the re-seating that puts instep and sole face to face and the graft, or the
//! last stitches of a round toe drawn closed.

use crate::knit::Refusal;
use crate::needles::{Item, Mount, Origin};
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::plan::seating::{SeatingGoal, markers_off, move_to};
use crate::recipe::Toe;
use crate::stitch::{Op, run};

pub(in crate::plan) fn write(m: &mut Maker<'_>, toe: Toe) -> Result<(), Refusal> {
    match toe {
        Toe::Wedge { .. } | Toe::Shaped { .. } | Toe::ShortRow => graft(m),
        Toe::Round => draw_closed(m),
    }
}

fn draw_closed(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let mut draw = markers_off(&m.needles);
    run(&mut draw, Op::DrawClosed, m.numbers.toe_left);
    m.step(Step::walk(vec![
        (Cue::DrawClosed, draw),
        (Cue::FastenOff, vec![Op::FastenOff]),
    ]))
}

/// Two needles with equal counts, face to face.
pub(in crate::plan) fn graft(m: &mut Maker<'_>) -> Result<(), Refusal> {
    seat_for_graft(m)?;
    graft_seated(m)
}

/// The graft of two needles that lie ready for it.
pub(in crate::plan) fn graft_seated(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let pairs = m.needles.stitches() / 2;
    let mut moves = vec![(Cue::GraftStart, vec![Op::GraftStart])];
    for _ in 1..pairs {
        let mut one = Vec::with_capacity(1);
        run(&mut one, Op::Graft, 1);
        moves.push((Cue::GraftPair, one));
    }
    moves.push((Cue::GraftEnd, vec![Op::GraftEnd]));
    moves.push((Cue::FastenOff, vec![Op::FastenOff]));
    m.step(Step::walk(moves))
}

/// Knits half the sole to the instep, then moves needle ends until instep and sole have a needle
/// each. Nothing to do where the sole has one already.
fn seat_for_graft(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let sole = m.needles.stitches_of(Origin::Sole);
    let other = m.needles.stitches() - sole;
    let lies = Item::Stitches(Origin::Sole, Mount::LeadingLegInFront, sole);
    let alone = [lies, Item::End];
    if m.needles.items().take(2).eq(alone) && m.needles.per_needle().len() == 2 {
        return Ok(());
    }
    let apart = SeatingGoal {
        sizes: vec![other, sole],
        markers: Vec::new(),
    };
    let between = |item: &Item| matches!(item, Item::Marker(_) | Item::End);
    let unmarked = m.needles.items().filter(|item| !between(item));
    let of_sole = |item: &Item| matches!(item, Item::Stitches(Origin::Sole, ..));
    let first: u16 = unmarked.take_while(of_sole).map(Item::width).sum();
    let begins_at_the_side = first == sole;
    let (n, apart) = if begins_at_the_side {
        (
            0,
            SeatingGoal {
                sizes: vec![sole, other],
                markers: Vec::new(),
            },
        )
    } else {
        (sole.div_ceil(2), apart)
    };
    move_to(m, n, &apart, (Cue::ReachInstep, Cue::SeatForGraft))
}
