//! The needle picture in words, as one knitter would tell another what is on the needles.

use evenloop_engine::needles::Needles;
use evenloop_engine::text::origin_name;

use super::look::Look;
use super::seats::{SeatItem, Seats};
use crate::text;

/// That nothing is on the needles, and what comes onto them next.
pub(super) fn say_coming(needles: &Needles, coming: &Needles, look: Look) -> String {
    let empty = say(needles, look, false);
    text::picture::say_coming(&empty, &say(coming, look, false))
}

/// What is on the needles, needle by needle, with where the yarn is.
pub fn say(needles: &Needles, look: Look, flat: bool) -> String {
    let seats = Seats::of(needles, flat);
    if seats.stitches() == 0 {
        return text::picture::say_empty(needles.waste(), needles.to_snip());
    }
    let mut out = vec![look.name().to_owned()];
    if !seats.joined {
        out.push(text::picture::SAY_NOT_JOINED.to_owned());
    }
    if seats.flat {
        out.push(text::picture::SAY_FLAT.to_owned());
        let side = if seats.wrong_side {
            text::picture::SAY_WRONG_SIDE
        } else {
            text::picture::SAY_RIGHT_SIDE
        };
        out.push(side.to_owned());
    }
    let count = seats.each.len();
    let number = |n: usize| look.number(n, count);
    for (n, seat) in seats.each.iter().enumerate() {
        let rests = seat
            .parts
            .iter()
            .all(|p| matches!(p, SeatItem::Group { rests: true, .. }));
        let head = match number(n) {
            None if count > 1 => text::picture::SAY_ON_CABLE.to_owned(),
            number => text::picture::say_needle(number, seats.works == Some(n), rests),
        };
        let parts: Vec<String> = seat.parts.iter().copied().map(part).collect();
        let total = text::picture::say_stitches(seat.stitches);
        out.push(text::picture::say_on_needle(&head, &parts, &total));
    }
    if let Some(tip) = seats.tip {
        let before = tip
            .part
            .checked_sub(1)
            .and_then(|i| seats.each.get(tip.seat)?.parts.get(i))
            .copied()
            .map(part);
        out.push(match number(tip.seat) {
            None if count > 1 => text::picture::say_tip_on_cable(before.as_deref()),
            number => text::picture::say_tip(number, before.as_deref()),
        });
    }
    out.join(" ")
}

fn part(part: SeatItem) -> String {
    match part {
        SeatItem::Group {
            origin, stitches, ..
        } => text::picture::say_group(origin_name(origin), stitches),
        SeatItem::Marker(marker) => text::picture::marker_spoken(marker).to_owned(),
        SeatItem::Edge(loops) => text::picture::say_edge(loops),
        SeatItem::Gap => text::picture::SAY_GAP.to_owned(),
        SeatItem::Between => String::new(),
    }
}
