//! How many stitches sit on which needle, counted from the beginning of the round.

use evenloop_engine::recipe::{Edge, Method, Seating};

/// Stitches of one repeat of the cuff: knit and purl of a rib, the two of a picot.
fn edge_repeat(edge: Edge) -> u32 {
    match edge {
        Edge::Rib(rib) => {
            let (knit, purl) = rib.repeat();
            u32::from(knit + purl)
        }
        Edge::Hem { .. } => 2,
        Edge::Rolled => 1,
    }
}

/// Stitches per needle in leg and cuff.
pub(super) fn leg_needles(method: Method, edge: Edge, n: u32) -> Vec<u32> {
    match method {
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } => vec![n / 2, n / 2],
        Method::FourDpns => {
            let repeat = edge_repeat(edge);
            // Whole repeats, the first needles one more where three do not divide them.
            (0..3).map(|i| (n / repeat + 2 - i) / 3 * repeat).collect()
        }
        Method::FiveDpns => vec![n / 4; 4],
        Method::ShortCircular => vec![n],
    }
}

/// Stitches per needle while the heel is worked flat on its own `heel` stitches.
pub(super) fn heel_needles(method: Method, heel: u32, instep: u32) -> Vec<u32> {
    match method {
        // Four double-pointed needles are just enough to cross when the instep waits on one.
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } | Method::FourDpns => {
            vec![heel, instep]
        }
        Method::FiveDpns => vec![heel, instep / 2, instep / 2],
        Method::ShortCircular => vec![heel + instep],
    }
}

/// Stitches per needle from the pick-up to the toe, where `half` stitches lie between the middle
/// of the sole and the instep on either side.
pub(super) fn foot_needles(method: Method, half: u32, instep: u32) -> Vec<u32> {
    match method {
        Method::MagicLoop { seating } | Method::TwoCirculars { seating } => match seating {
            Seating::EvenHalves => vec![half + instep / 2; 2],
            Seating::InstepAndSole => vec![2 * half, instep],
        },
        Method::FourDpns => vec![half, instep, half],
        Method::FiveDpns => vec![half, instep / 2, instep / 2, half],
        Method::ShortCircular => vec![2 * half + instep],
    }
}

/// The needles that a toe is worked on: it does not reach round a short circular.
pub(super) const fn toe_method(method: Method) -> Method {
    match method {
        Method::ShortCircular => Method::MagicLoop {
            seating: Seating::EvenHalves,
        },
        other => other,
    }
}
