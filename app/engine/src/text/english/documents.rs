//! What is wrong with a recipe as it is written, for those who write recipe documents by hand or by
//! program.

use super::lists::alternatives;
use crate::error::{Found, Wanted};
use crate::needle_size::SIZES;
use crate::recipe::{NumberField, NumberRange};

/// Something stands where it cannot.
pub(super) fn value(wanted: &Wanted, found: &Found) -> (String, String) {
    let found = match found {
        Found::Nothing => "nothing (null)".to_owned(),
        Found::Switch(on) => on.to_string(),
        Found::Number(number) => number.clone(),
        Found::Text(text) => format!("“{text}”"),
        Found::List => "a list".into(),
        Found::Fields => "an object".into(),
    };
    (
        format!(
            "This field holds {found}; it can hold {}.",
            possible(wanted)
        ),
        help(wanted),
    )
}

/// A field that has to be there is not.
pub(super) fn missing(wanted: &Wanted) -> (String, String) {
    (
        format!("This field is missing; it holds {}.", possible(wanted)),
        help(wanted),
    )
}

/// A field of no recipe.
pub(super) fn unknown(possible: &[&str]) -> (String, String) {
    (
        "A recipe has no such field here.".into(),
        match possible {
            [] => "Leave it out.".into(),
            _ => format!("There can be {}.", alternatives(possible)),
        },
    )
}

/// A field that stands twice.
pub(super) fn twice() -> (String, String) {
    (
        "This field is given twice.".into(),
        "Leave one of them out.".into(),
    )
}

fn possible(wanted: &Wanted) -> String {
    match wanted {
        Wanted::Number(field) => number(*field),
        Wanted::NeedleSize => {
            let sizes = SIZES.each_ref().map(|size| size.hundredths.to_string());
            let sizes = sizes.each_ref().map(String::as_str);
            format!(
                "a needle’s size in hundredths of a millimetre: {}",
                alternatives(&sizes)
            )
        }
        Wanted::Switch => "true or false".into(),
        Wanted::Words(words) => alternatives(words),
        Wanted::WordOrField { words, fields } => format!(
            "{}, or an object with the field {}",
            alternatives(words),
            alternatives(fields)
        ),
        Wanted::MotifRound => {
            "the stitches of a round as text, such as “k2 yo ssk” or “p1 cr2/2 p1”".into()
        }
        Wanted::Text => "a text".into(),
        Wanted::PatternSize => "a whole number from 0 to 255".into(),
        Wanted::List => "a list".into(),
        Wanted::Fields(_) => "an object".into(),
    }
}

fn number(field: NumberField) -> String {
    match field.range() {
        NumberRange::Length(range) => {
            let (least, most) = (range.start().tenths(), range.end().tenths());
            format!("a length in whole tenths of a millimetre, {least} to {most}")
        }
        NumberRange::Whole(range) => {
            format!("a whole number, {} to {}", range.start(), range.end())
        }
        NumberRange::Gauge(range) => format!(
            "a whole number that comes to {} to {} in 10\u{a0}cm",
            range.start(),
            range.end()
        ),
    }
}

fn help(wanted: &Wanted) -> String {
    match wanted {
        Wanted::Number(field) if matches!(field.range(), NumberRange::Length(_)) => {
            "24.5\u{a0}cm are written 2450.".into()
        }
        Wanted::Number(_) => "Write it in digits, without quotation marks or a fraction.".into(),
        Wanted::NeedleSize => "A needle of 2.5\u{a0}mm is written 250.".into(),
        Wanted::Fields(fields) => format!("Its fields: {}.", fields.join(", ")),
        Wanted::MotifRound => {
            "Knit k, purl p, through the back loop kt and slip s with their number; yo, k2tog, ssk; crosses such as cl2/2, cr2/2 or clp2/1.".into()
        }
        Wanted::Text => "Write it in quotation marks.".into(),
        Wanted::PatternSize => "The first of several sizes is 0.".into(),
        Wanted::Switch | Wanted::Words(_) | Wanted::WordOrField { .. } | Wanted::List => {
            "The API’s description says what every field means.".into()
        }
    }
}
