//! Needle sizes and their labels.

use evenloop_engine::needle_size::{SIZES, of_hundredths};

use super::MEMORY;

const CONVERSIONS: &str = "milloutlets.wordpress.com, needle conversions UK, US, metric (2011)";
const COUNCIL: &str = "Craft Yarn Council, Standard Yarn Weight System, row 0 (seen in a copy)";
/// Makers differ, and many charts have no American number here (sizes.com/tools).
const DISPUTED: &str = "milloutlets.wordpress.com (2011); disputed";

/// Hundredths of a millimetre, US, UK, source.
type Row = (u16, &'static str, Option<&'static str>, &'static str);

const ROWS: [Row; 16] = [
    (125, "0000", Some("18"), MEMORY),
    (150, "000", Some("17"), COUNCIL),
    (175, "00", Some("15"), MEMORY),
    (200, "0", Some("14"), CONVERSIONS),
    (225, "1", Some("13"), CONVERSIONS),
    (250, "1½", None, DISPUTED),
    (275, "2", Some("12"), CONVERSIONS),
    (300, "2½", Some("11"), DISPUTED),
    (325, "3", Some("10"), CONVERSIONS),
    (350, "4", None, CONVERSIONS),
    (375, "5", Some("9"), CONVERSIONS),
    (400, "6", Some("8"), CONVERSIONS),
    (450, "7", Some("7"), CONVERSIONS),
    (500, "8", Some("6"), CONVERSIONS),
    (550, "9", Some("5"), CONVERSIONS),
    (600, "10", Some("4"), CONVERSIONS),
];

#[test]
fn needles_are_called_what_the_charts_call_them() {
    assert_eq!(SIZES.len(), ROWS.len());
    for (hundredths, us, uk, source) in ROWS {
        let size = of_hundredths(hundredths).unwrap_or_else(|| panic!("no needle of {hundredths}"));
        assert_eq!((size.us, size.uk), (us, uk), "{hundredths} ({source})");
    }
}

/// Imperial standard wire gauge, in thousandths of a millimetre (from memory).
const WIRE: [(&str, u32); 14] = [
    ("4", 5_893),
    ("5", 5_385),
    ("6", 4_877),
    ("7", 4_470),
    ("8", 4_064),
    ("9", 3_658),
    ("10", 3_251),
    ("11", 2_946),
    ("12", 2_642),
    ("13", 2_337),
    ("14", 2_032),
    ("15", 1_829),
    ("17", 1_422),
    ("18", 1_219),
];

/// Old British sizes are wire gauges (thefemininetouchdesigns.co.uk, 2023): each needle is the
/// metric size nearest to its wire, within an eighth of a millimetre.
#[test]
fn british_numbers_are_wire_gauges() {
    for size in &SIZES {
        let Some(uk) = size.uk else { continue };
        let (_, wire) = WIRE
            .iter()
            .find(|(number, _)| *number == uk)
            .expect("a wire");
        let off = wire.abs_diff(u32::from(size.hundredths) * 10);
        assert!(off <= 125, "{size} is {off} thousandths from its wire");
    }
}
