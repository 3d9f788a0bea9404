//! How many stitches sit on which needle, counted from the beginning of the round.

use evenloop_engine::recipe::{Edge, Method, Recipe, Seating};

use super::super::panel::Panel;
use super::{Sums, tubular_edge};

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

/// Stitches per needle in the cuff, the back wider than the front by so many pairs.
pub(super) fn cuff_needles(recipe: &Recipe, s: &Sums, pairs: u32) -> Vec<u32> {
    // Pairs of stitches: none lies across a needle's end, whatever the motif wants.
    let panel = s.panel.filter(|_| !in_pairs(recipe));
    needles_above_heel(recipe, s, panel, pairs)
}

/// Stitches per needle in the leg.
pub(super) fn leg_needles(recipe: &Recipe, s: &Sums, pairs: u32) -> Vec<u32> {
    needles_above_heel(recipe, s, s.panel, pairs)
}

/// Whether the cuff has stitches that are worked two at a time: picots, or those that cross before a
/// tubular edge.
fn in_pairs(recipe: &Recipe) -> bool {
    recipe.cuff.edge == Edge::Hem { picot: true } || tubular_edge(recipe) == Some(true)
}

fn needles_above_heel(recipe: &Recipe, s: &Sums, panel: Option<Panel>, pairs: u32) -> Vec<u32> {
    let front = s.around / 2;
    let back = front + 2 * pairs;
    // In such a cuff an even number (the back is wider by an even number of pairs there); the end
    // stays where it is in a plain leg.
    let odd = |half: u32| if in_pairs(recipe) { half / 2 % 2 } else { 0 };
    let odd_back = odd(front + 2 * s.laid);
    let divided = |panel: Option<Panel>, half: u32, odd: u32| {
        let at = panel.map_or(half / 2 + odd, |panel| panel.nearest(half / 2));
        [at, half - at]
    };
    match recipe.needles {
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } => vec![back, front],
        Method::FourDpns if super::shapes_leg(recipe) => {
            let [first, second] = divided(None, back, odd_back);
            vec![first, second, front]
        }
        Method::FourDpns => {
            let all_round = panel.filter(|panel| panel.all_round);
            let repeat = all_round.map_or(edge_repeat(recipe.cuff.edge), Panel::wide);
            // Whole repeats, the first needles one more where three do not divide them.
            let thirds: Vec<u32> = (0..3)
                .map(|i| (s.around / repeat + 2 - i) / 3 * repeat)
                .collect();
            match panel {
                Some(panel) if !panel.all_round => {
                    // The second needle ends in the front, where the panel lets it.
                    // The third may have all of it.
                    let end = panel.nearest_from(0, thirds[0] + thirds[1] - front);
                    vec![thirds[0], front + end - thirds[0], front - end]
                }
                _ => thirds,
            }
        }
        Method::FiveDpns => {
            let [first, second] = divided(panel.filter(|panel| panel.all_round), back, odd_back);
            let [third, fourth] = divided(panel, front, odd(front));
            vec![first, second, third, fourth]
        }
        Method::ShortCircular { .. } => vec![back + front],
    }
}

/// Stitches per needle while the heel is worked flat on its own `heel` stitches.
pub(super) fn heel_needles(method: Method, s: &Sums, heel: u32) -> Vec<u32> {
    let instep = s.around / 2;
    match method {
        // Four double-pointed needles are just enough to cross when the instep waits on one.
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } | Method::FourDpns => {
            vec![heel, instep]
        }
        Method::FiveDpns => vec![heel, s.split(), instep - s.split()],
        Method::ShortCircular { .. } => vec![heel + instep],
    }
}

/// Stitches per needle from the pick-up to the toe, where `half` stitches lie between the middle
/// of the sole and the instep on either side, and a needle ends after `split` stitches of the instep.
pub(super) fn foot_needles(method: Method, half: u32, instep: u32, split: u32) -> Vec<u32> {
    match method {
        Method::MagicLoop { seating } | Method::TwoCirculars { seating } => match seating {
            Seating::EvenHalves => vec![half + split, instep - split + half],
            Seating::InstepAndSole => vec![2 * half, instep],
        },
        Method::FourDpns => vec![half, instep, half],
        Method::FiveDpns => vec![half, split, instep - split, half],
        Method::ShortCircular { .. } => vec![2 * half + instep],
    }
}

/// The needles that a toe is worked on: it does not reach round a short circular.
pub(super) const fn toe_method(method: Method) -> Method {
    match method {
        Method::ShortCircular { .. } => Method::MagicLoop {
            seating: Seating::EvenHalves,
        },
        other => other,
    }
}
