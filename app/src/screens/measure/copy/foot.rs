//! What Measure says of foot and swatch.

pub(in crate::screens::measure) const FOOT: &str = "The foot";
pub(in crate::screens::measure) const FOOT_LEAD: &str =
    "Measure standing, with the weight on the foot.";
pub(in crate::screens::measure) const FOOT_DRAWING: &str = "A foot from the side with three measures. A: along the sole, from the back of the heel to the longest toe. B: round the ball of the foot. C: from under the heel over the bend of the ankle.";
pub(in crate::screens::measure) const SWATCH: &str = "The swatch";
pub(in crate::screens::measure) const SWATCH_LEAD: &str = "Plain stockinette in the round, washed and dried as the socks will be. Count whole stitches over as wide a piece as you have.";
pub(in crate::screens::measure) const NEEDLE: &str = "Knitted on needles of";
pub(in crate::screens::measure) const NO_NEEDLE: &str = "Not noted";
pub(in crate::screens::measure) const NEEDLE_HINT: &str =
    "Both socks are knitted on what gave this swatch. No count depends on it.";
pub(in crate::screens::measure) const UNWASHED: &str = "Measured before washing, too?";
pub(in crate::screens::measure) const UNWASHED_TEXT: &str = "The same stitches and rounds, straight off the needles. No count depends on it: the plan then also says how long leg and foot are while you knit. Fill in both or neither.";
pub(in crate::screens::measure) const SHOE: &str = "No foot to measure? From the shoe size";
pub(in crate::screens::measure) const SHOE_TEXT: &str =
    "An estimate: makers differ by half a size and more. A measured foot always wins.";
pub(in crate::screens::measure) const SCALE: &str = "Sizes of";
pub(in crate::screens::measure) const SIZE: &str = "Shoe size";

pub(in crate::screens::measure) const SCALES: [&str; 8] = [
    "EU",
    "UK, adults",
    "UK, children to 13½",
    "UK, children from 1",
    "US, women",
    "US, men",
    "US, children to 13½",
    "US, children from 1",
];
pub(in crate::screens::measure) const NO_SIZE: &str = "That is no size of this kind.";

/// From which to which size, in halves.
pub(in crate::screens::measure) fn size_range(low: u16, high: u16) -> String {
    format!("{} to {}, halves too.", shoe_size(low), shoe_size(high))
}

fn shoe_size(halves: u16) -> String {
    let half = if halves % 2 == 1 { "½" } else { "" };
    format!("{}{half}", halves / 2)
}

/// What the button below a shoe size does.
pub(in crate::screens::measure) fn fill_in(length: Option<String>) -> String {
    match length {
        Some(length) => format!("Fill in {length}"),
        None => "Fill in the length".to_owned(),
    }
}

/// Said once it was done.
pub(in crate::screens::measure) fn filled_in(length: &str) -> String {
    format!("{length} stands in line A: an estimate.")
}
