//! Lengths as they are written into a line of the form.

use evenloop_engine::units::{Length, LengthUnit};

/// A length as a bare number: to a tenth of a millimetre or a hundredth of an inch, without idle
/// zeros.
pub(in crate::screens::measure) fn plain_number(length: Length, unit: LengthUnit) -> String {
    let hundredths = match unit {
        LengthUnit::Cm => u64::from(length.tenths()),
        LengthUnit::Inch => (u64::from(length.tenths()) * 100 + 127) / 254,
    };
    decimal(hundredths, 2)
}

/// The same, with as many decimals as it takes to read back as the same length.
pub(super) fn exact_number(length: Length, unit: LengthUnit) -> String {
    let plain = plain_number(length, unit);
    if Length::parse(&plain, unit) == Ok(length) {
        return plain;
    }
    decimal((u64::from(length.tenths()) * 1_000 + 127) / 254, 3)
}

/// A number of so many decimals, without idle zeros.
fn decimal(number: u64, decimals: usize) -> String {
    let power = 10_u64.pow(u32::try_from(decimals).unwrap_or(0));
    let part = format!("{:0decimals$}", number % power);
    match part.trim_end_matches('0') {
        "" => (number / power).to_string(),
        part => format!("{}.{part}", number / power),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_in_a_line_reads_back() {
        for tenths in 0..6_000 {
            for unit in [LengthUnit::Cm, LengthUnit::Inch] {
                let text = exact_number(Length(tenths), unit);
                assert_eq!(Length::parse(&text, unit), Ok(Length(tenths)), "{text}");
            }
        }
        assert_eq!(plain_number(Length::mm(230), LengthUnit::Inch), "9.06");
        assert_eq!(exact_number(Length::mm(230), LengthUnit::Inch), "9.055");
    }
}
