//! The needle picture in words, as one knitter would tell another what is on the needles.

use evenloop_engine::needles::Needles;
use evenloop_engine::words::origin_name;

use super::copy;
use super::look::Look;
use super::seats::{Part, Seats};

/// What is on the needles, needle by needle, with where the yarn is.
pub fn say(needles: &Needles, look: Look, flat: bool) -> String {
    let seats = Seats::of(needles, flat);
    if seats.stitches() == 0 {
        return copy::say_empty(needles.waste());
    }
    let mut out = vec![copy::look(look).to_owned()];
    if !seats.joined {
        out.push(copy::SAY_NOT_JOINED.to_owned());
    }
    if seats.flat {
        out.push(copy::SAY_FLAT.to_owned());
        let side = if seats.wrong_side {
            copy::SAY_WRONG_SIDE
        } else {
            copy::SAY_RIGHT_SIDE
        };
        out.push(side.to_owned());
    }
    let several = seats.each.len() > 1;
    let number = |n: usize| several.then_some(n + 1);
    for (n, seat) in seats.each.iter().enumerate() {
        let rests = seat
            .parts
            .iter()
            .all(|p| matches!(p, Part::Group { rests: true, .. }));
        let head = copy::say_needle(number(n), seats.works == Some(n), rests);
        let parts: Vec<String> = seat.parts.iter().copied().map(part).collect();
        let total = copy::say_stitches(seat.stitches);
        out.push(format!("{head}: {}; {total}.", parts.join(", ")));
    }
    if let Some(tip) = seats.tip {
        let before = tip
            .part
            .checked_sub(1)
            .and_then(|i| seats.each.get(tip.seat)?.parts.get(i))
            .copied()
            .map(part);
        out.push(copy::say_tip(number(tip.seat), before.as_deref()));
    }
    out.join(" ")
}

fn part(part: Part) -> String {
    match part {
        Part::Group {
            origin, stitches, ..
        } => {
            format!("{} {stitches}", origin_name(origin))
        }
        Part::Marker(marker) => copy::marker_spoken(marker).to_owned(),
        Part::Edge(loops) => copy::say_edge(loops),
        Part::Gap => copy::SAY_GAP.to_owned(),
        Part::Between => String::new(),
    }
}
