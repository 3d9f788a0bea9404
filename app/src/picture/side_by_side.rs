//! Two socks at a time: both on the same two needles, the first before the second on needle 1 and
//! after it on needle 2, as they hang from one loop.

use evenloop_engine::needles::Needles;
use evenloop_engine::together::Sock;

use super::cells::Cell;
use super::course::{NeedleCourses, PicturePoint};
use super::look::Look;
use super::names::inward;
use super::say::say;
use super::scene::{Hold, Picture, PictureText, Working};
use super::seats::{NeedleSeat, SeatItem, Seats, Tip};
use super::shapes::{begin, curve};
use crate::text;

impl Seats {
    /// Lays the second sock beside the first; `None` where they are not on the same two needles in the
    /// same way.
    pub(super) fn of_two(first: &Self, second: &Self) -> Option<Self> {
        let alike = |seats: &Self| (seats.joined, seats.wrong_side, seats.flat, seats.works);
        let ([a, c], [b, d]) = (first.each.as_slice(), second.each.as_slice()) else {
            return None;
        };
        if alike(first) != alike(second) || !first.joined {
            return None;
        }
        // With the wrong side facing the second sock is the first to be worked.
        let (leads, of) = if first.wrong_side {
            (second, 1)
        } else {
            (first, 0)
        };
        let tip = leads.tip.map(|tip| {
            let before = match (tip.seat, of) {
                (0, 1) => a.parts.len() + 1,
                (1, 0) => d.parts.len() + 1,
                _ => 0,
            };
            Tip {
                seat: tip.seat,
                part: before + tip.part,
            }
        });
        let beside = |one: &NeedleSeat, other: &NeedleSeat| NeedleSeat {
            parts: [&one.parts[..], &[SeatItem::Between], &other.parts[..]].concat(),
            stitches: one.stitches + other.stitches,
        };
        Some(Self {
            each: vec![beside(a, b), beside(d, c)],
            tip,
            works: first.works,
            joined: true,
            wrong_side: first.wrong_side,
            flat: first.flat,
            shares: Some([[a.stitches, b.stitches], [c.stitches, d.stitches]]),
        })
    }
}

/// Whose stitches come first on a needle, counted from 0: `two` where both socks are on it.
pub(super) const fn begins(needle: usize, two: bool) -> Sock {
    if two && needle == 1 {
        Sock::Second
    } else {
        Sock::First
    }
}

impl Picture {
    /// Lays out both socks on the needles; the first alone where they cannot be seen side by side.
    pub fn of_two(first: &Needles, second: &Needles, look: Look, flat: bool) -> Self {
        let [a, b] = [first, second].map(|needles| Seats::of(needles, flat));
        match Seats::of_two(&a, &b) {
            Some(both) => Self::lay(&both, look),
            None => Self::of(first, look, flat),
        }
    }

    /// The other sock's stitches may be on these needles: an empty picture must not say that nothing is on them.
    #[must_use]
    pub fn shared(mut self, shared: bool) -> Self {
        if shared && self.empty.is_some() {
            self.empty = Some(text::picture::EMPTY_OF_TWO.to_owned());
        }
        self
    }

    /// What tells the socks apart on one needle, and the yarn of the one that waits.
    pub(super) fn socks(&mut self, field: &NeedleCourses, n: usize, row: &[Cell]) {
        let Some(gap) = row.iter().find(|cell| cell.part == SeatItem::Between) else {
            return;
        };
        let (from, to) = super::cells::ends(row);
        let order = if n == 0 {
            text::picture::SOCKS
        } else {
            [text::picture::SOCKS[1], text::picture::SOCKS[0]]
        };
        for (words, (a, b)) in order.into_iter().zip([(from, gap.from), (gap.to, to)]) {
            let place = field.place(n, f32::midpoint(a, b));
            self.names.push(PictureText {
                hold: Hold::Middle,
                ..inward(words, &place)
            });
        }
        if n == 0 {
            let place = field.place(n, gap.middle());
            let ball = place.at.go(place.out, -46.0);
            let mut yarn = String::new();
            begin(&mut yarn, place.at);
            curve(
                &mut yarn,
                place.at.go(place.out, -14.0),
                ball.go(place.along, -14.0).go(place.out, 8.0),
                ball,
            );
            self.waiting = Some(Working {
                needle: String::new(),
                yarn,
                ball: (ball.x, ball.y),
            });
        }
    }
}

/// Where a needle's total stands beside the other sock's yarn.
pub(super) fn total(spot: PicturePoint, mirrored: bool) -> PicturePoint {
    let aside = PicturePoint::new(-1.0, 0.0);
    spot.go(aside, if mirrored { -63.0 } else { 63.0 })
}

/// Both in words: the second is only told where it is not the same.
pub fn say_two(first: &Needles, second: &Needles, look: Look, flat: bool) -> String {
    let told = say(first, look, flat);
    if first == second {
        return format!("{} {told}", text::picture::SAY_BOTH);
    }
    format!(
        "{} {told} {} {}",
        text::picture::SAY_FIRST,
        text::picture::SAY_SECOND,
        say(second, look, flat)
    )
}
