//! Which stitches go onto which needle, and what happens to the markers.

use super::listed;
use crate::recipe::Method;
use crate::stitch::Op;

/// Along one needle stitches slide; to another one they are slipped.
pub(super) const fn shift(method: Method) -> &'static str {
    match method {
        Method::MagicLoop { .. } => "Slide",
        _ => "Slip",
    }
}

/// Markers that have served, where there are any.
pub(super) fn markers_off(ops: &[Op]) -> &'static str {
    if ops.iter().any(|op| matches!(op, Op::Remove(_))) {
        " Take the markers off."
    } else {
        ""
    }
}

pub(super) fn divide(method: Method, per_needle: &[u16]) -> String {
    match method {
        Method::MagicLoop { .. } => format!(
            "Slide the stitches to the cable and pull a loop of it out in the middle: {}.",
            listed(per_needle)
        ),
        Method::TwoCirculars { .. } => {
            format!("Slip them onto two circular needles: {}.", listed(per_needle))
        }
        Method::FourDpns => format!("Slip them onto three needles: {}.", listed(per_needle)),
        Method::FiveDpns => format!("Slip them onto four needles: {}.", listed(per_needle)),
        Method::ShortCircular => {
            "Spread them round the whole needle and hang a marker after the last one: the round begins there.".to_owned()
        }
    }
}

pub(super) fn seat_heel(method: Method, ops: &[Op], per_needle: &[u16]) -> String {
    match method {
        Method::ShortCircular => seat_heel_by_markers(ops),
        Method::MagicLoop { .. } => format!(
            "Slide the stitches, without working them, until the heel lies on needle 1 alone, {}. The round begins at its side.",
            listed(per_needle)
        ),
        Method::TwoCirculars { .. } | Method::FourDpns | Method::FiveDpns => format!(
            "The heel gets needle 1 to itself. Slip stitches purlwise from needle to needle until they lie {}.",
            listed(per_needle)
        ),
    }
}

/// On one short circular only markers move; which ones the operations know.
fn seat_heel_by_markers(ops: &[Op]) -> String {
    let begin = if ops.iter().any(|op| matches!(op, Op::Place(_))) {
        "Hang a marker here: the round begins here now, at the heel's side."
    } else {
        "The round begins at this marker now, at the heel's side."
    };
    let others = if ops.iter().any(|op| matches!(op, Op::Remove(_))) {
        " Take the others off."
    } else {
        ""
    };
    let far_end = ops.iter().find_map(|op| match op {
        Op::Hang(_, n) => Some(format!(
            " Hang one after {n} stitches, where the heel ends."
        )),
        _ => None,
    });
    format!("{begin}{others}{}", far_end.unwrap_or_default())
}

pub(super) fn seat_middle(method: Method, per_needle: &[u16]) -> String {
    let here = "The round begins here from now on, in the middle of the sole.";
    match method {
        Method::ShortCircular => {
            format!("{here} Hang a marker here, and have one at each end of the instep.")
        }
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } => format!(
            "{here} {} the stitches until they lie {}, and hang a marker at each end of the instep.",
            shift(method),
            listed(per_needle)
        ),
        Method::FourDpns | Method::FiveDpns => format!(
            "{here} Slip stitches from needle to needle until they lie {}.",
            listed(per_needle)
        ),
    }
}

pub(super) fn seat_apart(method: Method, ops: &[Op], per_needle: &[u16]) -> String {
    let take = match method {
        Method::ShortCircular => "Take a long circular or two needles. ",
        _ => "",
    };
    format!(
        "{take}{} the stitches, without working them, until the sole lies on needle 1 and the instep on needle 2, {}. The round begins at the sole's side.{}",
        shift(method),
        listed(per_needle),
        markers_off(ops)
    )
}

pub(super) fn seat_leg(method: Method, per_needle: &[u16]) -> String {
    match method {
        Method::ShortCircular => "Leave only the marker where the round begins.".to_owned(),
        _ => format!("Share the stitches out like this: {}.", listed(per_needle)),
    }
}
