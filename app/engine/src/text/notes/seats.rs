//! Which stitches go onto which needle, and what happens to the markers.

use crate::recipe::Method;
use crate::stitch::Op;
use crate::text::messages::Note;

/// Whether markers have served.
pub(super) fn markers_off(ops: &[Op]) -> bool {
    ops.iter().any(|op| matches!(op, Op::Remove(_)))
}

/// Whether a marker is hung.
pub(super) fn marker_hung(ops: &[Op]) -> bool {
    ops.iter().any(|op| matches!(op, Op::Place(_)))
}

/// On one short circular only markers move; which ones the operations know.
pub(super) fn seat_heel(method: Method, ops: &[Op], counts: Vec<u16>) -> Note {
    match method {
        Method::ShortCircular { .. } => Note::SeatHeelByMarkers {
            placed: marker_hung(ops),
            others_off: markers_off(ops),
            far_end: ops.iter().find_map(|op| match op {
                Op::Hang(_, n) => Some(*n),
                _ => None,
            }),
        },
        method => Note::SeatHeel(method, counts),
    }
}
