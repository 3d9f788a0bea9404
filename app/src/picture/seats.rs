//! What lies on each needle, read off the simulator's state in the words of the picture: groups,
//! markers, open edges, gaps, where the working tip is and which needle works next.
//! Knows no coordinates.

use evenloop_engine::needles::{Facing, FlapEdge, Item, Needles, Origin};
use evenloop_engine::stitch::Marker;

/// One thing on a needle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum SeatItem {
    /// Neighbouring stitches of one origin.
    Group {
        /// Where they belong.
        origin: Origin,
        /// How many; never zero.
        stitches: u16,
        /// Whether they wait while the heel is worked back and forth.
        rests: bool,
    },
    /// A marker.
    Marker(Marker),
    /// The open edge of the heel flap with so many loops to pick up.
    Edge(u16),
    /// The gap where a short row was turned.
    Gap,
    /// Where the second sock begins, of two at a time.
    Between,
}

/// One needle, or one half of a long circular.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct NeedleSeat {
    /// What lies on it, in the direction of right-side knitting.
    pub parts: Vec<SeatItem>,
    /// Its stitches.
    pub stitches: u16,
}

/// Where the working tip is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Tip {
    /// On which needle.
    pub seat: usize,
    /// So many of its parts lie before it, in the direction of right-side knitting.
    pub part: usize,
}

/// All needles.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Seats {
    /// Needle by needle from the beginning of the round.
    pub each: Vec<NeedleSeat>,
    /// The working tip; nowhere when there are no stitches.
    pub tip: Option<Tip>,
    /// The needle whose stitches are worked next.
    pub works: Option<usize>,
    /// Whether the ring is joined.
    pub joined: bool,
    /// Whether the wrong side faces the knitter.
    pub wrong_side: bool,
    /// Whether the heel is being worked back and forth while the rest waits.
    pub flat: bool,
    /// Of two socks at a time: on each needle the first sock's stitches and the second's.
    pub shares: Option<[[u16; 2]; 2]>,
}

impl NeedleSeat {
    /// Adds stitches to the group that ends here, or begins a new one: always `apart` where the
    /// working tip lies between.
    fn add(&mut self, origin: Origin, more: u16, rest: bool, apart: bool) {
        self.stitches += more;
        if let (
            false,
            Some(SeatItem::Group {
                origin: of,
                stitches,
                rests,
            }),
        ) = (apart, self.parts.last_mut())
            && (*of, *rests) == (origin, rest)
        {
            *stitches += more;
            return;
        }
        self.parts.push(SeatItem::Group {
            origin,
            stitches: more,
            rests: rest,
        });
    }
}

impl Seats {
    /// Reads the needles. While the heel is worked `flat`, all else waits.
    pub(super) fn of(needles: &Needles, flat: bool) -> Self {
        let items: Vec<Item> = needles.items().collect();
        let wrong_side = needles.facing() == Facing::WrongSide;
        let edges = resting(&items);
        // A flap shows by its open edges what waits; short rows have none.
        let rests = |i: usize, origin: Origin| match edges {
            Some(edges) => edges.covers(i),
            None => flat && origin != Origin::Heel,
        };
        let mut seats = vec![NeedleSeat::default()];
        let mut tip = None;
        for (i, item) in items.iter().enumerate() {
            if i == needles.tip() {
                tip = Some(here(&seats));
            }
            let Some(seat) = seats.last_mut() else { break };
            match *item {
                Item::End => seats.push(NeedleSeat::default()),
                Item::Stitches(origin, _, stitches) => {
                    seat.add(origin, stitches, rests(i, origin), i == needles.tip());
                }
                // Two legs or a wrap, one stitch: it lies among its neighbours.
                Item::Double(origin) | Item::Wrapped(origin, _) => {
                    seat.add(origin, 1, rests(i, origin), i == needles.tip());
                }
                Item::Marker(marker) => seat.parts.push(SeatItem::Marker(marker)),
                Item::Edge { loops, .. } => seat.parts.push(SeatItem::Edge(loops)),
                Item::Gap => seat.parts.push(SeatItem::Gap),
            }
        }
        let past_all = here(&seats);
        if seats.last().is_some_and(|s| s.parts.is_empty()) {
            seats.pop();
        }
        // The end of the round is its beginning; an edge that is not joined simply ends.
        let tip = tip.unwrap_or(if past_all.seat < seats.len() {
            past_all
        } else if needles.joined() {
            Tip { seat: 0, part: 0 }
        } else {
            let seat = seats.len().saturating_sub(1);
            Tip {
                seat,
                part: seats.last().map_or(0, |s| s.parts.len()),
            }
        });
        let mut read = Self {
            tip: (!seats.is_empty()).then_some(tip),
            works: None,
            each: seats,
            joined: needles.joined(),
            wrong_side,
            flat: flat || edges.is_some(),
            shares: None,
        };
        read.works = read.tip.and_then(|tip| read.next_to_work(tip));
        read
    }

    /// Live stitches on all needles.
    pub(super) fn stitches(&self) -> u16 {
        self.each.iter().map(|s| s.stitches).sum()
    }

    /// The needle that holds the first thing to be worked from the tip on.
    fn next_to_work(&self, tip: Tip) -> Option<usize> {
        let places: Vec<(usize, bool)> = self
            .each
            .iter()
            .enumerate()
            .flat_map(|(i, seat)| seat.parts.iter().map(move |p| (i, p.is_work())))
            .collect();
        let before = self.each[..tip.seat]
            .iter()
            .map(|s| s.parts.len())
            .sum::<usize>()
            + tip.part;
        let (first, then) = places.split_at(before.min(places.len()));
        let worked = |(seat, is_work): &(usize, bool)| is_work.then_some(*seat);
        if self.wrong_side {
            first.iter().rev().chain(then.iter().rev()).find_map(worked)
        } else {
            then.iter().chain(first).find_map(worked)
        }
    }
}

impl SeatItem {
    /// Whether hands do something with it, rather than pass it by.
    const fn is_work(self) -> bool {
        match self {
            Self::Group { .. } => true,
            Self::Edge(loops) => loops > 0,
            Self::Marker(_) | Self::Gap | Self::Between => false,
        }
    }
}

fn here(seats: &[NeedleSeat]) -> Tip {
    Tip {
        seat: seats.len().saturating_sub(1),
        part: seats.last().map_or(0, |s| s.parts.len()),
    }
}

/// The stretch of the ring that waits: from the end of the heel round to its beginning.
#[derive(Clone, Copy)]
struct Resting {
    left: usize,
    right: usize,
}

impl Resting {
    const fn covers(self, i: usize) -> bool {
        if self.left < self.right {
            self.left < i && i < self.right
        } else {
            i > self.left || i < self.right
        }
    }
}

/// While both edges of the heel are open, what lies outside them waits, as long as the tip is
/// between them.
fn resting(items: &[Item]) -> Option<Resting> {
    let edge = |wanted| {
        items
            .iter()
            .position(|i| matches!(i, Item::Edge { side, .. } if *side == wanted))
    };
    Some(Resting {
        left: edge(FlapEdge::Left)?,
        right: edge(FlapEdge::Right)?,
    })
}
