//! Every sentence of the checks. Another language needs another of these files and nothing else.

use evenloop_engine::stitch::Yarn;
use evenloop_engine::tally::seen::Stretch;

use super::Page;

use crate::hue::Hue;

pub(super) const TITLE: &str = "Check and note";
pub(super) const CLOSE: &str = "Back to the needles";

/// What a page is called.
pub(super) const fn name(page: Page) -> &'static str {
    match page {
        Page::Count => "Count check",
        Page::Lost => "Where was I",
        Page::Note => "Note at this round",
        Page::Weigh => "Weigh the yarn",
        Page::Together => "Two at a time",
    }
}

/// What a page is for.
pub(super) const fn note(page: Page) -> &'static str {
    match page {
        Page::Count => "Is what you count right? If not, what happened, and how to mend it.",
        Page::Lost => "Find your round by the stitches and by what the knitting shows.",
        Page::Note => "For the second sock, or for yourself.",
        Page::Weigh => "Will what is left do for this sock, and for the pair?",
        Page::Together => {
            "Both socks on one long circular, or on two: one touch for a round of both."
        }
    }
}

pub(super) const CHANGE: &str = "Change what comes";
pub(super) const CHANGE_NOTE: &str =
    "Other needles, a longer foot, a gauge measured in the sock: what is knitted stays.";

pub(super) const COUNT_LEAD: &str = "Count before you begin the next round. These are the stitches that should be there; change what is different.";
pub(super) const LOST_LEAD: &str = "Count the stitches between two rounds and set what you find.";
pub(super) const OR: &str = "Or else";
pub(super) const FITS: &str = "Your count fits here";
pub(super) const FITS_NEARLY: &str = "No round has exactly this count, but nearly";
pub(super) const FITS_NOWHERE: &str = "No round of this sock has such a count. Count once more, or go by what the knitting shows, below.";
pub(super) const BY_SIGHT: &str = "By what the knitting shows";
pub(super) const BY_SIGHT_LEAD: &str =
    "Choose the part you are in, count what it asks for, and take the round that comes out.";
pub(super) const NEXT: &str = "The next to be worked";
pub(super) const NONE_SO: &str = "Nothing of this part shows that number.";
pub(super) const ALL: &str = "All stitches";

pub(super) const NOTE_LEAD: &str =
    "It stands beside this round on the map, and comes back when the second sock is here.";
pub(super) const NOTE_KEEP: &str = "Keep the note";
pub(super) const NOTE_AWAY: &str = "Remove";

pub(super) const WEIGH_LEAD: &str = "Put all the yarn on the scale that you still knit from, ball or cake, but not the sock. Two weighings some rounds apart tell how much your own knitting takes.";
pub(super) const WEIGH_ONE_LEAD: &str = "One yarn at a time: put all of it on the scale that you still knit from, ball or cake, but not the sock. Two weighings some rounds apart tell how much of it your own knitting takes.";
pub(super) const WHICH_YARN: &str = "Which yarn is weighed";
pub(super) const GRAMS: &str = "What is left weighs";
pub(super) const GRAMS_HINT: &str = "As the scale shows it.";
pub(super) const WEIGH_KEEP: &str = "Keep the weight";
pub(super) const WEIGH_AWAY: &str = "Remove this weighing";
pub(super) const WEIGH_AGAIN: &str =
    "Weigh again some rounds further on: then it can be told whether it will do.";

pub(super) const WHICH: &str = "Which sock";
pub(super) const WEIGH_OWN: &str = "Two at a time, each sock has its own ball: put this sock’s ball on the scale. Two weighings some rounds apart tell how much your own knitting takes.";

pub(super) const TOGETHER_LEAD: &str = "Both socks lie side by side on one long circular (magic loop) or on the same two circulars, each with its own ball. One touch of the pad counts a round of both.";
pub(super) const ORDER: &str = "Needle 1: the first sock, then the second. Turn. Needle 2: the second sock, then the first. Turn.";
pub(super) const TOGETHER_CAST_ON: &str = "Cast on and divide the first sock and push it along to the loop; then the second one beside it, with the other ball.";
pub(super) const TOGETHER_HEEL: &str = "Rows of a flap go across the first heel and then the second, and back. A heel turn, re-seating and the toe’s end are worked on the first sock, then on the second; the pad says which.";
pub(super) const TOGETHER_SEATED: &str = "After the heel, instep and sole then get a needle each: between two socks on one needle there is no room to divide each of them in the middle.";
pub(super) const TOGETHER_BEHIND: &str = "A sock that is behind catches up alone first.";
pub(super) const TOGETHER_BEGIN: &str = "Knit both at once";
pub(super) const IS_TOGETHER: &str = "Both socks are knitted two at a time.";
pub(super) const APART: &str = "One after the other from here on";
pub(super) const IS_OFF: &str =
    "One sock is off the needles already; the other is knitted by itself.";
pub(super) const ONE_SOCK: &str = "Double-pointed needles and a short circular hold one sock. Two at a time takes one long circular or two circulars.";
pub(super) const NOT_SEATED: &str = "The rest of these socks cannot be seated so.";
pub(super) const NOT_KEPT: &str =
    "This could not be stored, so nothing was changed. A backup in Keep makes room.";

/// One of several yarns.
pub(super) fn yarn(yarn: Yarn, hue: Hue) -> String {
    format!("{} {}", yarn.letter(), hue.name().to_lowercase())
}

/// What is asked for.
pub(super) fn note_at(place: &str) -> String {
    format!("Before {place}")
}

/// The latest weighing.
pub(super) fn weighed_at(place: &str, grams: &str) -> String {
    format!("{grams} before {place}.")
}

/// A needle by its number from 1.
pub(super) fn needle(number: usize) -> String {
    format!("Needle {number}")
}

/// Which rounds a stretch is.
pub(super) fn extent(first: &str, last: &str) -> String {
    format!("From {first} to {last}.")
}

/// How far a count is off a stretch.
pub(super) fn off(stretch: &Stretch, needles: usize) -> Option<String> {
    let (needle, more) = stretch.off?;
    let word = if more { "more" } else { "less" };
    Some(if needles > 1 {
        format!("with one stitch {word} on needle {}", needle + 1)
    } else {
        format!("with one stitch {word}")
    })
}
