//! The move at hand for the ear: made of the same instructions that are shown.

use evenloop_engine::text::{Instructions, Line};
use evenloop_engine::together::{Sock, WhoseTurn};

use crate::text;

/// The move at hand, as one knitter would tell another. Of two socks at a time it is said whose turn it
/// is, and what the second does where it is not the same.
pub(super) fn move_at_hand(
    all: &Instructions,
    turn: Option<WhoseTurn>,
    beside: Option<&Instructions>,
) -> String {
    let mut told: Vec<String> = whose(turn).into_iter().collect();
    told.push(text::now::aloud_place(all.section, &all.heading));
    told.extend(all.shape.iter().map(|shape| text::now::aloud(shape)));
    if all.move_of.is_some() {
        told.extend(all.note.clone());
    }
    if beside.is_some() {
        told.push(text::now::aloud_of(Sock::First));
    }
    told.extend(all.lines.iter().map(line));
    if let Some(second) = beside {
        told.push(text::now::aloud_of(Sock::Second));
        told.extend(second.lines.iter().map(line));
    }
    told.join(" ")
}

/// What is done on one needle of the round at hand, the `nth` from 0; of two socks at a time, by each where it is
/// not the same.
pub(super) fn needle_at_hand(
    all: &Instructions,
    beside: Option<&Instructions>,
    nth: usize,
) -> String {
    let of = |all: &Instructions| all.lines.get(nth).map(line).unwrap_or_default();
    match beside {
        None => of(all),
        Some(second) => [
            text::now::aloud_of(Sock::First),
            of(all),
            text::now::aloud_of(Sock::Second),
            of(second),
        ]
        .join(" "),
    }
}

/// The move at hand where it is the one that was just done: the same round or row once more.
pub(super) fn same_again(all: &Instructions, turn: Option<WhoseTurn>) -> String {
    let after: Vec<String> = all
        .lines
        .iter()
        .map(|line| line.count_after.to_string())
        .collect();
    let again = text::now::aloud_again(&all.heading, &after);
    let told: Vec<String> = whose(turn).into_iter().chain([again]).collect();
    told.join(" ")
}

fn whose(turn: Option<WhoseTurn>) -> Option<String> {
    turn.map(|turn| text::now::aloud(text::now::whose(turn)))
}

fn line(line: &Line) -> String {
    text::now::aloud_line(line.needle, &line.text, line.count_after)
}
