//! Measure: the form, and what it says of a whole sock.

mod arrival;
pub(crate) mod choices;
mod foot;
mod leg;
mod motif;
pub(crate) mod numbers;
mod outcome;
mod wrong;
mod yarn;

use evenloop_engine::plan::{Caution, Outcome, SectionKind};
use evenloop_engine::text::{Typed, Wording};

pub(crate) use self::arrival::*;
pub(crate) use self::foot::*;
pub(crate) use self::leg::*;
pub(crate) use self::motif::*;
pub(crate) use self::outcome::*;
pub(crate) use self::wrong::*;
pub(crate) use self::yarn::*;
use crate::text::Sentence;

pub(crate) const TITLE: &str = "Measure";
pub(crate) const LEAD: &str = "A foot, a swatch, a few choices.";
pub(crate) const TO_PATTERN: &str = "Follow a pattern of your own instead";
pub(crate) const NAME: &str = "What to call this pair";
pub(crate) const NAME_HINT: &str = "Whose feet, which yarn: whatever tells it from the others.";
pub(crate) const FIRST_NAME: &str = "Everyday socks";
pub(crate) const AFRESH: &str = "Clear the form";
pub(crate) const DIRECTION_STEP: &str = "Which end first";
pub(crate) const HEEL: &str = "Heel";
pub(crate) const TOE: &str = "Toe";
pub(crate) const NEEDLES: &str = "Needles";
pub(crate) const FIT: &str = "Fit";
pub(crate) const FIT_LEAD: &str =
    "These suit most plain socks. Change them if you know that you like it otherwise.";
pub(crate) const THIS_FOOT: &str = "This foot has";

pub(crate) const KNIT_ON: &str = "Continue knitting";
pub(crate) const ANOTHER: &str = "Fill in the same for another pair";
pub(crate) const FOR_ANOTHER: &str = "Below you plan another pair.";

/// The pair in hand: which sock, and where it is.
pub(crate) fn in_hand(name: &Typed, sock: u8, place: &str) -> String {
    let which = if sock == 2 { "second" } else { "first" };
    format!("On the needles: {name}, {which} sock. Next: {place}.")
}

/// The pair in hand, whose socks are off the needles.
pub(crate) fn in_hand_finished(name: &Typed) -> String {
    format!("{name}: finished.")
}

/// Its recipe was put in the form.
pub(crate) fn another_taken(name: &Typed) -> String {
    format!("Filled in as for {name}. Change what is to be different.")
}

pub(crate) const BEGUN_TITLE: &str = "Change the rest of the sock";
pub(crate) const BEGUN_HEAD: &str =
    "What is knitted stays as it is. The rest of the sock follows what you change here.";
pub(crate) const BEGUN: &str = "The sock on the needles";
pub(crate) const BEGUN_LEAD: Sentence = Sentence::Worded(|wording| {
    let gauge = wording.english.gauge();
    format!(
        "More rounds or fewer, here or by the lengths below. A {gauge} measured in the sock goes into the swatch’s lines."
    )
});
/// Said where the gauge was a guess.
pub(crate) const BEGUN_GUESS: Sentence = Sentence::Worded(|wording| {
    format!(
        "The {} was a first guess. The sock is your swatch now: choose “{}” below and put in what you measured on it.",
        wording.english.gauge(),
        choices::BY_SWATCH.name
    )
});
pub(crate) const CHANGES: &str = "What will be different:";
pub(crate) const NO_CHANGE: &str = "Nothing is different yet.";
pub(crate) const OTHER_STAYS: &str =
    "The other sock is too far on for this: it is knitted as it was planned.";
pub(crate) const CHANGE_REST: &str = "Use these changes";
pub(crate) const NOT_OPENED: &str =
    "This sock could not be opened for a change. It goes on as it was; nothing is lost.";

/// Which sock of a pair, and where it is.
pub(crate) fn begun(name: &Typed, sock: u8, place: &str) -> String {
    let which = if sock == 2 { "second" } else { "first" };
    format!("{name}, {which} sock: {place} comes next.")
}

/// How much will be different, in a line.
pub(crate) fn differences(count: usize) -> String {
    match count {
        0 => "No change yet".to_owned(),
        1 => "1 change".to_owned(),
        _ => format!("{count} changes"),
    }
}

/// What a stepper counts.
pub(crate) const fn rounds_of(kind: SectionKind) -> &'static str {
    match kind {
        SectionKind::Leg => "Rounds of the leg",
        _ => "Rounds of the foot",
    }
}

pub(crate) const CAST_ON: &str = "Cast on";
pub(crate) const SEE_PLAN: &str = "See the plan: ";
pub(crate) const WILL_NOT_LAST: &str = "This window stores nothing (a private window, or storage is switched off). You can knit along, but everything is forgotten when it closes.";
pub(crate) const FULL: &str = "There is no room left on this device for another pair. Save a backup in Settings, then take finished pairs out of the basket. What you typed here is still here.";
/// The sock was counted on, or planned anew, in another window meanwhile.
pub(crate) const ELSEWHERE: &str = "This sock has moved on in another window. Nothing was changed. The form now starts from where the sock is: please check it, then use the changes again.";
pub(crate) const REFUSED: &str =
    "The browser did not store the pair. What you typed here is still here; please try again.";

/// One line that says the whole sock, for the bar at hand: its stitches, and how wide it is.
pub(crate) fn at_hand(outcome: &Outcome, wording: Wording) -> (String, String) {
    let width = outcome.circumference.show(wording.unit);
    let guessed = if outcome.cautions.contains(&Caution::GaugeGuessed) {
        ", a first guess"
    } else {
        ""
    };
    (
        format!("{} stitches", outcome.stitches),
        format!("{width} around{guessed}"),
    )
}

/// The fit in a few words: ease in percent, along the foot, stitches where they are given, and what is
/// special about the foot.
pub(crate) fn fit_now(
    ease: &str,
    length_ease: &str,
    stitches: &str,
    shape: impl Iterator<Item = &'static str>,
) -> String {
    let ease = ease.trim_end_matches([' ', '%']);
    let mut now = if stitches.is_empty() {
        format!("{ease}% smaller, {length_ease} shorter")
    } else {
        format!("{stitches} stitches; {length_ease} shorter")
    };
    for one in shape {
        now = two(&now, one);
    }
    now
}

/// Two choices in a few words.
pub(crate) fn two(first: &str, second: &str) -> String {
    format!("{first}; {}", second.to_ascii_lowercase())
}
