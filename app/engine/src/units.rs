//! Lengths and masses as integers, so that the phone and the server agree to the last digit.
//! Knows how people write them (24, 24.5, 24,5 cm, 9 1/2 in); knows nothing of feet.

use std::fmt;

use serde::{Deserialize, Serialize};

/// A length in tenths of a millimetre.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(transparent)]
pub struct Length(pub u32);

/// In which unit lengths are shown and read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum LengthUnit {
    /// Centimetres.
    #[default]
    Cm,
    /// Inches.
    Inch,
}

/// Why a text is no length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotALength {
    /// It is no number; a number of this unit was expected.
    NoNumber(LengthUnit),
    /// It is too large a number.
    TooLarge,
}

/// Tenths of a millimetre in an inch (exact by definition).
const PER_INCH: u64 = 254;

impl Length {
    /// A length of whole millimetres.
    pub const fn mm(mm: u32) -> Self {
        Self(mm * 10)
    }

    /// A length of whole centimetres.
    pub const fn cm(cm: u32) -> Self {
        Self(cm * 100)
    }

    /// Tenths of a millimetre.
    pub const fn tenths(self) -> u32 {
        self.0
    }

    /// As centimetres, for pictures and the yarn model only.
    pub fn as_cm(self) -> f64 {
        f64::from(self.0) / 100.0
    }

    /// This length less another, not below nothing.
    #[must_use]
    pub const fn less(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }

    /// Reads what a person typed. A number without a unit is in `unit`. Accepts a decimal point or
    /// comma, a fraction for inches, and the endings `cm`, `mm`, `in`, `"`.
    ///
    /// # Errors
    /// What was expected instead.
    pub fn parse(text: &str, unit: LengthUnit) -> Result<Self, NotALength> {
        let text = text
            .trim()
            .to_ascii_lowercase()
            .replace('¼', " 1/4")
            .replace('½', " 1/2")
            .replace('¾', " 3/4");
        let endings = [
            ("cm", 100),
            ("mm", 10),
            ("inches", PER_INCH),
            ("inch", PER_INCH),
            ("in", PER_INCH),
            ("\"", PER_INCH),
            ("”", PER_INCH),
            ("″", PER_INCH),
        ];
        let (number, scale) = endings
            .iter()
            .find_map(|(end, scale)| text.strip_suffix(end).map(|n| (n.trim(), *scale)))
            .unwrap_or((
                text.as_str(),
                match unit {
                    LengthUnit::Cm => 100,
                    LengthUnit::Inch => PER_INCH,
                },
            ));
        let tenths = parse_number(number, scale).ok_or(NotALength::NoNumber(unit))?;
        u32::try_from(tenths)
            .map(Self)
            .map_err(|_| NotALength::TooLarge)
    }

    /// To the nearest whole centimetre, for what is only "about" so long.
    #[must_use]
    pub const fn about(self) -> Self {
        Self(self.0.saturating_add(50) / 100 * 100)
    }

    /// To the nearest round figure of a unit: half a centimetre, or a quarter of an inch. For usual
    /// lengths, which were not measured.
    #[must_use]
    pub const fn round_figure(self, unit: LengthUnit) -> Self {
        match unit {
            LengthUnit::Cm => Self(self.0.saturating_add(25) / 50 * 50),
            LengthUnit::Inch => {
                let quarters = (self.0 as u64 * 4 + PER_INCH / 2) / PER_INCH;
                let tenths = (quarters * PER_INCH + 2) / 4;
                // at most a quarter of an inch more than a u32
                if tenths > u32::MAX as u64 {
                    self
                } else {
                    #[allow(clippy::cast_possible_truncation)] // looked at above
                    Self(tenths as u32)
                }
            }
        }
    }

    /// Like [`Self::show`] for what may be no taller than a round: an inch is shown in eighths, and nothing
    /// that is there as nothing.
    pub fn show_small(self, unit: LengthUnit) -> String {
        if unit == LengthUnit::Cm {
            return self.show(unit);
        }
        let eighths = scaled(self.0.into(), 8, PER_INCH).max(u64::from(self.0 > 0));
        let fraction = ["", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"];
        let fraction = fraction[usize::try_from(eighths % 8).unwrap_or(0)];
        match (eighths / 8, fraction) {
            (0, "") => "0\u{a0}in".to_owned(),
            (0, part) => format!("{part}\u{a0}in"),
            (whole, part) => format!("{whole}{part}\u{a0}in"),
        }
    }

    /// Shown in a unit: whole tenths of a centimetre, or quarters of an inch, to the nearest. A number and
    /// its unit stay on one line (no-break space).
    pub fn show(self, unit: LengthUnit) -> String {
        self.show_rounded(unit, 1)
    }

    /// For what is only "about" so long: whole centimetres or inches, to the nearest.
    pub fn show_about(self, unit: LengthUnit) -> String {
        match unit {
            LengthUnit::Cm => self.about().show(unit),
            LengthUnit::Inch => {
                format!("{}\u{a0}in", (u64::from(self.0) + PER_INCH / 2) / PER_INCH)
            }
        }
    }

    /// To the tenth of a millimetre, so that what is just outside of a range does not look as if it lay
    /// inside: as [`Self::show`] where that is exact, else with as many decimals as it takes.
    pub fn show_exact(self, unit: LengthUnit) -> String {
        let (thousandths, name) = match unit {
            LengthUnit::Cm => (u64::from(self.0) * 10, "cm"),
            LengthUnit::Inch if u64::from(self.0) * 4 % PER_INCH == 0 => return self.show(unit),
            LengthUnit::Inch => (scaled(self.0.into(), 1000, PER_INCH), "in"),
        };
        let decimals = format!("{:03}", thousandths % 1000);
        match decimals.trim_end_matches('0') {
            "" => format!("{}\u{a0}{name}", thousandths / 1000),
            decimals => format!("{}.{decimals}\u{a0}{name}", thousandths / 1000),
        }
    }

    /// Like [`Self::show`], never shorter than it is.
    pub fn show_least(self, unit: LengthUnit) -> String {
        self.show_rounded(unit, 2)
    }

    /// Like [`Self::show`], never longer than it is.
    pub fn show_most(self, unit: LengthUnit) -> String {
        self.show_rounded(unit, 0)
    }

    /// Rounds down with 0, to the nearest with 1, up with 2.
    fn show_rounded(self, unit: LengthUnit, halves: u64) -> String {
        let steps = |step: u64, per: u64| {
            let more = match halves {
                0 => 0,
                1 => step / 2,
                _ => step - 1,
            };
            (u64::from(self.0) * per + more) / step
        };
        match unit {
            LengthUnit::Cm => {
                let mm = steps(10, 1);
                if mm.is_multiple_of(10) {
                    format!("{}\u{a0}cm", mm / 10)
                } else {
                    format!("{}.{}\u{a0}cm", mm / 10, mm % 10)
                }
            }
            LengthUnit::Inch => {
                let quarters = steps(PER_INCH, 4);
                let fraction = ["", "¼", "½", "¾"][usize::try_from(quarters % 4).unwrap_or(0)];
                match (quarters / 4, fraction) {
                    (0, "") => "0\u{a0}in".to_owned(),
                    (0, part) => format!("{part}\u{a0}in"),
                    (whole, part) => format!("{whole}{part}\u{a0}in"),
                }
            }
        }
    }
}

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.show(LengthUnit::Cm))
    }
}

/// `text` times `scale`, rounded to the nearest whole; reads `12`, `12.5`, `12,5`, `12 1/2`, `1/2`.
pub(crate) fn parse_number(text: &str, scale: u64) -> Option<u64> {
    let text = text.trim();
    if let Some((front, bottom)) = text.split_once('/') {
        let (whole, top) = match front.trim().rsplit_once(' ') {
            Some((whole, top)) => (whole.trim().parse::<u64>().ok()?, top),
            None => (0, front.trim()),
        };
        let top: u64 = top.trim().parse().ok()?;
        let bottom: u64 = bottom.trim().parse().ok()?;
        if bottom == 0 || bottom > 64 || top > 1_000 || whole > 100_000 {
            return None;
        }
        return Some(whole * scale + (top * scale + bottom / 2) / bottom);
    }
    let (whole, part) = text.split_once(['.', ',']).unwrap_or((text, ""));
    if (whole.is_empty() && part.is_empty()) || whole.len() > 6 || part.len() > 6 {
        return None;
    }
    let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
    if !digits(whole) || !digits(part) {
        return None;
    }
    let whole: u64 = if whole.is_empty() {
        0
    } else {
        whole.parse().ok()?
    };
    let power = 10_u64.pow(u32::try_from(part.len()).ok()?);
    let part: u64 = if part.is_empty() {
        0
    } else {
        part.parse().ok()?
    };
    Some(whole * scale + (part * scale + power / 2) / power)
}

/// `a * b / c`, rounded to the nearest whole; the arithmetic behind every count.
pub(crate) const fn scaled(a: u64, b: u64, c: u64) -> u64 {
    (a * b + c / 2) / c
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_people_write() {
        let read = |s, u| Length::parse(s, u).map(Length::tenths);
        assert_eq!(read("24", LengthUnit::Cm), Ok(2400));
        assert_eq!(read(" 24,5 cm", LengthUnit::Inch), Ok(2450));
        assert_eq!(read("245mm", LengthUnit::Cm), Ok(2450));
        assert_eq!(read("9 1/2", LengthUnit::Inch), Ok(2413));
        assert_eq!(read("9.5\"", LengthUnit::Cm), Ok(2413));
        assert_eq!(read(".5", LengthUnit::Cm), Ok(50));
        assert_eq!(read("9½ in", LengthUnit::Cm), Ok(2413));
        assert_eq!(read("¾", LengthUnit::Inch), Ok(191));
        for bad in ["", "abc", "-3", "1/0", "9e9", "12345678", "."] {
            assert!(read(bad, LengthUnit::Cm).is_err(), "{bad} was read");
        }
    }

    #[test]
    fn shows_them_again() {
        assert_eq!(Length(2450).to_string(), "24.5\u{a0}cm");
        assert_eq!(Length::cm(24).to_string(), "24\u{a0}cm");
        assert_eq!(Length(2413).show(LengthUnit::Inch), "9½\u{a0}in");
    }

    #[test]
    fn what_is_just_outside_of_a_range_is_said_as_outside() {
        for unit in [LengthUnit::Cm, LengthUnit::Inch] {
            // A text of either unit in thousandths.
            let read = |text: String| {
                let text = text.replace(['\u{a0}', 'c', 'm', 'i', 'n'], "");
                let text = text
                    .replace('¼', ".25")
                    .replace('½', ".5")
                    .replace('¾', ".75");
                parse_number(&text, 1000).expect("a number")
            };
            for tenths in 1..4_000 {
                let length = Length(tenths);
                let least = read(length.show_least(unit));
                let most = read(length.show_most(unit));
                assert!(
                    read(Length(tenths - 1).show_exact(unit)) < least,
                    "{length} {unit:?}"
                );
                assert!(
                    read(Length(tenths + 1).show_exact(unit)) > most,
                    "{length} {unit:?}"
                );
            }
        }
        assert_eq!(Length(899).show_exact(LengthUnit::Cm), "8.99\u{a0}cm");
        assert_eq!(Length(2413).show_exact(LengthUnit::Inch), "9½\u{a0}in");
        assert_eq!(Length(899).show_exact(LengthUnit::Inch), "3.539\u{a0}in");
    }

    #[test]
    fn round_figures_are_round_in_their_unit() {
        let [cm, inch] = [LengthUnit::Cm, LengthUnit::Inch];
        assert_eq!(Length::mm(162).round_figure(cm), Length::mm(160));
        let round = |mm| Length::mm(mm).round_figure(inch).show_exact(inch);
        for (mm, shown) in [(160, "6¼"), (40, "1½"), (10, "½"), (100, "4"), (240, "9½")] {
            let read = Length::parse(&round(mm), inch).expect("a length");
            assert_eq!(read.show(inch), format!("{shown}\u{a0}in"), "{mm}");
            // a quarter of an inch is no whole number of tenths of a millimetre
            let quarters = u64::from(read.tenths()) * 4;
            assert!((quarters + 2) % PER_INCH <= 4, "{mm}: {read}");
        }
        let longest = Length(u32::MAX).round_figure(inch);
        assert!(longest.0.abs_diff(u32::MAX) < 64, "{longest}");
    }

    #[test]
    fn one_round_is_not_nothing() {
        let inch = LengthUnit::Inch;
        assert_eq!(Length(24).show_small(inch), "⅛\u{a0}in");
        assert_eq!(Length(1).show_small(inch), "⅛\u{a0}in");
        assert_eq!(Length(0).show_small(inch), "0\u{a0}in");
        assert_eq!(Length::mm(54).show_small(inch), "2⅛\u{a0}in");
        assert_eq!(Length(24).show_small(LengthUnit::Cm), "0.2\u{a0}cm");
    }

    #[test]
    fn about_so_long_is_whole() {
        assert_eq!(Length::mm(204).show_about(LengthUnit::Cm), "20\u{a0}cm");
        assert_eq!(Length::mm(204).show_about(LengthUnit::Inch), "8\u{a0}in");
    }

    #[test]
    fn a_range_as_it_is_said_lies_inside_the_range() {
        for tenths in 1..4_000 {
            let length = Length(tenths);
            for unit in [LengthUnit::Cm, LengthUnit::Inch] {
                let read = |text: String| Length::parse(&text, unit).expect("a length").tenths();
                // A tenth of a millimetre is lost where an inch is no whole number of them.
                assert!(read(length.show_least(unit)) >= tenths, "{length} {unit:?}");
                assert!(read(length.show_most(unit)) <= tenths, "{length} {unit:?}");
            }
        }
    }
}
