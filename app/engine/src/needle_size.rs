//! Needle sizes: millimetres and what they are called in America and in Britain.
//!
//! Millimetres are the size; the numbers are labels for people who think in them. American numbers
//! differ by maker (2.5 and 3 mm are 1½ and 2½ on some charts and have none on others). Old British
//! numbers follow the Imperial wire gauge, the thicker the smaller. Sources and doubts row by row:
//! the outside checks.
//!
//! Pure. Must not know what is knitted on them.

use std::fmt;

use serde::{Deserialize, Serialize};

/// One size of needle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NeedleSize {
    /// Diameter in hundredths of a millimetre.
    pub hundredths: u16,
    /// The American number.
    pub us: &'static str,
    /// The old British and Canadian number, where there is one.
    pub uk: Option<&'static str>,
}

const fn size(hundredths: u16, us: &'static str, uk: Option<&'static str>) -> NeedleSize {
    NeedleSize { hundredths, us, uk }
}

/// Sizes that socks are knitted on, thin to thick.
pub static SIZES: [NeedleSize; 16] = [
    size(125, "0000", Some("18")),
    size(150, "000", Some("17")),
    size(175, "00", Some("15")),
    size(200, "0", Some("14")),
    size(225, "1", Some("13")),
    size(250, "1½", None),
    size(275, "2", Some("12")),
    size(300, "2½", Some("11")),
    size(325, "3", Some("10")),
    size(350, "4", None),
    size(375, "5", Some("9")),
    size(400, "6", Some("8")),
    size(450, "7", Some("7")),
    size(500, "8", Some("6")),
    size(550, "9", Some("5")),
    size(600, "10", Some("4")),
];

/// A needle of one of [`SIZES`]; written as its diameter in hundredths of a millimetre.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "u16", into = "u16")]
pub struct Needle(&'static NeedleSize);

impl Needle {
    /// Every needle, thin to thick.
    pub fn all() -> impl ExactSizeIterator<Item = Self> {
        SIZES.iter().map(Self)
    }

    /// What it is called.
    pub const fn size(self) -> &'static NeedleSize {
        self.0
    }

    /// The next thicker one; `None` after the thickest.
    pub fn larger(self) -> Option<Self> {
        SIZES
            .iter()
            .find(|size| size.hundredths > self.0.hundredths)
            .map(Self)
    }
}

impl TryFrom<u16> for Needle {
    type Error = String;

    fn try_from(hundredths: u16) -> Result<Self, String> {
        of_hundredths(hundredths).map(Self).ok_or_else(|| {
            format!(
                "no needle is {hundredths} hundredths of a millimetre thick; sizes are 125 to 600"
            )
        })
    }
}

impl From<Needle> for u16 {
    fn from(needle: Needle) -> Self {
        needle.0.hundredths
    }
}

impl fmt::Display for Needle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// The size of that diameter, in hundredths of a millimetre; `None` where no size is exactly so.
pub fn of_hundredths(hundredths: u16) -> Option<&'static NeedleSize> {
    SIZES.iter().find(|s| s.hundredths == hundredths)
}

impl NeedleSize {
    /// The diameter as it is written: "2 mm", "2.5 mm", "2.25 mm".
    pub fn millimetres(&self) -> String {
        let (whole, part) = (self.hundredths / 100, self.hundredths % 100);
        match (part, part % 10) {
            (0, _) => format!("{whole}\u{a0}mm"),
            (_, 0) => format!("{whole}.{}\u{a0}mm", part / 10),
            _ => format!("{whole}.{part:02}\u{a0}mm"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_written_as_people_write_them() {
        let said = |hundredths| of_hundredths(hundredths).map(ToString::to_string);
        assert_eq!(said(200).as_deref(), Some("2\u{a0}mm (US 0, UK 14)"));
        assert_eq!(said(225).as_deref(), Some("2.25\u{a0}mm (US 1, UK 13)"));
        assert_eq!(said(250).as_deref(), Some("2.5\u{a0}mm (US 1½)"));
        assert_eq!(said(226), None);
    }

    #[test]
    fn a_needle_is_stored_as_its_diameter() {
        for needle in Needle::all() {
            let text = serde_json::to_string(&needle).expect("a number");
            assert_eq!(
                serde_json::from_str::<Needle>(&text).expect("a needle"),
                needle
            );
            assert!(
                needle
                    .larger()
                    .is_none_or(|l| l.size().hundredths > needle.size().hundredths)
            );
        }
        assert_eq!(Needle::all().filter(|n| n.larger().is_none()).count(), 1);
        let wrong = serde_json::from_str::<Needle>("226").expect_err("no needle is so thick");
        assert!(wrong.to_string().contains("125 to 600"), "{wrong}");
    }

    #[test]
    fn sizes_go_from_thin_to_thick() {
        assert!(SIZES.is_sorted_by(|a, b| a.hundredths < b.hundredths));
    }
}
