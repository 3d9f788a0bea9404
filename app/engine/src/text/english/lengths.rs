//! Lengths that cannot be read.

use crate::units::{LengthUnit, NotALength};

/// What was expected instead, within a sentence: "a smaller number".
pub const fn length_expected(error: NotALength) -> &'static str {
    match error {
        NotALength::NoNumber(LengthUnit::Cm) => "a number of centimetres such as 23 or 23.5",
        NotALength::NoNumber(LengthUnit::Inch) => "a number of inches such as 9, 9.25 or 9 1/4",
        NotALength::TooLarge => "a smaller number",
    }
}
