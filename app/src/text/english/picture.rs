//! The needle picture, for the eye and for the ear.

use evenloop_engine::needles::Origin;
use evenloop_engine::stitch::Marker;

/// What a group of stitches is called where room is short.
pub(crate) const fn group_short(origin: Origin) -> &'static str {
    match origin {
        Origin::Back => "back",
        Origin::Front => "front",
        Origin::Heel => "heel",
        Origin::GussetLeft | Origin::GussetRight => "gusset",
        Origin::Instep => "instep",
        Origin::Sole => "sole",
    }
}

/// What hangs between stitches, as written beside it.
pub(crate) const fn marker(marker: Marker) -> &'static str {
    match marker {
        Marker::Left | Marker::Right | Marker::Numbered(_) => "marker",
        Marker::Round => "start",
    }
}

/// The same, spoken.
pub(crate) const fn marker_spoken(marker: Marker) -> &'static str {
    match marker {
        Marker::Left | Marker::Right | Marker::Numbered(_) => "marker",
        Marker::Round => "marker for the beginning of the round",
    }
}

/// Written at an open edge of the flap, below the number of stitches to pick up there if there are any yet.
pub(crate) const EDGE: &str = "edge";
/// Written where the round begins while the tip is elsewhere.
pub(crate) const START: &str = "start";
/// Written in the middle while the wrong side faces.
pub(crate) const WRONG_SIDE: &str = "wrong side";
/// Written where nothing is on the needles; a waste yarn may hold stitches on both its sides.
pub(crate) fn empty(waste: u16, to_snip: u16) -> String {
    match (waste, to_snip) {
        (0, 0) => "no stitches on the needles".to_owned(),
        (0, n) => format!("{n} stitches wait on each side of the pinned row"),
        (n, _) => format!("{n} stitches wait on each side of the waste yarn"),
    }
}

/// The total of a needle; where there are many, room is short.
pub(crate) fn total(stitches: u16, short: bool) -> String {
    if short {
        stitches.to_string()
    } else {
        format!("{stitches} sts")
    }
}

/// The total of a needle that holds two socks: first and second.
pub(crate) fn total_of_two([first, second]: [u16; 2]) -> String {
    format!("{first} + {second}")
}

/// Written where nothing of the sock at hand is on the needles, but of the other one.
pub(crate) const EMPTY_OF_TWO: &str = "the other sock waits on the needles";

/// Written at each of two socks at a time.
pub(crate) const SOCKS: [&str; 2] = ["first", "second"];
pub(crate) const SAY_BOTH: &str = "Two socks side by side, the same on both.";
pub(crate) const SAY_FIRST: &str = "Two socks side by side. The first sock:";
pub(crate) const SAY_SECOND: &str = "The second sock:";

pub(crate) const MAGIC_LOOP: &str = "Magic loop.";
pub(crate) const TWO_CIRCULARS: &str = "Two circular needles.";
pub(crate) const DOUBLE_POINTED: &str = "Double-pointed needles.";
pub(crate) const SHORT_CIRCULAR: &str = "One short circular needle.";

/// Nothing is on the needles; a waste yarn may hold stitches on both its sides.
pub(crate) fn say_empty(waste: u16, to_snip: u16) -> String {
    match (waste, to_snip) {
        (0, 0) => "There are no stitches on the needles.".to_owned(),
        (0, n) => {
            format!("The needles are empty; {n} stitches wait on each side of the pinned row.")
        }
        (n, _) => {
            format!("The needles are empty; {n} stitches wait on each side of the waste yarn.")
        }
    }
}
/// Written beside what comes onto needles on which nothing is yet.
pub(crate) const TO_COME: &str = "still to come";
/// The same, spoken: after that nothing is there, what comes.
pub(crate) fn say_coming(empty: &str, coming: &str) -> String {
    format!("{empty} Still to come: {coming}")
}

pub(crate) const SAY_FLAT: &str = "The heel is worked back and forth.";
pub(crate) const SAY_WRONG_SIDE: &str = "The wrong side faces you.";
pub(crate) const SAY_RIGHT_SIDE: &str = "The right side faces you.";
pub(crate) const SAY_NOT_JOINED: &str = "Not joined into a round yet.";
pub(crate) const SAY_GAP: &str = "gap of a turned row";

/// How a needle is introduced; numbers count from 1, `None` where there is only one.
pub(crate) fn say_needle(number: Option<usize>, works: bool, rests: bool) -> String {
    let name = number.map_or_else(|| "On the needle".to_owned(), |n| format!("Needle {n}"));
    match (works, rests) {
        (true, _) if number.is_some() => format!("{name}, worked next"),
        (_, true) => format!("{name}, at rest"),
        _ => name,
    }
}

/// How stitches are introduced that were left behind on a cable.
pub(crate) const SAY_ON_CABLE: &str = "On the cable";

/// Where the yarn hangs, after such stitches.
pub(crate) fn say_tip_on_cable(before: Option<&str>) -> String {
    match before {
        None => "The yarn is on the cable.".to_owned(),
        Some(what) => format!("The yarn is on the cable, after {what}."),
    }
}

/// What lies on a needle, and how many stitches that is in all.
pub(crate) fn say_on_needle(needle: &str, parts: &[String], total: &str) -> String {
    format!("{needle}: {}; {total}.", parts.join(", "))
}

/// A group of stitches.
pub(crate) fn say_group(origin: &str, stitches: u16) -> String {
    format!("{origin} {stitches}")
}

/// An open edge of the flap.
pub(crate) fn say_edge(loops: u16) -> String {
    match loops {
        0 => "open edge of the flap".to_owned(),
        1 => "open edge of the flap, 1 stitch to pick up".to_owned(),
        n => format!("open edge of the flap, {n} stitches to pick up"),
    }
}

/// So many stitches.
pub(crate) fn say_stitches(n: u16) -> String {
    if n == 1 {
        "1 stitch".to_owned()
    } else {
        format!("{n} stitches")
    }
}

/// Where the yarn hangs.
pub(crate) fn say_tip(number: Option<usize>, before: Option<&str>) -> String {
    match (number, before) {
        (Some(n), None) => format!("The yarn is at the beginning of needle {n}."),
        (Some(n), Some(what)) => format!("The yarn is on needle {n}, after {what}."),
        (None, None) => "The yarn is at the beginning.".to_owned(),
        (None, Some(what)) => format!("The yarn is after {what}."),
    }
}
