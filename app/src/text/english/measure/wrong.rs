//! What is wrong with the form, as far as the form itself sees it.

use evenloop_engine::recipe::Unit;
use evenloop_engine::text::{ProblemText, Typed, Wording};

use crate::text::Sentence;

pub(crate) const AT_CALF: &str = "Round the leg";
pub(crate) const AT_MOTIF: &str = "The pattern";
pub(crate) const AT_STRIPES: &str = "The stripes";

/// The name of a line that belongs to a place of the leg.
pub(crate) fn at_girth(place: u8, label: &str) -> String {
    format!("Place {}, {}", place + 1, label.to_lowercase())
}

/// Said while something is wrong.
pub(crate) fn to_mend(count: usize) -> String {
    if count == 1 {
        "One thing to mend".to_owned()
    } else {
        format!("{count} things to mend")
    }
}

/// What a line asks for, and from what to what it can be.
pub(crate) fn hint(asks: &str, range: Option<(String, String)>) -> String {
    match range {
        Some((low, high)) if asks.is_empty() => format!("{low} to {high}"),
        Some((low, high)) => format!("{asks} {low} to {high}."),
        None => asks.to_owned(),
    }
}

/// What stands behind a number.
pub(crate) const fn sign(unit: Unit, inches: bool) -> &'static str {
    match unit {
        Unit::Length if inches => "in",
        Unit::Length => "cm",
        Unit::Percent => "%",
        Unit::Grams => "g",
        Unit::Metres => "m",
        Unit::Stitches | Unit::Rounds | Unit::Rows => "",
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
