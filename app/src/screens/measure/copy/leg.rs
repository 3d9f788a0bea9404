//! What Measure says of a leg that follows the calf.

use evenloop_engine::units::{Length, LengthUnit};

pub(in crate::screens::measure) const CALF: &str = "A leg that follows the calf";
pub(in crate::screens::measure) const CALF_TEXT: &str = "For long legs. Measure round the bare leg at one to four heights, counted from where the heel begins, the lowest first. The sock widens and narrows in the middle of the back. Without a place it is as wide as the foot all the way. In the drawing a dotted line is the sock's top.";
pub(in crate::screens::measure) const ADD_GIRTH: &str = "Add a place";
pub(in crate::screens::measure) const GIRTHS_FULL: &str = "Four places are the most.";

/// The heading of a place.
pub(in crate::screens::measure) fn girth(place: u8) -> String {
    format!("Place {}", place + 1)
}

/// The button that takes a place out.
pub(in crate::screens::measure) fn remove_girth(place: u8) -> String {
    format!("Take out place {}", place + 1)
}

/// What the drawing shows.
pub(in crate::screens::measure) fn calf_drawing(
    girths: &[(u8, Length, Length)],
    unit: LengthUnit,
) -> String {
    let places = girths.iter().map(|(place, height, round)| {
        let (height, round) = (height.show(unit), round.show(unit));
        format!("{}: {height} up, {round} round", place + 1)
    });
    let places: Vec<String> = places.collect();
    format!("The leg with its places. {}.", places.join("; "))
}
