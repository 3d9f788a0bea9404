//! Foot and swatch.

use evenloop_engine::first_guess::CHECKED_AT;
use evenloop_engine::text::Wording;
use evenloop_engine::units::Length;

use crate::text::Sentence;

pub(crate) const UNIT: &str = "Lengths in";
pub(crate) const FOOT: &str = "The foot";
pub(crate) const FOOT_LEAD: &str = "Measure standing, with the weight on the foot.";
pub(crate) const FOOT_DRAWING: &str = "A foot from the side with three measures. A: along the sole, from the back of the heel to the longest toe. B: round the ball of the foot. C: from under the heel over the bend of the ankle.";
pub(crate) const INSTEP: &str = "instep";
pub(crate) const SOLE: &str = "sole";
pub(crate) const SWATCH: &str = "The swatch";
pub(crate) const SWATCH_LEAD: Sentence = Sentence::Worded(|wording| {
    let stockinette = wording.english.stockinette();
    format!("In {stockinette}, in the round, washed. Count over as wide a piece as you have.")
});
/// A gauge that was guessed: stitches and rounds over a length.
pub(crate) fn guessed(stitches: &str, rounds: &str, over: &str) -> String {
    format!("First guess: {stitches} stitches and {rounds} rounds to {over}.")
}
pub(crate) const GUESS_TEXT: Sentence = Sentence::Worded(|wording| {
    let tall = CHECKED_AT.show_about(wording.unit);
    format!(
        "Good enough to begin with, no more. After {tall} the Now screen asks you to measure the sock and try it on; your measurements then replace the guess, and the rest is planned again."
    )
});
pub(crate) const NEEDLE: &str = "Knitted on needles of";
pub(crate) const NO_NEEDLE: &str = "Not noted";
pub(crate) const NEEDLE_HINT: &str = "Both socks are knitted on the same.";
pub(crate) const UNWASHED: &str = "Measured before washing, too?";
pub(crate) const UNWASHED_TEXT: &str = "The same stitches and rounds, straight off the needles. No count depends on it: the plan then also says how long leg and foot are while you knit. Fill in both or neither.";
pub(crate) const SHOE: &str = "No foot to measure? Use the shoe size";
pub(crate) const SHOE_TEXT: &str =
    "An estimate: makers differ by half a size or more. A measured foot is always better.";
pub(crate) const SCALE: &str = "Sizes of";
pub(crate) const SIZE: &str = "Shoe size";
pub(crate) const SCALE_EU: &str = "EU";
pub(crate) const SCALE_UK: &str = "UK, adults";
pub(crate) const SCALE_UK_SMALL: &str = "UK, children to 13½";
pub(crate) const SCALE_UK_OLDER: &str = "UK, children from 1";
pub(crate) const SCALE_US_WOMEN: &str = "US, women";
pub(crate) const SCALE_US_MEN: &str = "US, men";
pub(crate) const SCALE_US_SMALL: &str = "US, children to 13½";
pub(crate) const SCALE_US_OLDER: &str = "US, children from 1";
pub(crate) const NO_SIZE: &str = "There is no such size.";

/// From which to which size, in halves.
pub(crate) fn size_range(low: u16, high: u16) -> String {
    format!("{} to {}, half sizes too.", shoe_size(low), shoe_size(high))
}

fn shoe_size(halves: u16) -> String {
    let half = if halves % 2 == 1 { "½" } else { "" };
    format!("{}{half}", halves / 2)
}

/// What the button below a shoe size does.
pub(crate) fn fill_in(length: Option<Length>, wording: Wording) -> String {
    match length {
        Some(length) => format!("Fill in {}", length.show(wording.unit)),
        None => "Fill in the length".to_owned(),
    }
}

/// Said once it was done.
pub(crate) fn filled_in(length: Length, wording: Wording) -> String {
    format!(
        "{} is now in line A, as an estimate.",
        length.show(wording.unit)
    )
}
