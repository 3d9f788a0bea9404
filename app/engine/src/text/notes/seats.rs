//! Which stitches go onto which needle, and what becomes of the markers: read off the operations and
//! the simulator's needles, so that the words never name a marker that is not there.

use crate::needles::{Item, Needles, Origin};
use crate::recipe::Method;
use crate::stitch::{Marker, Op};
use crate::text::messages::{MarkerChanges, MarkerPlace, Note};

/// Whether a marker is placed at the working tip.
pub(super) fn marker_placed(ops: &[Op]) -> bool {
    ops.iter().any(|op| matches!(op, Op::Place(_)))
}

/// Putting the heel on its needle; on one short circular only markers and the beginning move.
pub(super) fn seat_heel(method: Method, ops: &[Op], counts: Vec<u16>) -> Note {
    match method {
        Method::ShortCircular { .. } => Note::SeatHeelByMarkers {
            at_marker: !marker_placed(ops),
        },
        method => Note::SeatHeel(method, counts),
    }
}

/// What becomes of the markers in a move that begins on `before` and ends on `after`; `None` where a
/// line tells it, or nothing happens to them.
pub(super) fn markers(ops: &[Op], before: &Needles, after: &Needles) -> Option<MarkerChanges> {
    let told_here = ops.iter().all(Op::only_shifts);
    let mut changes = MarkerChanges::default();
    for op in ops {
        match op {
            Op::Remove(marker) => changes.off.push(place_of(*marker, before)),
            Op::Place(_) if told_here => changes.here = true,
            Op::Hang(marker, n) => changes.ahead.push((*n, place_of(*marker, after))),
            _ => {}
        }
    }
    let hung = before.items().filter(|i| matches!(i, Item::Marker(_)));
    changes.none_left = changes.off.len() > 1 && changes.off.len() == hung.count();
    (changes != MarkerChanges::default()).then_some(changes)
}

/// Where a marker hangs, called by the stitches that lie before it along the round.
fn place_of(marker: Marker, needles: &Needles) -> MarkerPlace {
    if marker == Marker::Round {
        return MarkerPlace::MiddleOfSole;
    }
    let mut last = needles.items().filter_map(origin).last();
    for item in needles.items() {
        if item == Item::Marker(marker) {
            break;
        }
        last = origin(item).or(last);
    }
    match (marker, last) {
        (_, Some(Origin::Front)) => MarkerPlace::FrontEnds,
        (_, Some(Origin::Back)) => MarkerPlace::BackEnds,
        (_, Some(Origin::Heel)) => MarkerPlace::HeelEnds,
        (Marker::Right, _) => MarkerPlace::InstepEnds,
        (Marker::Left | Marker::Round | Marker::Numbered(_), _) => MarkerPlace::InstepBegins,
    }
}

const fn origin(item: Item) -> Option<Origin> {
    match item {
        Item::Stitches(origin, ..) | Item::Double(origin) | Item::Wrapped(origin, _) => {
            Some(origin)
        }
        Item::Marker(_) | Item::End | Item::Edge { .. } | Item::Gap => None,
    }
}
