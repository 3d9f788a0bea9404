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
    text::now::aloud_line(line.needle, &without_stars(&line.text), line.count_after)
}

/// An instruction without the stars between which a repeat is written: nobody says them.
fn without_stars(instruction: &str) -> String {
    let mut parts = instruction.split('*');
    let mut told = parts.next().unwrap_or_default().to_owned();
    for (n, part) in parts.enumerate() {
        if n % 2 == 0 {
            let (opening, rest) = part.split_at(part.chars().next().map_or(0, char::len_utf8));
            told.push_str(if told.is_empty() {
                text::now::REPEAT_CAPITAL
            } else {
                text::now::REPEAT
            });
            told.push_str(&opening.to_lowercase());
            told.push_str(rest);
        } else {
            told.push_str(part);
        }
    }
    told
}

#[cfg(test)]
#[cfg(not(feature = "made-up-language"))]
mod tests {
    use super::*;

    #[test]
    fn stars_of_a_repeat_are_not_said() {
        assert_eq!(
            without_stars("*Slip 1, knit 1* to the end of the row, turn"),
            "Repeat slip 1, knit 1 to the end of the row, turn"
        );
        assert_eq!(
            without_stars("knit 1, *yo, k2tog* twice"),
            "knit 1, repeat yo, k2tog twice"
        );
        assert_eq!(without_stars("Knit 14"), "Knit 14");
        assert_eq!(without_stars("*"), "Repeat ");
    }
}
