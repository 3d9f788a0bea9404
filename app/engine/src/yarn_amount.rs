//! How much yarn, as a knitter writes it: metres or yards, grams or ounces. Where lengths are in inches
//! yarn is in yards and ounces. Knows nothing of socks.
//!
//! A yard is 0.9144 m and an ounce 28.349523125 g, both exact by definition.

use crate::units::{LengthUnit, parse_number};

/// Ten-thousandths of a metre in a yard.
const YARD: u64 = 9_144;
/// Hundred-thousandths of a gram in an ounce, to the nearest.
const OUNCE: u64 = 2_834_952;

/// The name of the unit that yarn is measured in.
pub const fn metres_sign(unit: LengthUnit) -> &'static str {
    match unit {
        LengthUnit::Cm => "m",
        LengthUnit::Inch => "yd",
    }
}

/// The name of the unit that yarn is weighed in.
pub const fn grams_sign(unit: LengthUnit) -> &'static str {
    match unit {
        LengthUnit::Cm => "g",
        LengthUnit::Inch => "oz",
    }
}

/// Whole metres, or yards rounded up: yarn is rather had than missed. A number and its unit stay on one
/// line (no-break space).
pub fn show_metres(metres: u32, unit: LengthUnit) -> String {
    let number = match unit {
        LengthUnit::Cm => u64::from(metres),
        LengthUnit::Inch => (u64::from(metres) * 10_000).div_ceil(YARD),
    };
    format!("{number}\u{a0}{}", metres_sign(unit))
}

/// Tenths of a gram, to the tenth; or ounces to the tenth, below one ounce to the hundredth.
pub fn show_decigrams(decigrams: u32, unit: LengthUnit) -> String {
    let number = match unit {
        LengthUnit::Cm => with_decimals(decigrams.into(), 1),
        LengthUnit::Inch => {
            let hundredths = ounces(decigrams.into(), 10_000, 100);
            if hundredths < 100 {
                with_decimals(hundredths, 2)
            } else {
                with_decimals(ounces(decigrams.into(), 10_000, 10), 1)
            }
        }
    };
    format!("{number}\u{a0}{}", grams_sign(unit))
}

/// Whole metres as a bare number to be typed over: whole yards where lengths are in inches.
pub fn plain_metres(metres: u64, unit: LengthUnit) -> String {
    match unit {
        LengthUnit::Cm => metres.to_string(),
        LengthUnit::Inch => ((metres * 10_000 + YARD / 2) / YARD).to_string(),
    }
}

/// Whole grams as a bare number to be typed over: hundredths of an ounce where lengths are in inches.
pub fn plain_grams(grams: u64, unit: LengthUnit) -> String {
    match unit {
        LengthUnit::Cm => grams.to_string(),
        LengthUnit::Inch => with_decimals(ounces(grams, 100_000, 100), 2),
    }
}

/// Reads a length of yarn, in whole metres. A number without a unit is in `unit`; `m` and `yd` can stand
/// behind it.
pub fn parse_metres(text: &str, unit: LengthUnit) -> Option<u64> {
    let endings = [
        ("yards", LengthUnit::Inch),
        ("yds", LengthUnit::Inch),
        ("yd", LengthUnit::Inch),
        ("m", LengthUnit::Cm),
    ];
    let (number, unit) = without_unit(text, &endings, unit);
    match unit {
        LengthUnit::Cm => parse_number(&number, 1),
        LengthUnit::Inch => parse_number(&number, YARD).map(|parts| (parts + 5_000) / 10_000),
    }
}

/// Reads a weight of yarn, in whole grams. A number without a unit is in `unit`; `g` and `oz` can stand
/// behind it.
pub fn parse_grams(text: &str, unit: LengthUnit) -> Option<u64> {
    let endings = [("oz", LengthUnit::Inch), ("g", LengthUnit::Cm)];
    let (number, unit) = without_unit(text, &endings, unit);
    match unit {
        LengthUnit::Cm => parse_number(&number, 1),
        LengthUnit::Inch => parse_number(&number, OUNCE).map(|parts| (parts + 50_000) / 100_000),
    }
}

/// The number before one of these endings, and the unit that it is in.
fn without_unit(
    text: &str,
    endings: &[(&str, LengthUnit)],
    usual: LengthUnit,
) -> (String, LengthUnit) {
    let text = text.trim().to_ascii_lowercase();
    let found = endings
        .iter()
        .find_map(|(end, unit)| Some((text.strip_suffix(end)?.trim().to_owned(), *unit)));
    found.unwrap_or((text, usual))
}

/// An amount that is `parts` hundred-thousandths of a gram each, in parts of an ounce.
const fn ounces(amount: u64, parts: u64, of_an_ounce: u64) -> u64 {
    (amount * parts * of_an_ounce + OUNCE / 2) / OUNCE
}

/// A number of so many decimals, without idle zeros.
fn with_decimals(number: u64, decimals: u32) -> String {
    let power = 10_u64.pow(decimals);
    let digits = usize::try_from(decimals).unwrap_or(0);
    let part = format!("{:0digits$}", number % power);
    match part.trim_end_matches('0') {
        "" => (number / power).to_string(),
        part => format!("{}.{part}", number / power),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const CM: LengthUnit = LengthUnit::Cm;
    const INCH: LengthUnit = LengthUnit::Inch;

    #[test]
    fn yarn_is_shown_in_yards_and_ounces_where_lengths_are_in_inches() {
        assert_eq!(show_metres(400, CM), "400\u{a0}m");
        // 437.4 yards: one more than 437 is enough, one less is not
        assert_eq!(show_metres(400, INCH), "438\u{a0}yd");
        assert_eq!(show_decigrams(415, CM), "41.5\u{a0}g");
        assert_eq!(show_decigrams(410, CM), "41\u{a0}g");
        // 100 g are 3.527 oz, 5 g are 0.176 oz
        assert_eq!(show_decigrams(1_000, INCH), "3.5\u{a0}oz");
        assert_eq!(show_decigrams(50, INCH), "0.18\u{a0}oz");
        assert_eq!(show_decigrams(0, INCH), "0\u{a0}oz");
    }

    #[test]
    fn it_is_read_as_labels_print_it() {
        assert_eq!(parse_metres("400", CM), Some(400));
        assert_eq!(parse_metres("437 yds", CM), Some(400));
        assert_eq!(parse_metres("437", INCH), Some(400));
        assert_eq!(parse_metres("400 m", INCH), Some(400));
        assert_eq!(parse_grams("100", CM), Some(100));
        assert_eq!(parse_grams("3.5", INCH), Some(99));
        assert_eq!(parse_grams("3,53 oz", CM), Some(100));
        assert_eq!(parse_grams("100 g", INCH), Some(100));
        for text in ["", "a lot", "-3", "oz", "1e9", "99999999"] {
            assert_eq!(parse_grams(text, INCH), None, "{text}");
            assert_eq!(parse_metres(text, INCH), None, "{text}");
        }
    }

    #[test]
    fn what_is_written_to_be_typed_over_reads_back() {
        for amount in 1..6_000 {
            for unit in [CM, INCH] {
                let metres = parse_metres(&plain_metres(amount, unit), unit);
                assert_eq!(metres, Some(amount), "{unit:?}");
                let grams = parse_grams(&plain_grams(amount, unit), unit);
                assert_eq!(grams, Some(amount), "{unit:?}");
            }
        }
    }
}
