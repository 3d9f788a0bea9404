//! Places and sizes in drawings as text. The standard library's way of writing a number with a fraction is exact
//! for every number there is, and larger than all of a drawing's own code; a drawing needs tenths.
//!
//! Knows no drawing.

use std::fmt;

/// A number in tenths, written without a fraction where it has none.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tenths(i32);

/// A number rounded to tenths; what lies beyond 200 million is written as that.
pub fn tenths(number: f32) -> Tenths {
    #[allow(clippy::cast_possible_truncation)] // it stops at the ends, and nothing is drawn there
    Tenths((number * 10.0).round_ties_even() as i32)
}

/// A number rounded to a whole one.
pub fn whole(number: f32) -> i32 {
    #[allow(clippy::cast_possible_truncation)] // as above
    let whole = number.round_ties_even() as i32;
    whole
}

impl fmt::Display for Tenths {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 < 0 {
            f.write_str("-")?;
        }
        let tenths = self.0.unsigned_abs();
        write!(f, "{}", tenths / 10)?;
        match tenths % 10 {
            0 => Ok(()),
            rest => write!(f, ".{rest}"),
        }
    }
}

impl Tenths {
    /// As an attribute.
    pub fn text(self) -> String {
        self.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_written_in_tenths() {
        for (number, text) in [
            (0.0, "0"),
            (-0.04, "0"),
            (0.05001, "0.1"),
            (-0.5, "-0.5"),
            (12.0, "12"),
            (-12.34, "-12.3"),
            (199.96, "200"),
            (f32::NAN, "0"),
        ] {
            assert_eq!(tenths(number).to_string(), text);
        }
        // It says the same as the standard library, but for zeros.
        for number in (-5_000_i16..5_000).map(|number| f32::from(number) / 7.0) {
            let said: f32 = tenths(number).to_string().parse().expect("a number");
            assert!((said - number).abs() <= 0.0501, "{number}");
            assert_eq!(format!("{said:.1}"), format!("{number:.1}"));
        }
        assert_eq!([whole(2.6), whole(-2.6), whole(0.4)], [3, -3, 0]);
    }
}
