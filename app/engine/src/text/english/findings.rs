//! What a count means and how to mend it, in sentences.

use super::lists::listed;
use super::names::origin_name;
use super::places::{place, within_round};
use crate::text::messages::{Diagnosis, Shift};
use crate::text::technique::Technique;
use crate::text::wording::Wording;

/// What it is, and how to mend it or what to do.
pub(crate) fn diagnosis(diagnosis: &Diagnosis, wording: Wording) -> (String, String) {
    let Wording { english, hand, .. } = wording;
    match diagnosis {
        Diagnosis::RightAndEmpty => (
            "That is right: nothing is on the needles yet.".into(),
            "Cast on.".into(),
        ),
        Diagnosis::Right { counts } => (
            format!("That is right: {}.", listed(counts)),
            "Keep knitting.".into(),
        ),
        Diagnosis::FitsEarlier(to) => (
            format!(
                "This is what the needles hold before {}: earlier than you thought.",
                place(*to, english)
            ),
            "You may have touched the pad once too often. If your sock looks like that, go on there.".into(),
        ),
        Diagnosis::FitsLater(to) => (
            format!(
                "This is what the needles hold before {}: further than you thought.",
                place(*to, english)
            ),
            "You may have knitted a round without touching the pad. If your sock looks like that, go on there.".into(),
        ),
        Diagnosis::FitsWithin(round, needles) => (
            within_round(*round, *needles, english),
            format!(
                "The round was put down in the middle. If your sock looks like that, go on with needle {}.",
                needles + 1
            ),
        ),
        Diagnosis::MissedDecrease {
            needle,
            round,
            side,
            only,
        } => {
            let side = side.map(|side| origin_name(hand.sees(side)));
            (
                missed_decrease(*needle, &place(*round, english), side),
                mend_decrease(*only),
            )
        }
        Diagnosis::MissedIncrease { needle, round } => (
            format!(
                "One stitch too few{}: a stitch may not have been made in {}.",
                on_needle(*needle),
                place(*round, english)
            ),
            format!("Where it is missing, lift the strand between two stitches onto the {} needle and knit it through the back loop: that makes one.", hand.left()),
        ),
        Diagnosis::PickedUpOneMore(needle) => (
            format!(
                "One stitch too many{}: one more was picked up along the flap.",
                on_needle(*needle)
            ),
            "Nothing has to be taken out. Knit two together once among the picked-up stitches, and the count is right.".into(),
        ),
        Diagnosis::PickedUpOneLess(needle) => (
            format!(
                "One stitch too few{}: one less was picked up along the flap.",
                on_needle(*needle)
            ),
            "Lift one more strand at the flap’s edge, best where a hole would be, and knit it through the back loop.".into(),
        ),
        Diagnosis::ExtraStitch(needle) => (
            format!(
                "One stitch too many{}: a yarn over by accident, or a stitch that was split in two.",
                on_needle(*needle)
            ),
            "Look along the last rounds for a small hole or a stitch of half the yarn. Drop it down to there and pull its neighbours snug, or knit two together beside it.".into(),
        ),
        Diagnosis::DroppedStitch(needle) => (
            format!(
                "One stitch too few{}: it may have been dropped, or two were worked as one.",
                on_needle(*needle)
            ),
            "Look below the needle for an open loop and work it up with a crochet hook, one strand for each round. If there is none, make one from the strand where two were taken together.".into(),
        ),
        Diagnosis::WrongNeedle { counts, shifts } => (
            format!(
                "All stitches are there, but some are on the wrong needle: it should be {}.",
                listed(counts)
            ),
            slip(shifts),
        ),
        Diagnosis::Unexplained { counts } => (
            format!("No single mistake explains this. It should be {}.", listed(counts)),
            "Count once more, from the other end. If it stays so, “Where was I” finds the rounds that your count fits.".into(),
        ),
    }
}

/// A decrease that is not there, in a round, at the side that is called so.
fn missed_decrease(needle: Option<usize>, round: &str, side: Option<&str>) -> String {
    let side = side.map_or_else(String::new, |side| format!(", at the {side},"));
    format!(
        "One stitch too many{}: the decrease of {round}{side} may have been missed.",
        on_needle(needle)
    )
}

/// How it is worked afterwards, where all of the round are of one kind.
fn mend_decrease(only: Option<Technique>) -> String {
    match only.and_then(abbreviation) {
        Some(only) => format!(
            "Follow the line of decreases down to the round where one is missing. If that is only a round or two ago, work the {only} now, in the same line; nobody will see it."
        ),
        None => "Follow the lines of decreases down to the round where one is missing. If that is only a round or two ago, work it now, in the same line; nobody will see it.".into(),
    }
}

/// " on needle 2"; nothing where there is only one.
fn on_needle(needle: Option<usize>) -> String {
    needle.map_or_else(String::new, |needle| format!(" on needle {needle}"))
}

const fn abbreviation(decrease: Technique) -> Option<&'static str> {
    match decrease {
        Technique::K2tog => Some("k2tog"),
        Technique::Ssk => Some("ssk"),
        Technique::P2tog => Some("p2tog"),
        _ => None,
    }
}

fn slip(shifts: &[Shift]) -> String {
    let said: Vec<String> = shifts
        .iter()
        .map(|shift| {
            let Shift { stitches, from, to } = shift;
            format!("{stitches} from needle {from} to needle {to}")
        })
        .collect();
    format!("Slip {}, without working them.", said.join(", "))
}
