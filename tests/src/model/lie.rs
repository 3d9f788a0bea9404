//! What lies where, in a form in which the naive knitter's needles and the engine's can be held
//! against each other.

use evenloop_engine::needles::{Facing, FlapEdge, Item, Mount, Needles, Origin};
use evenloop_engine::stitch::Marker;

use super::hands::{Cell, Hands, Part, Side};

/// Where everything lies, counted in stitches from the beginning of the round.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Lie {
    pub(super) parts: Vec<Part>,
    needle_ends: Vec<usize>,
    markers: Vec<(usize, char)>,
    edges: Vec<(usize, bool, usize)>,
    gaps: Vec<usize>,
    doubles: Vec<usize>,
    /// Stitches whose right leg lies behind.
    behind: Vec<usize>,
    tip: usize,
    wrong_side: bool,
}

impl Lie {
    /// A place after the last stitch is the place before the first.
    fn close_ring(mut self) -> Self {
        let n = self.parts.len().max(1);
        self.needle_ends.iter_mut().for_each(|at| *at %= n);
        self.markers.iter_mut().for_each(|m| m.0 %= n);
        self.edges.iter_mut().for_each(|e| e.0 %= n);
        self.gaps.iter_mut().for_each(|at| *at %= n);
        self.tip %= n;
        self.needle_ends.sort_unstable();
        self.markers.sort_unstable();
        self.edges.sort_unstable();
        self.gaps.sort_unstable();
        self.doubles.sort_unstable();
        self.behind.sort_unstable();
        self
    }

    pub(super) fn of_engine(needles: &Needles) -> Self {
        let mut lie = Self::nothing(needles.facing() == Facing::WrongSide);
        for (i, item) in needles.items().enumerate() {
            if i == needles.tip() {
                lie.tip = lie.parts.len();
            }
            let at = lie.parts.len();
            match item {
                Item::Stitches(origin, mount, n) => {
                    if mount == Mount::LeadingLegBehind {
                        lie.behind.extend(at..at + usize::from(n));
                    }
                    lie.parts
                        .extend(std::iter::repeat_n(part(origin), usize::from(n)));
                }
                Item::Marker(m) => lie.markers.push((at, letter(m))),
                Item::End => lie.needle_ends.push(at),
                Item::Edge { side, loops, .. } => {
                    lie.edges
                        .push((at, side == FlapEdge::Left, usize::from(loops)));
                }
                Item::Gap => lie.gaps.push(at),
                // No plan of ours wraps a stitch.
                Item::Wrapped(origin, _) => lie.parts.push(part(origin)),
                Item::Double(origin) => {
                    lie.doubles.push(at);
                    lie.parts.push(part(origin));
                }
            }
        }
        if needles.tip() >= needles.items().count() {
            lie.tip = lie.parts.len();
        }
        lie.close_ring()
    }

    pub(super) fn of_hands(hands: &Hands) -> Self {
        let find =
            |wanted: &Cell| {
                hands.needles.iter().enumerate().find_map(|(n, cells)| {
                    cells.iter().position(|cell| cell == wanted).map(|i| (n, i))
                })
            };
        let (first, from) = find(&Cell::Begin)
            .or_else(|| find(&Cell::Live(0)))
            .unwrap_or((hands.needle, hands.at));
        let count = hands.needles.len();
        let mut lie = Self::nothing(hands.wrong_side);
        // The first needle's part after the beginning, the other needles, the part before it.
        let visits = std::iter::once((first, from, hands.needles[first].len()))
            .chain(
                (1..count)
                    .map(|i| (first + i) % count)
                    .map(|n| (n, 0, hands.needles[n].len())),
            )
            .chain(std::iter::once((first, 0, from)));
        for (visit, (n, from, to)) in visits.enumerate() {
            for i in from..=to {
                if (n, i) == (hands.needle, hands.at) {
                    lie.tip = lie.parts.len();
                }
                let at = lie.parts.len();
                match hands.needles[n][..to].get(i) {
                    Some(Cell::Live(id)) => {
                        lie.parts.push(hands.made[*id].part);
                        if hands.made[*id].right_leg_behind && !hands.doubles.contains(id) {
                            lie.behind.push(at);
                        }
                        if hands.doubles.contains(id) {
                            lie.doubles.push(at);
                        }
                    }
                    Some(Cell::Marker(m)) => lie.markers.push((at, *m)),
                    Some(Cell::Edge(side)) => {
                        let loops = hands.edge_loops[*side as usize].len();
                        lie.edges.push((at, *side == Side::Left, loops));
                    }
                    Some(Cell::Gap) => lie.gaps.push(at),
                    Some(Cell::Begin) | None => {}
                }
            }
            if visit < count && !hands.endless {
                lie.needle_ends.push(lie.parts.len());
            }
        }
        lie.close_ring()
    }

    fn nothing(wrong_side: bool) -> Self {
        Self {
            parts: Vec::with_capacity(256),
            needle_ends: Vec::new(),
            markers: Vec::new(),
            edges: Vec::new(),
            gaps: Vec::new(),
            doubles: Vec::new(),
            behind: Vec::new(),
            tip: 0,
            wrong_side,
        }
    }
}

const fn part(origin: Origin) -> Part {
    match origin {
        Origin::Back => Part::Back,
        Origin::Front => Part::Front,
        Origin::Heel => Part::Heel,
        Origin::GussetLeft => Part::GussetLeft,
        Origin::Instep => Part::Instep,
        Origin::GussetRight => Part::GussetRight,
        Origin::Sole => Part::Sole,
    }
}

const fn letter(marker: Marker) -> char {
    match marker {
        Marker::Left => 'L',
        Marker::Right => 'R',
        Marker::Round => 'B',
        // No plan of ours has one.
        Marker::Numbered(_) => '?',
    }
}
