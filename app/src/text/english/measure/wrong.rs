//! What is wrong with the form, as far as the form itself sees it.

use evenloop_engine::recipe::Unit;
use evenloop_engine::text::{ProblemText, Typed, Wording};
use evenloop_engine::units::LengthUnit;
use evenloop_engine::yarn_amount::{grams_sign, metres_sign};

use crate::text::Sentence;

pub(crate) const AT_CALF: &str = "Round the leg";
pub(crate) const AT_MOTIF: &str = "The stitch pattern";
pub(crate) const AT_STRIPES: &str = "The stripes";

/// The name of a line that belongs to a place of the leg.
pub(crate) fn at_girth(place: u8, label: &str) -> String {
    format!("Place {}, {}", place + 1, label.to_ascii_lowercase())
}

/// Said while something is wrong.
pub(crate) fn to_mend(count: usize) -> String {
    if count == 1 {
        "One thing to fix".to_owned()
    } else {
        format!("{count} things to fix")
    }
}

/// What is still missing, in a few words: the foot's length, the swatch, or something else.
pub(crate) fn still_needed(foot: bool, swatch: bool, more: usize) -> String {
    match (foot, swatch, more) {
        (true, true, _) => "Needed: foot and swatch",
        (true, false, _) => "Needed: the foot",
        (false, true, _) => "Needed: the swatch",
        (false, false, 0 | 1) => "One line is still empty",
        (false, false, _) => "Some lines are still empty",
    }
    .to_owned()
}

pub(crate) const NEEDED: &str = "Still needed";
pub(crate) const NEEDED_FOOT: &str = "The length of the foot";
pub(crate) const NEEDED_SWATCH: &str = "The swatch, or a first guess without one";
pub(crate) const SKETCH: &str = "An example. It becomes your sock as you fill in the lines.";

/// What a line asks for, and from what to what it can be.
pub(crate) fn hint(asks: &str, range: Option<(String, String)>) -> String {
    match range {
        Some((low, high)) if asks.is_empty() => format!("{low} to {high}"),
        Some((low, high)) => format!("{asks} {low} to {high}."),
        None => asks.to_owned(),
    }
}

/// An example in an empty line that has to be filled in.
pub(crate) fn such_as(number: &str) -> String {
    format!("e.g. {number}")
}

/// What stands behind a number.
pub(crate) const fn sign(unit: Unit, lengths: LengthUnit) -> &'static str {
    match (unit, lengths) {
        (Unit::Length, LengthUnit::Inch) => "in",
        (Unit::Length, LengthUnit::Cm) => "cm",
        (Unit::Percent, _) => "%",
        (Unit::Grams, lengths) => grams_sign(lengths),
        (Unit::Metres, lengths) => metres_sign(lengths),
        (Unit::Stitches | Unit::Rounds | Unit::Rows, _) => "",
    }
}

/// Said of a line that may not stay empty.
pub(crate) fn empty(help: Sentence, wording: Wording) -> ProblemText {
    ProblemText {
        message: "This is still empty.".to_owned(),
        help: help.say(wording),
    }
}

/// Said of a line that cannot be read: what was typed, and what is expected.
pub(crate) fn unreadable(typed: &Typed, expected: &str) -> ProblemText {
    ProblemText {
        message: format!("“{typed}” cannot be read."),
        help: format!("Please give {expected}."),
    }
}

/// What is expected where the number is too large.
pub(crate) const SMALLER: &str = "a smaller number";

/// What is expected where a whole number belongs.
pub(crate) fn whole_number(unit: Unit, wording: Wording) -> String {
    if wording.unit == LengthUnit::Inch {
        match unit {
            Unit::Grams => {
                return "a number of ounces such as 3.5, or of grams such as 100 g".to_owned();
            }
            Unit::Metres => {
                return "a number of yards such as 437, or of meters such as 400 m".to_owned();
            }
            _ => {}
        }
    }
    let of = match unit {
        Unit::Stitches => "stitches",
        Unit::Rounds => "rounds",
        Unit::Rows => "rows",
        Unit::Percent => "percent",
        Unit::Grams => "grams",
        Unit::Metres => wording.english.metres(),
        // A length is asked for as a length.
        Unit::Length => "millimetres",
    };
    format!("a whole number of {of}")
}
