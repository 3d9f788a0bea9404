//! The notes that go with hard places: which of them, and with which arguments.
//!
//! May use plans, traces and needles as the simulator left them. Must not know how a note is worded.

mod first;
mod measured;
mod once;
mod seats;
mod yarns;

pub use self::yarns::CARRIED;

use self::first::first_of_section;
use self::seats::{marker_placed, markers, seat_heel};
use crate::foot::percent_of;
use crate::hand::in_hand;
use crate::needles::{Item, Mount, Needles, Origin};
use crate::plan::{Cue, Move, Plan, StepForm};
use crate::recipe::{Direction, Edge, Method, Seating, Toe};
use crate::stitch::Op;
use crate::text::messages::{ClosedCastOn, MarkerChanges, Note};
use crate::trace::{Position, Trace};
use crate::units::Length;

/// The notes for a position, in the order said; most have none.
pub(super) fn notes(plan: &Plan, trace: &Trace, at: Position) -> Vec<Note> {
    let markers = markers_at(plan, trace, at).map(Note::Markers);
    let place = place(plan, trace, at);
    let ends = matches!(
        place,
        Some(Note::BindOff { .. } | Note::SewHem { .. } | Note::DrawClosed { .. })
    );
    let (first, then) = if ends {
        (markers, place)
    } else {
        (place, markers)
    };
    let waiting = waiting(plan, trace, at);
    let all = [
        yarns::at_a_change(plan, at),
        after_the_closed_cast_on(plan, at),
        first,
        then,
        first_loop(plan, at),
        waiting,
        mounted_the_other_way(plan, trace, at),
        yarn_over_at_an_end(plan, at),
    ];
    all.into_iter()
        .flatten()
        .chain(measured::measured(plan, trace, at))
        .chain(once::once(plan, trace, at))
        .collect()
}

/// Stitches of the heel's first half that wait, where a count beside a needle has them in it or might be
/// thought to: on two circulars while needle 1 is counted, on a magic loop while needle 2 is, and once on
/// double-pointed needles, whose waiting stitches lie on one of their own.
fn waiting(plan: &Plan, trace: &Trace, at: Position) -> Option<Note> {
    let (step, mv) = plan.move_at(at)?;
    let after = &trace.steps.get(at.step)?.moves.get(at.mv)?.after;
    let method = plan.recipe.needles;
    let counted = match method {
        Method::TwoCirculars { .. } => matches!(
            mv.cue,
            Cue::CrossSecondHalf | Cue::PickUpLeft | Cue::CrossInstepFirst
        ),
        Method::MagicLoop { .. } => matches!(mv.cue, Cue::CrossInstepSecond | Cue::PickUpRight),
        Method::FourDpns | Method::FiveDpns => mv.cue == Cue::CrossSecondHalf,
        Method::ShortCircular { .. } => false,
    };
    match in_hand(method, step.form, mv.cue, after).waiting {
        0 => None,
        n => counted.then_some(Note::Waiting(method, n)),
    }
}

fn markers_at(plan: &Plan, trace: &Trace, at: Position) -> Option<MarkerChanges> {
    let (_, mv) = plan.move_at(at)?;
    let after = &trace.steps.get(at.step)?.moves.get(at.mv)?.after;
    markers(&mv.ops, trace.needles_at(at)?, after)
}

/// The first round or row of a sock from the toe up.
fn after_the_closed_cast_on(plan: &Plan, at: Position) -> Option<Note> {
    let begins = Position { step: 1, mv: 0 };
    closed_cast_on(plan)
        .filter(|_| at == begins)
        .map(Note::FirstRound)
}

/// Where the needles of a closed cast-on are held: the moves that begin it, of which the last lays the first
/// loop. A plan of earlier days, or by a pattern, has but one of them.
fn begins_closed(plan: &Plan, at: Position) -> bool {
    plan.move_at(at)
        .is_some_and(|(_, mv)| mv.cue == Cue::CastOnClosedBegin)
}

/// The first loop of a closed cast-on, once its needles are held.
fn first_loop(plan: &Plan, at: Position) -> Option<Note> {
    let next = Position {
        mv: at.mv + 1,
        ..at
    };
    let lays = begins_closed(plan, at) && !begins_closed(plan, next);
    closed_cast_on(plan)
        .filter(|_| lays)
        .map(Note::CastOnClosedFirst)
}

/// How a toe was cast on, by what the plan says: a plan under way keeps its cast-on, whatever is
/// usual today.
fn closed_cast_on(plan: &Plan) -> Option<ClosedCastOn> {
    let moves = plan.sections.first()?.steps.first()?.moves.iter();
    moves.flat_map(|mv| &mv.ops).find_map(|op| match op {
        Op::CastOnMagic(_) => Some(ClosedCastOn::Magic),
        Op::CastOnWrapped(_) => Some(ClosedCastOn::Wrapped),
        _ => None,
    })
}

/// A round over stitches whose leading leg lies behind.
fn mounted_the_other_way(plan: &Plan, trace: &Trace, at: Position) -> Option<Note> {
    let (step, mv) = plan.move_at(at)?;
    let behind = |item| matches!(item, Item::Stitches(_, Mount::LeadingLegBehind, _));
    let any = trace.needles_at(at)?.items().any(behind);
    // a tubular edge says it of its own loops
    let any = any && mv.cue != Cue::Tubular;
    (any && step.form == StepForm::Round).then_some(Note::MountedTheOtherWay)
}

/// A yarn over that nothing holds: the last thing on a needle, or the first.
fn yarn_over_at_an_end(plan: &Plan, at: Position) -> Option<Note> {
    let (_, mv) = plan.move_at(at)?;
    mv.has_loose_yarn_over().then_some(Note::YarnOverAtEnd)
}

/// The tail of a closed cast-on: one strand of it lies round half of the loops, three times as long as
/// they are wide (common practice, no source), and some to weave in.
fn toe_tail(plan: &Plan, loops: u16) -> Length {
    let edge = plan.recipe.swatch.width_of(loops / 2);
    // a damaged plan may say anything of its swatch
    Length(percent_of(edge, 300).0.saturating_add(Length::cm(15).0))
}

fn place(plan: &Plan, trace: &Trace, at: Position) -> Option<Note> {
    let (_, mv) = plan.move_at(at)?;
    let seen = trace.steps.get(at.step)?;
    if matches!(mv.cue, Cue::Plain | Cue::Shape) {
        return first_of_section(plan, trace, at.step);
    }
    let before = at.mv.checked_sub(1).map(|mv| Position { mv, ..at });
    if begins_closed(plan, at) && before.is_some_and(|before| begins_closed(plan, before)) {
        return None;
    }
    let counts = seen.moves.get(at.mv)?.after.per_needle();
    hard_place(plan, mv, trace.needles_at(at)?, counts)
}

/// What the stitches are on: the toe of a sock on one short circular is on two halves.
fn method(plan: &Plan, counts: &[u16]) -> Method {
    match plan.recipe.needles {
        Method::ShortCircular { .. } if counts.len() > 1 => Method::MagicLoop {
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
        Cue::CastOnClosedBegin => {
            Note::CastOnClosedBegin(closed_cast_on(plan)?, toe_tail(plan, plan.outcome.toe_left))
        }
        Cue::CastOnClosed => Note::CastOnClosed(closed_cast_on(plan)?),
        Cue::CastOnClosedTurn => Note::CastOnClosedTurn(closed_cast_on(plan)?),
        Cue::CastOnClosedPart => Note::CastOnClosedPart {
            method: recipe.needles,
            then: closed_cast_on(plan).filter(|_| recipe.toe != Toe::ShortRow),
        },
        Cue::ChainBegin => Note::ChainBegin,
        Cue::Chain => Note::Chain,
        Cue::ChainEnd => Note::ChainEnd(Length::cm(15)),
        Cue::UndoChain => Note::UndoChain(recipe.needles, before.provisional()),
        Cue::Tubular => Note::Tubular {
            knits: !any_op(&mv.ops, &|op| matches!(op, Op::Purl(_))),
            cast_on: before
                .items()
                .any(|item| matches!(item, Item::Stitches(_, Mount::LeadingLegBehind, _))),
        },
        Cue::TubularCross => Note::TubularCross {
            cast_on: recipe.direction == Direction::CuffDown,
        },
        Cue::Divide => Note::Divide(method, counts),
        Cue::Join => Note::Join,
        Cue::ReachHeel => Note::ReachHeel,
        Cue::SeatHeel => seat_heel(method, &mv.ops, counts),
        Cue::ReachMiddle => Note::ReachMiddle,
        Cue::SeatMiddle => Note::SeatMiddle(method, counts),
        Cue::SeatLeg => Note::SeatLeg(method, counts),
        Cue::Waste => Note::Waste,
        Cue::OpenWaste => Note::OpenWaste(
            recipe.direction,
            mv.ops.iter().find_map(|op| match op {
                Op::OpenWaste(n) => Some(n.get()),
                _ => None,
            })?,
        ),
        Cue::RowToSnip => Note::RowToSnip,
        Cue::OpenRow => Note::OpenRow(
            recipe.direction,
            mv.ops.iter().find_map(|op| match op {
                Op::SnipRow(n) => Some(n.get()),
                _ => None,
            })?,
        ),
        Cue::SnipRow => Note::SnipRow,
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
        Cue::BindOffBegin => Note::BindOffBegin(out.bind_off_tail),
        Cue::SewHem => Note::SewHem {
            tail: out.bind_off_tail,
            stitches: before.stitches(),
        },
        // a plan of earlier days binds off before it sews
        Cue::BindOff => Note::BindOff {
            how: recipe.bind_off,
            tail: out.bind_off_tail,
            hem: matches!(recipe.cuff.edge, Edge::Hem { .. }),
            purls: recipe.written.is_some() || matches!(recipe.cuff.edge, Edge::Rib(_)),
        },
        Cue::FastenOff => Note::FastenOff,
    })
}

/// Whether any operation is such a one, within a repeat or not.
fn any_op(ops: &[Op], wanted: &dyn Fn(&Op) -> bool) -> bool {
    ops.iter().any(|op| match op {
        Op::Repeat(inner, _) => any_op(inner, wanted),
        op => wanted(op),
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
        .is_some_and(|item| matches!(item, Item::Stitches(Origin::Instep, ..)))
}
