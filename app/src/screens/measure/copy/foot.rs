//! What Measure says of foot and swatch.

use evenloop_engine::shoe::Scale;

pub(in crate::screens::measure) const FOOT: &str = "The foot";
pub(in crate::screens::measure) const FOOT_LEAD: &str =
    "Measure standing, with the weight on the foot.";
pub(in crate::screens::measure) const FOOT_DRAWING: &str = "A foot from the side with three measures. A: along the sole, from the back of the heel to the longest toe. B: round the ball of the foot. C: from under the heel over the bend of the ankle.";
pub(in crate::screens::measure) const SWATCH: &str = "The swatch";
pub(in crate::screens::measure) const SWATCH_LEAD: &str = "Plain stockinette in the round, washed and dried as the socks will be. Count whole stitches over as wide a piece as you have.";
pub(in crate::screens::measure) const UNWASHED: &str = "Measured before washing, too?";
pub(in crate::screens::measure) const UNWASHED_TEXT: &str = "The same stitches and rounds, straight off the needles. No count depends on it: the plan then also says how long leg and foot are while you knit. Fill in both or neither.";
pub(in crate::screens::measure) const SHOE: &str = "No foot to measure? From the shoe size";
pub(in crate::screens::measure) const SHOE_TEXT: &str =
    "An estimate: makers differ by half a size and more. A measured foot always wins.";
pub(in crate::screens::measure) const SCALE: &str = "Sizes of";
pub(in crate::screens::measure) const SIZE: &str = "Shoe size";

/// A scale of shoe sizes.
pub(in crate::screens::measure) const fn scale(scale: Scale) -> &'static str {
    match scale {
        Scale::Eu => "EU",
        Scale::Uk => "UK, adults",
        Scale::UkChild => "UK, children",
        Scale::UsWomen => "US, women",
        Scale::UsMen => "US, men",
        Scale::UsChild => "US, children",
    }
}

/// A shoe size given in half sizes, as it is written on the shoe.
pub(in crate::screens::measure) fn shoe_size(scale: Scale, halves: u16) -> String {
    // Children's sizes begin again after 13½.
    let halves = match scale {
        Scale::UkChild | Scale::UsChild if halves > 27 => halves - 26,
        _ => halves,
    };
    let half = if halves % 2 == 1 { "½" } else { "" };
    match halves / 2 {
        0 => half.to_owned(),
        whole => format!("{whole}{half}"),
    }
}

/// What the button beside a shoe size does.
pub(in crate::screens::measure) fn fill_in(length: &str) -> String {
    format!("Fill in {length}")
}

/// Said once it was done.
pub(in crate::screens::measure) fn filled_in(length: &str) -> String {
    format!("{length} stands in line A: an estimate.")
}
