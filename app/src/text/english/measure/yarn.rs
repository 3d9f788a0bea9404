//! Yarns and stripes.

use evenloop_engine::recipe::Yarns;
use evenloop_engine::stitch::Yarn;
use evenloop_engine::text::Wording;
use evenloop_engine::units::LengthUnit;
use evenloop_engine::yarn_amount::{grams_sign, metres_sign};

use crate::text::Sentence;

pub(crate) const YARN: &str = "Yarn";
pub(crate) const BAND: Sentence =
    Sentence::Worded(|wording| format!("The {}’s figures", wording.english.ball_band()));
pub(crate) const BAND_TEXT: Sentence = Sentence::Worded(|wording| {
    let (grams, metres) = match wording.unit {
        LengthUnit::Cm => ("grams", wording.english.metres()),
        LengthUnit::Inch => ("ounces", "yards"),
    };
    format!("With them the plan says {grams} as well as {metres}. Fill in both or neither.")
});
pub(crate) const HOW_MANY: &str = "How many yarns";
pub(crate) const COLOURS: Sentence = Sentence::Worded(|wording| {
    let colours = wording.english.colours();
    format!("Their {colours}, for the eye only")
});
pub(crate) const STRIPES: &str = "Stripes of leg and foot";
pub(crate) const STRIPES_TEXT: &str = "Knitted in this order, again and again; the sequence goes on from the leg to the foot without a break. One stripe alone makes a plain sock with cuff, heel and toe of other yarns.";
pub(crate) const ADD_STRIPE: &str = "Add a stripe";
pub(crate) const STRIPES_FULL: &str = "Twelve stripes are the most.";
pub(crate) const PARTS: &str = "Parts with a yarn of their own";
pub(crate) const PART_CUFF: &str = "Cuff";
pub(crate) const PART_HEEL: &str = "Heel";
pub(crate) const PART_TOE: &str = "Toe";
pub(crate) const UP: &str = "Move up";
pub(crate) const TAKE_OUT: &str = "Take out";

/// So many yarns.
pub(crate) const fn yarn_count(yarns: u8) -> &'static str {
    match yarns {
        0 | 1 => "one",
        2 => "two",
        3 => "three",
        _ => "four",
    }
}

/// The heading of a stripe, from 0.
pub(crate) fn stripe(place: u8) -> String {
    format!("Stripe {}", place + 1)
}

/// Said to the ear after what a button does.
pub(crate) fn of_stripe(place: u8) -> String {
    format!(", stripe {}", place + 1)
}

/// One of the yarns.
pub(crate) const fn yarn_of(yarn: Yarn) -> &'static str {
    match yarn {
        Yarn::A => "Yarn A",
        Yarn::B => "Yarn B",
        Yarn::C => "Yarn C",
        Yarn::D => "Yarn D",
    }
}

/// What the strip shows, in words; a yarn's colour by its name within a
/// sentence.
pub(crate) fn strip(yarns: &Yarns, colour: impl Fn(Yarn) -> &'static str) -> String {
    let stripes = yarns.stripes.iter().map(|stripe| {
        let (rounds, yarn) = (stripe.rounds, stripe.yarn);
        let colour = colour(yarn);
        format!("{rounds} of {} ({colour})", yarn.letter())
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

/// The yarn in a few words: how many, and the band's figures as they were typed.
pub(crate) fn yarn_now(
    yarns: u8,
    stripes: u8,
    (grams, metres): (&str, &str),
    wording: Wording,
) -> String {
    let band = match (grams.is_empty(), metres.is_empty()) {
        (true, true) => match wording.unit {
            LengthUnit::Cm => format!("in {} only", wording.english.metres()),
            LengthUnit::Inch => "in yards only".to_owned(),
        },
        (false, false) => format!(
            "{metres}\u{a0}{} to {grams}\u{a0}{}",
            metres_sign(wording.unit),
            grams_sign(wording.unit)
        ),
        _ => "one figure is missing".to_owned(),
    };
    match (yarns, stripes) {
        (0 | 1, _) => band,
        (_, 1) => format!("{yarns} yarns; {band}"),
        _ => format!("{yarns} yarns, {stripes} stripes; {band}"),
    }
}
