//! Now, and the list of rounds it shares with Map.

use evenloop_engine::journal::Remark;
use evenloop_engine::needle_size::Needle;
use evenloop_engine::needles::Facing;
use evenloop_engine::plan::Form;
use evenloop_engine::together::{Sock, Turn};
use evenloop_engine::trace::{Counted, SectionProgress};
use evenloop_engine::words::{self, Instructions, Line, Technique, Way};

use crate::store::{Part, StoreError};

pub(crate) const TITLE: &str = "Now";
pub(crate) const WAKING: &str = "Picking up your knitting ...";
pub(crate) const NO_PAIR: &str = "Take a pair in hand";
pub(crate) const NO_PAIR_TEXT: &str =
    "Choose one in the basket, or measure for a new one. Then every round waits for you here.";
pub(crate) const TO_BASKET: &str = "Open the basket";
pub(crate) const TO_MEASURE: &str = "Measure for a pair";
pub(crate) const TO_MAP: &str = "See it on the map";
pub(crate) const TO_KEEP: &str = "Open Keep";
pub(crate) const SHUT: &str = "This pair does not open";

pub(crate) const UNDO: &str = "Undo";
pub(crate) const CHART: &str =
    "The pattern’s chart, read from right to left and from the bottom up";
/// Which of the chart's rounds, counted from 0, is worked now.
pub(crate) fn chart(round: Option<usize>) -> String {
    round.map_or_else(
        || "No round of the pattern is worked just now.".to_owned(),
        |round| format!("Round {} of the pattern is worked now.", round + 1),
    )
}
/// The pattern's round that is worked now, for the ear.
pub(crate) fn strip(round: u16, row: &str) -> String {
    format!("Round {round} of the pattern: {row}")
}
pub(crate) const AROUND: &str = "Look around";
pub(crate) const PAUSE: &str = "Check";
/// Goes on the name of that button, for the ear.
pub(crate) const PAUSE_MORE: &str = " and note";
pub(crate) const AGAIN: &str = "Touched twice, counted once";
pub(crate) const THEN: &str = "Then";
pub(crate) const STITCHES_AFTER: &str = "stitches after it";
/// Where nothing is worked on a needle and only its count is told.
pub(crate) const ON_IT: &str = "on this needle";
pub(crate) const INSTRUCTIONS: &str = "What to do";
pub(crate) const SEEN: &str = "Seen";
pub(crate) const SECTION_DONE: &str = "How much of this section is done";

pub(crate) const FIRST_DONE: &str = "The first sock is knitted";
pub(crate) const FIRST_DONE_TEXT: &str = "Weave in its ends now or later. The second one follows it as you knitted it: its rounds, what you changed, your notes.";
pub(crate) const SECOND: &str = "Cast on the second sock";
pub(crate) const PAIR_DONE: &str = "The pair is knitted";
pub(crate) const PAIR_DONE_TEXT: &str = "Both socks are off the needles. A wash evens out the stitches; the plan and everything you counted stay in the basket.";

pub(crate) const HOW: &str = "How it is worked";

/// Asks how some hard moves are worked.
pub(crate) fn how(hard: &[Technique]) -> String {
    let names: Vec<&str> = hard.iter().map(|one| one.name()).collect();
    format!("{HOW}: {}", names.join(", "))
}

/// What is finished with this sock.
pub(crate) const fn finished(sock: Sock) -> &'static str {
    match sock {
        Sock::First => FIRST_DONE,
        Sock::Second => PAIR_DONE,
    }
}

pub(crate) const AROUND_CLOSE: &str = "Back to the needles";
pub(crate) const HERE_ALREADY: &str = "This is where you are.";
pub(crate) const GO: &str = "Go there";
pub(crate) const GO_BOTH: &str = "Both socks go there";

/// Only the sock that is looked at changes its place.
pub(crate) const fn go_alone(sock: Sock) -> &'static str {
    match sock {
        Sock::First => "Only the first sock",
        Sock::Second => "Only the second sock",
    }
}
pub(crate) const NOT_THERE: &str = "Stay here";
pub(crate) const HERE_SAFE: &str =
    "The place you came from stays in the log. Undo brings you back to it.";
pub(crate) const YOU_ARE_HERE: &str = "you are here";
pub(crate) const IS_DONE: &str = "done";
pub(crate) const IS_NOTED: &str = ", with a note";

/// Which sock.
pub(crate) const fn sock(sock: Sock) -> &'static str {
    match sock {
        Sock::First => "First sock",
        Sock::Second => "Second sock",
    }
}

pub(crate) const BOTH: &str = "Both socks";

/// Which sock, or both, the next touch counts for.
pub(crate) const fn whose(turn: Turn) -> &'static str {
    match turn {
        Turn::Both => BOTH,
        Turn::InTurn(one) | Turn::CatchUp(one) => sock(one),
    }
}

/// In which order two socks at a time are worked in this round or row, or why only one is; `until` is
/// where the other one waits.
pub(crate) fn turn(turn: Turn, form: Form, until: &str) -> String {
    match (turn, form) {
        (Turn::Both, Form::Row(Facing::RightSide)) => {
            "Right side: the first sock, then the second, each with its own ball.".to_owned()
        }
        (Turn::Both, Form::Row(Facing::WrongSide)) => {
            "Wrong side: the second sock, then the first.".to_owned()
        }
        (Turn::Both, _) => {
            "Needle 1: the first sock, then the second. Needle 2: the second, then the first."
                .to_owned()
        }
        (Turn::InTurn(Sock::First), _) => "The first sock alone; the second waits.".to_owned(),
        (Turn::InTurn(Sock::Second), _) => "The second sock alone; the first waits.".to_owned(),
        (Turn::CatchUp(Sock::First), _) => {
            format!("The first sock is behind: work it alone as far as {until}.")
        }
        (Turn::CatchUp(Sock::Second), _) => {
            format!("The second sock is behind: work it alone as far as {until}.")
        }
    }
}

/// What is said of another sock before what it does.
pub(crate) fn on_sock(turn: Turn, text: &str) -> String {
    format!("{}: {text}", whose(turn))
}

pub(crate) const OFFER: &str = "Both socks at once?";

/// What the pad does.
pub(crate) fn pad(form: Form, number: usize) -> String {
    match form {
        Form::Round => format!("Round {number} done"),
        Form::Row(_) => format!("Row {number} done"),
        Form::Walk => format!("Move {number} done"),
    }
}

/// What comes after this; `text` is what to do there.
pub(crate) enum Next {
    /// The same again.
    Same(Form),
    /// Something else in this section.
    Other(String),
    /// Another section.
    Section(&'static str, String),
    /// Nothing: the sock is finished.
    End,
}

pub(crate) fn next(next: &Next) -> String {
    match next {
        Next::Same(Form::Round) => "another round of the same".to_owned(),
        Next::Same(Form::Row(_)) => "another row of the same".to_owned(),
        Next::Same(Form::Walk) => "the same once more".to_owned(),
        Next::Other(text) => text.clone(),
        Next::Section(section, text) => format!("{section}: {text}"),
        Next::End => "the sock is finished".to_owned(),
    }
}

/// How a line begins, spoken.
fn needle(line: &Line) -> String {
    line.needle
        .map_or_else(String::new, |n| format!("Needle {n}: "))
}

/// The needle's number, for the ear.
pub(crate) fn needle_spoken(number: u8) -> String {
    format!("Needle {number}:")
}

/// The move at hand, as one knitter would tell another. Of two socks at a time it is said whose turn it
/// is, and what the second does where it is not the same.
pub(crate) fn aloud(
    all: &Instructions,
    turn: Option<Turn>,
    beside: Option<&Instructions>,
) -> String {
    let mut told: Vec<String> = turn
        .map(|turn| format!("{}.", whose(turn)))
        .into_iter()
        .collect();
    told.push(format!("{}. {}.", all.section, all.heading));
    told.extend(all.shape.map(|shape| format!("{shape}.")));
    if all.move_of.is_some() {
        told.extend(all.note.clone());
    }
    if beside.is_some() {
        told.push(format!("{}:", sock(Sock::First)));
    }
    told.extend(all.lines.iter().map(line_aloud));
    if let Some(second) = beside {
        told.push(format!("{}:", sock(Sock::Second)));
        told.extend(second.lines.iter().map(line_aloud));
    }
    told.join(" ")
}

fn line_aloud(line: &Line) -> String {
    let comma = if line.text.is_empty() { "" } else { ", " };
    let stitches = match line.count_after {
        1 => "stitch",
        _ => "stitches",
    };
    format!(
        "{}{}{comma}{} {stitches}.",
        needle(line),
        spoken(&line.text),
        line.count_after
    )
}

/// A text without the stars between which a repeat is written: nobody says them.
fn spoken(text: &str) -> String {
    let mut parts = text.split('*');
    let mut told = parts.next().unwrap_or_default().to_owned();
    for (n, part) in parts.enumerate() {
        if n % 2 == 0 {
            let (opening, rest) = part.split_at(part.chars().next().map_or(0, char::len_utf8));
            told.push_str(if told.is_empty() {
                "Repeat "
            } else {
                "repeat "
            });
            told.push_str(&opening.to_lowercase());
            told.push_str(rest);
        } else {
            told.push_str(part);
        }
    }
    told
}

/// The move at hand where it is the one that was just done: the same round or row once more.
pub(crate) fn again_aloud(all: &Instructions, turn: Option<Turn>) -> String {
    let whose = turn.map(|turn| format!("{}. ", whose(turn)));
    let counts: Vec<String> = all
        .lines
        .iter()
        .map(|l| l.count_after.to_string())
        .collect();
    format!(
        "{}{}. The same again: {} stitches.",
        whose.unwrap_or_default(),
        all.heading,
        counts.join(" and ")
    )
}

/// Said when something was taken back.
pub(crate) const TAKEN_BACK: &str = "Taken back.";
/// Said when the place was changed.
pub(crate) const GONE_TO: &str = "Your place has been changed.";

/// What both socks are knitted on.
pub(crate) fn needles(needle: Needle) -> String {
    format!("On needles of {needle}.")
}

/// How far a section is: "12 of 52 rounds".
pub(crate) fn progress(progress: &SectionProgress) -> String {
    let unit = match progress.counted {
        Counted::Rounds => "round",
        Counted::Rows => "row",
        Counted::Moves => "move",
    };
    let many = if progress.of == 1 { "" } else { "s" };
    format!("{} of {} {unit}{many}", progress.done, progress.of)
}

/// Rounds told together, by their numbers.
pub(crate) fn told(form: Form, numbers: &[usize]) -> String {
    let (one, many) = match form {
        Form::Row(_) => ("Row", "Rows"),
        Form::Round | Form::Walk => ("Round", "Rounds"),
    };
    match numbers {
        [] => String::new(),
        [n] => format!("{one} {n}"),
        [a, b] => format!("{many} {a} and {b}"),
        [a, b, .., z] if b - a == 1 => format!("{many} {a} to {z}"),
        [a, b, .., z] => format!("{many} {a}, {b} … {z}"),
    }
}

/// One move of a walk.
pub(crate) fn told_move(number: usize) -> String {
    format!("Move {number}")
}

/// What should be on the needles at another place.
pub(crate) fn needles_there(way: &Way) -> String {
    match (&way.needles, way.back) {
        (Some(needles), true) => format!(
            "Rip out as far as there, or unpick, and put the stitches back like this: {needles}."
        ),
        (Some(needles), false) => format!("On the needles there: {needles}."),
        (None, true) => "All of it is ripped out; the cast-on comes next.".to_owned(),
        (None, false) => "Nothing is left on the needles there.".to_owned(),
    }
}

/// What lies between here and there.
pub(crate) fn between(back: bool, parts: &str) -> String {
    if back {
        format!("It undoes {parts}.")
    } else {
        format!("It passes over {parts}.")
    }
}

/// What was noted and weighed, as it stands.
fn contents(remark: &Remark) -> String {
    let note = (!remark.note.is_empty()).then(|| format!("“{}”", remark.note));
    let weights = remark.weights().map(|(yarn, grams)| {
        let letter = yarn.map_or(String::new(), |yarn| format!(" {}", yarn.letter()));
        format!("{} of yarn{letter} left", words::grams(grams))
    });
    note.into_iter()
        .chain(weights)
        .collect::<Vec<_>>()
        .join(", ")
}

/// A remark at the move at hand.
pub(crate) fn remark(remark: &Remark) -> String {
    format!("Noted here: {}", contents(remark))
}

/// A remark on one of two socks at a time, at the move at hand.
pub(crate) fn remark_on(of: Sock, remark: &Remark) -> String {
    format!("{}, noted here: {}", sock(of), contents(remark))
}

/// A remark on the first sock at the move at hand.
pub(crate) fn first_remark(remark: &Remark) -> String {
    format!("On the first sock you noted here: {}", contents(remark))
}

/// Where the first sock went another way.
pub(crate) fn first_went(jump: &str) -> String {
    format!("The first sock went another way here. {jump}")
}

/// A remark in a list of rounds.
pub(crate) fn noted_at(place: &str, remark: &Remark) -> String {
    format!("Before {place}: {}", contents(remark))
}

/// A remark on the first sock in a list of rounds.
pub(crate) fn first_noted_at(place: &str, remark: &Remark) -> String {
    format!("First sock, before {place}: {}", contents(remark))
}

/// Why nothing can be stored just now; counting goes on.
pub(crate) fn not_stored(error: &StoreError) -> &'static str {
    match error {
        StoreError::Denied => {
            "This browser stores nothing here. Counting goes on, but it is forgotten when this window closes."
        }
        StoreError::Full => {
            "The device has no room left to store your rounds. Counting goes on; save a backup in Keep, or take a finished pair out of the basket to make room."
        }
        StoreError::NotThere => {
            "This pair was taken out of the basket in another window. Counting goes on here, but is not stored."
        }
        StoreError::Behind => {
            "Another window is counting this sock too. Please go on in one of them."
        }
        StoreError::Newer { .. } => {
            "A newer Evenloop counts this sock in another window. Please go on there, or load this page again."
        }
        StoreError::Damaged { .. } | StoreError::NotLoaded => {
            "Your last touches could not be stored. Counting goes on in this window; the next touch tries again."
        }
    }
}

/// What was lost of a log when the pair was opened.
pub(crate) fn lost(error: &StoreError) -> String {
    match error {
        StoreError::Damaged {
            what: Part::Log(_),
            kept,
        } => format!(
            "A part of this pair's log could not be read. It was set aside, not erased; {}. Look where you really are before you knit on.",
            before(*kept)
        ),
        _ => "Something stored for this pair was damaged and has been mended.".to_owned(),
    }
}

fn before(kept: usize) -> String {
    match kept {
        0 => "nothing came before it".to_owned(),
        1 => "one touch before it was kept".to_owned(),
        n => format!("{n} touches before it were kept"),
    }
}

/// Why a pair does not open.
pub(crate) const fn why_shut(error: &StoreError) -> &'static str {
    match error {
        StoreError::Denied => {
            "The browser gives no access to what is stored here. In an ordinary window your pairs are where you left them."
        }
        StoreError::NotThere => "It is no longer in the basket.",
        StoreError::Damaged { .. } => {
            "Its plan is damaged and cannot be read. Nothing was erased: Keep puts it in the backup as it is."
        }
        StoreError::Newer { .. } => {
            "It was stored by a newer Evenloop. Once this device has that one, it opens again; nothing was changed."
        }
        StoreError::Full | StoreError::Behind | StoreError::NotLoaded => {
            "It could not be opened just now. Nothing was changed."
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stars_of_a_repeat_are_not_said() {
        assert_eq!(
            spoken("*Slip 1, knit 1* to the end of the row, turn"),
            "Repeat slip 1, knit 1 to the end of the row, turn"
        );
        assert_eq!(
            spoken("knit 1, *yo, k2tog* twice"),
            "knit 1, repeat yo, k2tog twice"
        );
        assert_eq!(spoken("Knit 14"), "Knit 14");
        assert_eq!(spoken("*"), "Repeat ");
    }

    #[test]
    fn rounds_are_told_by_their_numbers() {
        let round = |numbers: &[usize]| told(Form::Round, numbers);
        assert_eq!(round(&[4]), "Round 4");
        assert_eq!(round(&[4, 5]), "Rounds 4 and 5");
        assert_eq!(round(&[3, 4, 5, 6]), "Rounds 3 to 6");
        assert_eq!(round(&[2, 4, 6]), "Rounds 2, 4 … 6");
    }
}
