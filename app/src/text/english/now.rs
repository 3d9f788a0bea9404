//! Now, and the list of rounds it shares with Map.

use evenloop_engine::needle_size::Needle;
use evenloop_engine::needles::Facing;
use evenloop_engine::plan::StepForm;
use evenloop_engine::reach::ReachFrom;
use evenloop_engine::stitch::Yarn;
use evenloop_engine::text::{English, Typed, Wording};
use evenloop_engine::together::{Sock, WhoseTurn};
use evenloop_engine::trace::{ProgressUnit, SectionProgress};
use evenloop_engine::units::{Length, LengthUnit};

pub(crate) const WAKING: &str = "Picking up your knitting …";
pub(crate) const NO_PAIR: &str = "Choose a pair to knit";
pub(crate) const NO_PAIR_TEXT: &str =
    "Choose one in the basket, or measure for a new one. Then every round waits for you here.";
pub(crate) const TO_BASKET: &str = "Open the basket";
pub(crate) const TO_MEASURE: &str = "Measure for a pair";
pub(crate) const TO_MAP: &str = "See it on the map";
pub(crate) const TO_SETTINGS: &str = "Open Settings";
pub(crate) const SHUT: &str = "This pair cannot be opened";

pub(crate) const UNDO: &str = "Undo";
/// The way in which a chart is read is the way in which stitches are knitted.
pub(crate) fn chart_label(wording: Wording) -> String {
    let (right, left) = (wording.hand.right(), wording.hand.left());
    format!("The pattern’s chart, read from {right} to {left} and from the bottom up")
}
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
pub(crate) const MORE: &str = "Check and note";
/// Goes on the name of that button, for the ear.
pub(crate) const MORE_SPOKEN: &str = ": count, yarn, all rounds, two at a time";
/// What may be said for each thing that is asked for, in small letters and without marks.
pub(crate) const SPOKEN_DONE: [&str; 2] = ["done", "round done"];
pub(crate) const SPOKEN_UNDO: [&str; 3] = ["back", "go back", "undo"];
pub(crate) const SPOKEN_WHERE: [&str; 2] = ["where am i", "where was i"];
pub(crate) const LISTENING: &str = "Listening";
pub(crate) const LISTENING_REFUSED: &str = "This page may not use the microphone, so it does not listen. The browser’s settings for this site decide it.";
pub(crate) const LISTENING_SILENT: &str =
    "Evenloop cannot hear you: the microphone or the signal is missing. It keeps trying.";
pub(crate) const BOUNCED: &str = "Double touch: counted once";
pub(crate) const THEN: &str = "Then";
pub(crate) const STITCHES_AFTER: &str = "stitches after it";
/// Under such a count, for the eye.
pub(crate) const AFTER: &str = "after";
/// Where nothing is worked on a needle and only its count is told.
pub(crate) const ON_IT: &str = "on this needle";
pub(crate) const INSTRUCTIONS: &str = "What to do";
/// Before a line of the knitter's own pattern, for the ear.
pub(crate) const TYPED: &str = "In your pattern: ";

/// What was found in the line of the pattern that is worked.
pub(crate) fn found_here(found: &str) -> String {
    format!("Found in this line: {found}")
}

/// Said of a line that is worked by the pattern's own words.
pub(crate) fn count_here(stitches: u16) -> String {
    match stitches {
        1 => "You should have one stitch when this is done. Count before you go on.".to_owned(),
        n => format!("You should have {n} stitches when this is done. Count before you go on."),
    }
}

pub(crate) const SEEN: &str = "OK";
/// Opens what has to be said, where so many things have.
pub(crate) fn notes_read(many: usize) -> String {
    match many {
        0 | 1 => "Read".to_owned(),
        more => format!("Read all {more}"),
    }
}
pub(crate) const NOTES_CLOSE: &str = "Close";
pub(crate) const SECTION_DONE: &str = "How much of this section is done";

pub(crate) const FIRST_DONE: &str = "The first sock is knitted";
pub(crate) const FIRST_DONE_TEXT: &str = "Weave in its ends now or later. The second one follows it as you knitted it: its rounds, what you changed, your notes.";
pub(crate) const SECOND: &str = "Cast on the second sock";
pub(crate) const PAIR_DONE: &str = "The pair is knitted";
pub(crate) const PAIR_DONE_TEXT: &str = "Both socks are off the needles. A wash evens out the stitches; the plan and everything you counted stay in the basket.";

/// So many rounds and rows of what is finished.
pub(crate) fn rounds_knitted(rounds: usize) -> String {
    format!("{rounds} rounds and rows")
}

/// The time it took.
pub(crate) fn time_knitted(spent: &str) -> String {
    format!("{spent} of knitting")
}

/// The yarn in it.
pub(crate) fn yarn_knitted(length: &str) -> String {
    format!("About {length} of yarn")
}

pub(crate) const IMAGE: &str = "Save or send a picture";
pub(crate) const NO_IMAGE: &str = "No picture could be made. Touch again once there is signal.";

/// What the file of an image is called, on a day such as 2026-11-25.
pub(crate) fn image_file(day: &str) -> String {
    format!("socks-{day}.png")
}

pub(crate) const HOW: &str = "How it is worked";

/// Asks how some hard moves are worked.
pub(crate) fn how(hard: &[&str]) -> String {
    format!("{HOW}: {}", hard.join(", "))
}

/// What is finished with this sock.
pub(crate) const fn finished(sock: Sock) -> &'static str {
    match sock {
        Sock::First => FIRST_DONE,
        Sock::Second => PAIR_DONE,
    }
}

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
pub(crate) const fn whose(turn: WhoseTurn) -> &'static str {
    match turn {
        WhoseTurn::Both => BOTH,
        WhoseTurn::InTurn(one) | WhoseTurn::CatchUp(one) => sock(one),
    }
}

/// In which order two socks at a time are worked in this round or row, or why only one is; `until` is
/// where the other one waits.
pub(crate) fn turn(turn: WhoseTurn, form: StepForm, until: &str, english: English) -> String {
    match (turn, form) {
        (WhoseTurn::Both, StepForm::Row(Facing::RightSide)) => {
            let ball = english.ball();
            format!("Right side: the first sock, then the second, each with its own {ball}.")
        }
        (WhoseTurn::Both, StepForm::Row(Facing::WrongSide)) => {
            "Wrong side: the second sock, then the first.".to_owned()
        }
        (WhoseTurn::Both, _) => {
            "Needle 1: the first sock, then the second. Needle 2: the second, then the first."
                .to_owned()
        }
        (WhoseTurn::InTurn(Sock::First), _) => "The first sock alone; the second waits.".to_owned(),
        (WhoseTurn::InTurn(Sock::Second), _) => {
            "The second sock alone; the first waits.".to_owned()
        }
        (WhoseTurn::CatchUp(Sock::First), _) => {
            format!("The first sock is behind: work it alone as far as {until}.")
        }
        (WhoseTurn::CatchUp(Sock::Second), _) => {
            format!("The second sock is behind: work it alone as far as {until}.")
        }
    }
}

/// What is said of another sock before what it does.
pub(crate) fn on_sock(turn: WhoseTurn, text: &str) -> String {
    format!("{}: {text}", whose(turn))
}

pub(crate) const OFFER: &str = "Both socks at once?";

/// What the number on the pad counts, for the ear.
pub(crate) const fn step_spoken(form: StepForm) -> &'static str {
    match form {
        StepForm::Round => "Round ",
        StepForm::Row(_) => "Row ",
        StepForm::Walk => "Step ",
    }
}

/// What a touch of the pad says; `of` is how many there are.
pub(crate) fn pad(form: StepForm, of: usize) -> String {
    match form {
        StepForm::Round => format!("of {of} · touch after the round"),
        StepForm::Row(_) => format!("of {of} · touch after the row"),
        StepForm::Walk if of == 1 => "of 1 step · touch when done".to_owned(),
        StepForm::Walk => format!("of {of} steps · touch when done"),
    }
}

/// What a touch of the pad says where it counts a needle; `of` is how many rounds there are.
pub(crate) fn pad_needle(needle: usize, of: usize) -> String {
    format!("of {of} · touch after needle {needle}")
}

/// How long the knitting is by the rounds that are done, and how long it is to be: "3.2 of 16 cm".
pub(crate) fn long(done: Length, due: Length, unit: LengthUnit) -> String {
    let [done, due] = [done, due].map(|length| length.show(unit));
    // The unit stands once.
    let number = done.split('\u{a0}').next().unwrap_or_default();
    format!("{number} of {due}")
}

/// Where that length begins, for the ear and for whoever lays a tape to it.
pub(crate) const fn long_from(from: ReachFrom) -> &'static str {
    match from {
        ReachFrom::CastOnEdge => " from the cast-on edge",
        ReachFrom::BackOfHeel => " from the back of the heel",
        ReachFrom::TipOfToe => " from the tip of the toe",
        ReachFrom::AboveHeel => " above the heel",
        ReachFrom::BeginningOfPart => " of this section",
    }
}

pub(crate) const SEVERAL: &str = "Count several at once";
/// So many rounds or rows at once.
pub(crate) fn several(rounds: usize) -> String {
    format!("+{rounds}")
}
pub(crate) const NONE_AT_ONCE: &str = "Cancel";

/// What comes next where it is the same again.
pub(crate) const fn next_same(form: StepForm) -> &'static str {
    match form {
        StepForm::Round => "the same round again",
        StepForm::Row(_) => "the same row again",
        StepForm::Walk => "the same again",
    }
}

/// What comes next where another section begins; `text` is what to do there.
pub(crate) fn next_section(section: &str, text: &str) -> String {
    format!("{section}: {text}")
}

/// What comes next, by its name: "Round 12 of 20, decrease round".
pub(crate) fn next_in_brief(heading: &str, shape: Option<&str>) -> String {
    match shape {
        Some(shape) => format!("{heading}, {shape}"),
        None => heading.to_owned(),
    }
}

/// What comes next after the last move.
pub(crate) const NEXT_NOTHING: &str = "the sock is finished";

pub(crate) const EACH_SOCK: &str = "Each sock";
pub(crate) const WHICH_NEEDLE: &str = "Needle shown";
/// A needle, by its number.
pub(crate) fn needle(number: u8) -> String {
    format!("Needle {number}")
}

/// The needle's number, for the ear.
pub(crate) fn needle_spoken(number: u8) -> String {
    format!("Needle {number}:")
}

/// A needle that is done, by its number, for the ear.
pub(crate) fn needle_done_spoken(number: u8) -> String {
    format!("Needle {number}, done:")
}

/// The needle that is worked now, by its number, for the ear.
pub(crate) fn needle_now_spoken(number: u8) -> String {
    format!("Needle {number}, now:")
}

/// Which sock is told of next, or whose turn it is, for the ear.
pub(crate) fn aloud_of(sock: Sock) -> String {
    format!("{}:", self::sock(sock))
}

/// A few words that are said as a sentence.
pub(crate) fn aloud(words: &str) -> String {
    format!("{words}.")
}

/// Where the work is.
pub(crate) fn aloud_place(section: &str, heading: &str) -> String {
    format!("{section}. {heading}.")
}

/// What to do on a needle, and how many stitches are on it afterwards. `text` may be empty, where
/// nothing is worked on it.
pub(crate) fn aloud_line(needle: Option<u8>, text: &str, after: u16) -> String {
    let needle = needle.map_or_else(String::new, |n| format!("Needle {n}: "));
    let comma = if text.is_empty() { "" } else { ", " };
    let stitches = if after == 1 { "stitch" } else { "stitches" };
    format!("{needle}{text}{comma}{after} {stitches}.")
}

/// The same round or row once more, with what is on each needle afterwards.
pub(crate) fn aloud_again(heading: &str, after: &[String]) -> String {
    format!(
        "{heading}. The same again: {} stitches.",
        after.join(" and ")
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
        ProgressUnit::Rounds => "round",
        ProgressUnit::Rows => "row",
        ProgressUnit::Moves => "step",
    };
    let many = if progress.of == 1 { "" } else { "s" };
    format!("{} of {} {unit}{many}", progress.done, progress.of)
}

/// Rounds told together, by their numbers.
pub(crate) fn round_numbers(form: StepForm, numbers: &[usize]) -> String {
    let (one, many) = match form {
        StepForm::Row(_) => ("Row", "Rows"),
        StepForm::Round | StepForm::Walk => ("Round", "Rounds"),
    };
    match numbers {
        [] => String::new(),
        [n] => format!("{one} {n}"),
        [a, b] => format!("{many} {a} and {b}"),
        [a, b, .., z] if b - a == 1 => format!("{many} {a} to {z}"),
        [a, b, .., z] => format!("{many} {a}, {b} … {z}"),
    }
}

/// What is done in the rounds of that name.
pub(crate) fn numbered_text(name: &str, text: &str) -> String {
    format!("{name}: {text}")
}

/// One move of a walk.
pub(crate) fn move_number(number: usize) -> String {
    format!("Step {number}")
}

/// What should be on the needles at another place, where anything is; `back` where it lies behind.
pub(crate) fn needles_there(needles: Option<&str>, back: bool) -> String {
    match (needles, back) {
        (Some(needles), true) => {
            format!("Rip back or unpick to there, and put the stitches back like this: {needles}.")
        }
        (Some(needles), false) => format!("On the needles there: {needles}."),
        (None, true) => "Rip all of it out; the cast-on comes next.".to_owned(),
        (None, false) => "Nothing is left on the needles there.".to_owned(),
    }
}

/// What lies between here and there.
pub(crate) fn between(back: bool, parts: &str) -> String {
    if back {
        format!("That undoes {parts}.")
    } else {
        format!("That skips {parts}.")
    }
}

/// A note as it was typed.
pub(crate) fn note(note: &Typed) -> String {
    format!("“{note}”")
}

/// What was weighed, of one of several yarns or of the only one.
pub(crate) fn weighed(grams: &str, yarn: Option<Yarn>) -> String {
    let letter = yarn.map_or(String::new(), |yarn| format!(" {}", yarn.letter()));
    format!("{grams} of yarn{letter} left")
}

/// All that was noted and weighed at one place.
pub(crate) fn noted(parts: &[String]) -> String {
    parts.join(", ")
}

/// What was noted at the move at hand.
pub(crate) fn noted_here(noted: &str) -> String {
    format!("Noted here: {noted}")
}

/// What was noted on one of two socks at a time, at the move at hand.
pub(crate) fn noted_here_on(of: Sock, noted: &str) -> String {
    format!("{}, noted here: {noted}", sock(of))
}

/// What was noted on the first sock at the move at hand.
pub(crate) fn noted_here_on_first(noted: &str) -> String {
    format!("On the first sock you noted here: {noted}")
}

/// Where the first sock went another way.
pub(crate) fn first_went(jump: &str) -> String {
    format!("On the first sock you changed your place here. {jump}")
}

/// What was noted, in a list of rounds.
pub(crate) fn noted_at(place: &str, noted: &str) -> String {
    format!("Before {place}: {noted}")
}

/// What was noted on the first sock, in a list of rounds.
pub(crate) fn noted_on_first_at(place: &str, noted: &str) -> String {
    format!("First sock, before {place}: {noted}")
}

/// What became of touches that were made before the app was awake, where the sock is not any more where they were
/// made.
pub(crate) fn early_touches(touches: usize) -> String {
    match touches {
        1 => "The last touch was made before this page was ready, and the sock was somewhere else by then. It was not counted: please look which round you are in.".to_owned(),
        n => format!(
            "The last {n} touches were made before this page was ready, and the sock was somewhere else by then. They were not counted: please look which round you are in."
        ),
    }
}

/// Why nothing can be stored just now; counting goes on.
pub(crate) const NOT_STORED_DENIED: &str = "This browser stores nothing here. Counting goes on, but it is forgotten when this window closes.";
pub(crate) const NOT_STORED_FULL: &str = "The device has no room left to store your rounds. Counting goes on; save a backup in Settings, or take a finished pair out of the basket to make room.";
pub(crate) const NOT_STORED_TAKEN_OUT: &str = "This pair was taken out of the basket in another window. Counting goes on here, but is not stored.";
pub(crate) const NOT_STORED_BEHIND: &str =
    "Another window is counting this sock too. Please go on in one of them.";
pub(crate) const NOT_STORED_NEWER: &str = "A newer Evenloop counts this sock in another window. Please go on there, or load this page again.";
pub(crate) const NOT_STORED: &str = "Your last touches could not be stored. Counting goes on in this window; the next touch tries again.";

/// What was lost of a log when the pair was opened, and how many touches before it were kept.
pub(crate) fn log_damaged(kept: usize) -> String {
    let before = match kept {
        0 => "nothing came before it".to_owned(),
        1 => "one touch before it was kept".to_owned(),
        n => format!("{n} touches before it were kept"),
    };
    format!(
        "A part of this pair’s log could not be read. It was set aside, not erased; {before}. Look where you really are before you knit on."
    )
}
/// Anything else of the pair was lost.
pub(crate) const MENDED: &str = "Something stored for this pair was damaged and has been repaired.";
pub(crate) const OTHER_PLAN: &str = "The rest of this sock is not planned as it was when you counted last. Please look at the round you are on and at the Map before you knit on; a backup, brought back in Settings, may have the plan you expect.";

/// Why a pair does not open.
pub(crate) const SHUT_DENIED: &str = "The browser gives no access to what is stored here. In an ordinary window your pairs are where you left them.";
pub(crate) const SHUT_TAKEN_OUT: &str = "It is no longer in the basket.";
pub(crate) const SHUT_DAMAGED: &str = "Its plan is damaged and cannot be read. Nothing was erased: Settings puts it in the backup as it is.";
pub(crate) const SHUT_NEWER: &str = "It was stored by a newer Evenloop. Once this device has that one, it opens again; nothing was changed.";
pub(crate) const SHUT_JUST_NOW: &str = "It could not be opened just now. Nothing was changed.";
