//! Lengths as they are written into a line of the form.

use evenloop_engine::units::{Length, LengthUnit};

/// A length as a bare number: to a tenth of a millimetre or a hundredth of an inch, without idle
/// zeros.
pub(in crate::screens::measure) fn plain_number(length: Length, unit: LengthUnit) -> String {
    let hundredths = match unit {
        LengthUnit::Cm => u64::from(length.tenths()),
        LengthUnit::Inch => (u64::from(length.tenths()) * 100 + 127) / 254,
    };
    let (whole, part) = (hundredths / 100, hundredths % 100);
    match (part, part % 10) {
        (0, _) => whole.to_string(),
        (_, 0) => format!("{whole}.{}", part / 10),
        _ => format!("{whole}.{part:02}"),
    }
}
