//! Cuff and leg.

use evenloop_engine::leg_length::LegName;
use evenloop_engine::text::Wording;
use evenloop_engine::units::Length;

use crate::text::Sentence;

pub(crate) const LEG: &str = "Cuff and leg";
pub(crate) const COURTESY: &str = "For tender or swollen legs";
pub(crate) const COURTESY_TEXT: &str = "A cuff must never bind. With swelling, diabetes or poor circulation give the leg more room, and ask the wearer’s doctor or nurse. Wool can irritate; let the wearer try the yarn on the skin first.";
pub(crate) const CAST_ON_HOW: &str = "How it is cast on";
pub(crate) const BIND_OFF_HOW: Sentence =
    Sentence::Worded(|wording| format!("How it is {}", wording.english.bound_off()));
pub(crate) const LEGS: &str = "Lengths by name";
pub(crate) const LEGS_TEXT: &str = "How long socks of a name usually are, for this foot: common practice, only a beginning. Choosing one fills in the line above.";
pub(crate) const CALF: &str = "A leg that follows the calf";
pub(crate) const CALF_TEXT: &str = "For long legs. Measure round the bare leg at one to four heights, counted from where the heel begins, the lowest first. The sock widens and narrows in the middle of the back. Without a place it is as wide as the foot all the way. In the drawing a dotted line is the sock’s top.";
pub(crate) const ADD_GIRTH: &str = "Add a place";
pub(crate) const GIRTHS_FULL: &str = "Four places are the most.";

/// The name of a leg's length.
pub(crate) const fn leg_name(name: LegName) -> &'static str {
    match name {
        LegName::Ankle => "Ankle",
        LegName::Crew => "Crew",
        LegName::MidCalf => "Mid-calf",
        LegName::Knee => "Knee",
    }
}

/// The cuff and leg in a few words.
pub(crate) fn leg_now(edge: &str, cuff: &str, leg: &str, shaped: bool) -> String {
    let shaped = if shaped { ", shaped" } else { "" };
    format!("{edge}, {cuff}; leg {leg}{shaped}")
}

/// The heading of a place, from 0.
pub(crate) fn girth(place: u8) -> String {
    format!("Place {}", place + 1)
}

/// The button that takes a place out.
pub(crate) fn remove_girth(place: u8) -> String {
    format!("Take out place {}", place + 1)
}

/// What the drawing shows: places with their height and the leg's girth.
pub(crate) fn calf_drawing(girths: &[(u8, Length, Length)], wording: Wording) -> String {
    let places = girths.iter().map(|(place, height, round)| {
        let (height, round) = (height.show(wording.unit), round.show(wording.unit));
        format!("{}: {height} up, {round} round", place + 1)
    });
    let places: Vec<String> = places.collect();
    format!("The leg with its places. {}.", places.join("; "))
}
