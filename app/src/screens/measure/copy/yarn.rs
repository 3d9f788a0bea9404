//! What Measure says of yarns and stripes.

use evenloop_engine::recipe::Yarns;
use evenloop_engine::stitch::Yarn;

use crate::hue::Hue;
use crate::parts::Choice;

pub(in crate::screens::measure) const YARN: &str = "Yarn";
pub(in crate::screens::measure) const BAND: &str = "The band's figures";
pub(in crate::screens::measure) const BAND_TEXT: &str =
    "With them the plan says grams as well as metres. Fill in both or neither.";
pub(in crate::screens::measure) const HOW_MANY: &str = "How many yarns";
pub(in crate::screens::measure) const HOW_MANYS: [Choice; 4] = [
    Choice::plain("one"),
    Choice::plain("two"),
    Choice::plain("three"),
    Choice::plain("four"),
];
pub(in crate::screens::measure) const COLOURS: &str = "Their colours, for the eye only";
pub(in crate::screens::measure) const STRIPES: &str = "Stripes of leg and foot";
pub(in crate::screens::measure) const STRIPES_TEXT: &str = "Knitted in this order, again and again; the sequence goes on from the leg to the foot without a break. One stripe alone makes a plain sock with cuff, heel and toe of other yarns.";
pub(in crate::screens::measure) const ADD_STRIPE: &str = "Add a stripe";
pub(in crate::screens::measure) const STRIPES_FULL: &str = "Twelve stripes are the most.";
pub(in crate::screens::measure) const PARTS: &str = "Parts with a yarn of their own";
pub(in crate::screens::measure) const PART_CUFF: &str = "Cuff";
pub(in crate::screens::measure) const PART_HEEL: &str = "Heel";
pub(in crate::screens::measure) const PART_TOE: &str = "Toe";
pub(in crate::screens::measure) const UP: &str = "Earlier";
pub(in crate::screens::measure) const TAKE_OUT: &str = "Take out";

/// The heading of a stripe.
pub(in crate::screens::measure) fn stripe(place: u8) -> String {
    format!("Stripe {}", place + 1)
}

/// Said to the ear after what a button does.
pub(in crate::screens::measure) fn of_stripe(place: u8) -> String {
    format!(", stripe {}", place + 1)
}

/// One of the yarns.
pub(in crate::screens::measure) const fn yarn_of(yarn: Yarn) -> &'static str {
    match yarn {
        Yarn::A => "Yarn A",
        Yarn::B => "Yarn B",
        Yarn::C => "Yarn C",
        Yarn::D => "Yarn D",
    }
}

/// Whatever the strip shows, in words.
pub(in crate::screens::measure) fn strip(yarns: &Yarns, hues: [Hue; 4]) -> String {
    let hue = |yarn: Yarn| Hue::of(yarn, hues).name().to_lowercase();
    let stripes = yarns.stripes.iter().map(|stripe| {
        let (rounds, yarn) = (stripe.rounds, stripe.yarn);
        format!("{rounds} of {} ({})", yarn.letter(), hue(yarn))
    });
    let stripes: Vec<String> = stripes.collect();
    format!(
        "The stripes: {}, again and again. Cuff {}, heel {}, toe {}.",
        stripes.join(", "),
        yarns.cuff.letter(),
        yarns.heel.letter(),
        yarns.toe.letter()
    )
}

/// The yarn in a few words.
pub(in crate::screens::measure) fn yarn_now(
    yarns: u8,
    stripes: u8,
    grams: &str,
    metres: &str,
) -> String {
    let band = match (grams.is_empty(), metres.is_empty()) {
        (true, true) => "in metres only".to_owned(),
        (false, false) => format!("{metres}\u{a0}m to {grams}\u{a0}g"),
        _ => "one figure is missing".to_owned(),
    };
    match (yarns, stripes) {
        (0 | 1, _) => band,
        (_, 1) => format!("{yarns} yarns; {band}"),
        _ => format!("{yarns} yarns, {stripes} stripes; {band}"),
    }
}
