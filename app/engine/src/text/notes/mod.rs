//! The notes that go with hard places: which of them, and with which arguments.

mod first;
mod once;
mod seats;
mod yarns;

pub use self::yarns::CARRIED;

use self::first::first_of_section;
use self::seats::{marker_placed, markers, seat_heel};
use crate::foot::percent_of;
use crate::hand::in_hand;
use crate::needles::{Item, Needles, Origin};
use crate::plan::{Cue, Move, Plan};
use crate::recipe::{Edge, Method, Seating};
use crate::stitch::Op;
use crate::text::messages::{MarkerChanges, Note};
use crate::trace::{Position, Trace};
use crate::units::Length;

/// The notes for a position, in the order said; most have none.
pub(super) fn notes(plan: &Plan, trace: &Trace, at: Position) -> Vec<Note> {
    let markers = markers_at(plan, trace, at).map(Note::Markers);
    let place = place(plan, trace, at);
    let ends = matches!(place, Some(Note::BindOff { .. } | Note::DrawClosed { .. }));
    let (first, then) = if ends {
        (markers, place)
    } else {
        (place, markers)
    };
    let waiting = waiting(plan, trace, at);
    [yarns::at_a_change(plan, at), first, then, waiting]
        .into_iter()
        .flatten()
        .chain(once::once(plan, trace, at))
        .collect()
}

/// Stitches that lie on another needle than they will at the end of the walk, in each move that
/// counts a needle.
fn waiting(plan: &Plan, trace: &Trace, at: Position) -> Option<Note> {
    let (step, mv) = plan.move_at(at)?;
    if mv.cue == Cue::CrossBegin {
        // the note says so already
        return None;
    }
    let after = &trace.steps.get(at.step)?.moves.get(at.mv)?.after;
    let method = plan.recipe.needles;
    match in_hand(method, step.form, mv.cue, after).waiting {
        0 => None,
        n => Some(Note::Waiting(method, n)),
    }
}

fn markers_at(plan: &Plan, trace: &Trace, at: Position) -> Option<MarkerChanges> {
    let (_, mv) = plan.move_at(at)?;
    let after = &trace.steps.get(at.step)?.moves.get(at.mv)?.after;
    markers(&mv.ops, trace.needles_at(at)?, after)
}

fn place(plan: &Plan, trace: &Trace, at: Position) -> Option<Note> {
    let (_, mv) = plan.move_at(at)?;
    let seen = trace.steps.get(at.step)?;
    if matches!(mv.cue, Cue::Plain | Cue::Shape) {
        return first_of_section(plan, trace, at.step);
    }
    let counts = seen.moves.get(at.mv)?.after.per_needle();
    hard_place(plan, mv, trace.needles_at(at)?, counts)
}

/// What the stitches are on: the toe of a sock on one short circular is on two halves.
fn method(plan: &Plan, counts: &[u16]) -> Method {
    match plan.recipe.needles {
        Method::ShortCircular if counts.len() > 1 => Method::MagicLoop {
            seating: Seating::EvenHalves,
        },
        other => other,
    }
}

/// The note of a move; `counts` are the stitches on each needle when it is done.
#[allow(clippy::too_many_lines)] // one arm for each kind of move
fn hard_place(plan: &Plan, mv: &Move, before: &Needles, counts: Vec<u16>) -> Option<Note> {
    let method = method(plan, &counts);
    let (recipe, out) = (&plan.recipe, &plan.outcome);
    Some(match mv.cue {
        Cue::Plain | Cue::Shape => return None,
        Cue::CastOn => Note::CastOn(recipe.cast_on, out.cast_on_tail),
        Cue::TurnHem => Note::TurnHem,
        Cue::JoinHem => Note::JoinHem,
        Cue::CastOnClosed => Note::CastOnClosed,
        Cue::Divide => Note::Divide(method, counts),
        Cue::Join => Note::Join,
        Cue::ReachHeel => Note::ReachHeel,
        Cue::SeatHeel => seat_heel(method, &mv.ops, counts),
        Cue::ReachMiddle => Note::ReachMiddle,
        Cue::SeatMiddle => Note::SeatMiddle(method, counts),
        Cue::SeatLeg => Note::SeatLeg(method, counts),
        Cue::Waste => Note::Waste,
        Cue::OpenWaste => Note::OpenWaste(mv.ops.iter().find_map(|op| match op {
            Op::OpenWaste(n) => Some(n.get()),
            _ => None,
        })?),
        Cue::CrossFirstHalf => Note::CrossFirstHalf,
        Cue::CrossBegin => Note::CrossBegin(method),
        Cue::CrossSecondHalf => Note::CrossSecondHalf,
        Cue::CrossHeel => Note::CrossHeel,
        Cue::PickUpLeft => Note::PickUpLeft {
            corner: corner(&mv.ops),
            marker: marker_placed(&mv.ops),
        },
        Cue::CrossInstepFirst => Note::CrossInstepFirst(method),
        Cue::CrossInstepSecond => Note::CrossInstepSecond {
            needle_two: matches!(
                method,
                Method::MagicLoop { .. } | Method::TwoCirculars { .. }
            ),
        },
        Cue::PickUpRight => Note::PickUpRight {
            corner: corner(&mv.ops),
        },
        Cue::CrossClose => Note::CrossClose {
            needle_two: matches!(method, Method::TwoCirculars { .. }),
            counts,
        },
        Cue::CrossSole => Note::CrossSole,
        Cue::DrawClosed => Note::DrawClosed {
            tail: Length::cm(20),
            stitches: before.stitches(),
        },
        Cue::SeatMotif => Note::SeatMotif(recipe.direction, counts),
        Cue::ReachSide => Note::ReachSide,
        Cue::SeatApart => Note::SeatApart {
            method: recipe.needles,
            counts,
        },
        Cue::ChangeNeedles => Note::ChangeNeedles(counts),
        Cue::ReachInstep => Note::ReachInstep,
        Cue::SeatForGraft => Note::SeatForGraft { method, counts },
        Cue::GraftStart => Note::GraftStart {
            tail: graft_tail(plan, before),
            instep_in_front: front_is_instep(before),
        },
        Cue::GraftPair => Note::GraftPair,
        Cue::GraftEnd => Note::GraftEnd,
        Cue::ToShortCircular => Note::ToShortCircular,
        Cue::BindOff => Note::BindOff {
            how: recipe.bind_off,
            tail: out.bind_off_tail,
            hem: matches!(recipe.cuff.edge, Edge::Hem { .. }),
        },
        Cue::FastenOff => Note::FastenOff,
    })
}

fn corner(ops: &[Op]) -> bool {
    ops.contains(&Op::PickUpCorner)
}

/// Four times the seam, and some to hold.
fn graft_tail(plan: &Plan, before: &Needles) -> Length {
    let seam = plan.recipe.swatch.width_of(before.stitches() / 2);
    // a damaged plan may say anything of its swatch
    Length(percent_of(seam, 400).0.saturating_add(Length::cm(15).0))
}

fn front_is_instep(needles: &Needles) -> bool {
    needles
        .items()
        .next()
        .is_some_and(|item| matches!(item, Item::Stitches(Origin::Instep, _)))
}
