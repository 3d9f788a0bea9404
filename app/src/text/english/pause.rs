//! What is done with the needles at rest: checks, notes, weighings, two at a time.

use evenloop_engine::stitch::Yarn;
use evenloop_engine::text::Wording;

use crate::text::Sentence;

pub(crate) const TITLE: &str = "Check and note";
pub(crate) const CLOSE: &str = "Back to the needles";

pub(crate) const ROUNDS: &str = "All rounds";
pub(crate) const ROUNDS_NOTE: &str =
    "Of this section, each with what is done in it. Go to another.";
pub(crate) const COUNT: &str = "Count check";
pub(crate) const COUNT_NOTE: &str =
    "Is what you count right? If not, what happened, and how to fix it.";
pub(crate) const LOST: &str = "Where was I";
pub(crate) const LOST_NOTE: &str =
    "Find your round by the stitches and by what the knitting shows.";
pub(crate) const NOTE: &str = "Add a note to this round";
pub(crate) const NOTE_NOTE: &str = "For the second sock, or for yourself.";
pub(crate) const WEIGH: &str = "Weigh the yarn";
pub(crate) const WEIGH_NOTE: &str = "Will what is left do for this sock, and for the pair?";
pub(crate) const TOGETHER: &str = "Two at a time";
pub(crate) const TOGETHER_NOTE: &str =
    "Both socks on one long circular, or on two: one touch for a round of both.";
pub(crate) const CHANGE: &str = "Change the rest of the sock";

/// What changing the rest of the sock is for.
pub(crate) fn change_note(wording: Wording) -> String {
    format!(
        "Other needles, a longer foot, a {} measured in the sock: what is knitted stays.",
        wording.english.gauge()
    )
}

pub(crate) const COUNT_LEAD: &str = "Count before you begin the next round. What should be there is filled in; change what you count otherwise.";
pub(crate) const LOST_LEAD: &str = "Count the stitches where a round ends, and set what you find.";
pub(crate) const OR: &str = "Another possibility";
pub(crate) const FITS: &str = "Your count fits here";
pub(crate) const FITS_NEARLY: &str = "No round has exactly this count. These come close";
pub(crate) const FITS_NOWHERE: &str = "No round of this sock has such a count. Count once more, or go by what the knitting shows, below.";
pub(crate) const BY_SIGHT: &str = "By what the knitting shows";
pub(crate) const BY_SIGHT_LEAD: &str =
    "Choose the part you are in, count what it asks for, and take the round that comes out.";
pub(crate) const NEXT: &str = "Work this one next";
pub(crate) const NONE_SO: &str = "No place in this part shows that number.";
pub(crate) const ALL: &str = "All stitches";

pub(crate) const NOTE_LEAD: &str =
    "It is shown beside this round on the map, and again when the second sock gets here.";
pub(crate) const NOTE_KEEP: &str = "Save the note";
pub(crate) const NOTE_AWAY: &str = "Delete the note";

pub(crate) const WEIGH_LEAD: Sentence = Sentence::Worded(|wording| {
    let ball = wording.english.ball();
    format!(
        "Weigh all the yarn you are still knitting from, {ball} or cake, without the sock. Two weighings some rounds apart show how much your own knitting takes."
    )
});
pub(crate) const WEIGH_ONE_LEAD: Sentence = Sentence::Worded(|wording| {
    let ball = wording.english.ball();
    format!(
        "One yarn at a time: weigh all of it that you are still knitting from, {ball} or cake, without the sock. Two weighings some rounds apart show how much of it your own knitting takes."
    )
});
pub(crate) const WHICH_YARN: &str = "Which yarn is weighed";
pub(crate) const GRAMS: &str = "What is left weighs";
pub(crate) const GRAMS_HINT: &str = "In grams, with its decimals, as the scale shows it.";
pub(crate) const WEIGH_KEEP: &str = "Save the weight";
pub(crate) const WEIGH_AWAY: &str = "Delete this weighing";
pub(crate) const WEIGH_AGAIN: &str =
    "Weigh again some rounds further on: then it can be told whether it will do.";

pub(crate) const WHICH: &str = "Which sock";
pub(crate) const WEIGH_OWN: Sentence = Sentence::Worded(|wording| {
    let ball = wording.english.ball();
    format!(
        "Two at a time, each sock has its own {ball}: put this sock’s {ball} on the scale. Two weighings some rounds apart show how much your own knitting takes."
    )
});

pub(crate) const TOGETHER_LEAD: Sentence = Sentence::Worded(|wording| {
    let ball = wording.english.ball();
    format!(
        "Both socks lie side by side on one long circular (magic loop) or on the same two circulars, each with its own {ball}. One touch of the pad counts a round of both."
    )
});
pub(crate) const ORDER: &str = "Needle 1: the first sock, then the second. Turn. Needle 2: the second sock, then the first. Turn.";
pub(crate) const TOGETHER_CAST_ON: Sentence = Sentence::Worded(|wording| {
    let ball = wording.english.ball();
    format!(
        "Cast on and divide the first sock and push it along to the loop; then the second one beside it, with the other {ball}."
    )
});
pub(crate) const TOGETHER_HEEL: &str = "Rows of a flap go across the first heel and then the second, and back. A heel turn, moving stitches between needles and the toe’s end are worked on the first sock, then on the second; the pad says which.";
pub(crate) const TOGETHER_SEATED: &str = "After the heel, instep and sole each get a needle of their own: between two socks on one needle there is no room to divide each in the middle.";
pub(crate) const TOGETHER_BEHIND: &str = "A sock that is behind catches up alone first.";
pub(crate) const TOGETHER_BEGIN: &str = "Start two at a time";
pub(crate) const IS_TOGETHER: &str = "Both socks are knitted two at a time.";
pub(crate) const APART: &str = "Knit one after the other from here";
pub(crate) const IS_OFF: &str =
    "One sock is off the needles already; the other is knitted by itself.";
pub(crate) const ONE_SOCK: &str = "Double-pointed needles and a short circular hold one sock. Two at a time takes one long circular or two circulars.";
pub(crate) const NOT_SEATED: &str = "The rest of these socks cannot be arranged that way.";
pub(crate) const ELSEWHERE: &str = "This pair has moved on in another window since. Nothing was changed; please look where it is, and ask again.";
pub(crate) const NOT_KEPT: &str = "This could not be stored, so nothing was changed. Save a backup in Settings, then take a finished pair out of the basket to make room.";

/// One of several yarns, and what colour it has.
pub(crate) fn yarn(yarn: Yarn, hue: &str) -> String {
    format!("{} {hue}", yarn.letter())
}

/// What is asked for.
pub(crate) fn note_at(place: &str) -> String {
    format!("Before {place}")
}

/// The latest weighing.
pub(crate) fn weighed_at(place: &str, grams: &str) -> String {
    format!("{grams} before {place}.")
}

/// A needle by its number from 1.
pub(crate) fn needle(number: usize) -> String {
    format!("Needle {number}")
}

/// What a needle, or all of them, should hold, where another number was counted.
pub(crate) fn should_be(needle: &str, due: u16) -> String {
    format!("{needle}, should be {due}")
}

/// Which rounds a stretch is.
pub(crate) fn extent(first: &str, last: &str) -> String {
    format!("From {first} to {last}.")
}

/// A count that is one stitch off, on one of several needles or on all.
pub(crate) fn one_off(more: bool, needle: Option<usize>) -> String {
    let word = if more { "more" } else { "fewer" };
    match needle {
        Some(needle) => format!("with one stitch {word} on needle {needle}"),
        None => format!("with one stitch {word}"),
    }
}
