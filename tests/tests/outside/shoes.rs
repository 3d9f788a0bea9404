//! Shoe sizes to foot lengths.
//!
//! Scales: EU sizes are Paris points of 2/3 cm, UK and US sizes barleycorns of 1/3 inch
//! (ISO/TS 19407:2015, preview). The rows are the standard's recommended markings as seen in a
//! second-hand copy; the standard's own tables were not seen.

use evenloop_engine::shoe::{Scale, foot_length};

/// The standard's recommended markings (second-hand, see above).
const MARKINGS: &str = "ISO 19407, recommended marking, second-hand";
/// The same; the marking is half a size below the formula's nearest.
const HALF_BELOW: &str =
    "ISO 19407, recommended marking, second-hand: half a size below its formula";

/// Foot length in mm; EU, UK, US men's and US women's size, in halves (38½ is 77); how much longer
/// the engine's foot is, in tenths of a millimetre, on the EU and on the other scales; source.
///
/// Why it differs: a marking is rounded to half a size (EU down, the others to the nearest), which
/// is 3.3 mm of foot on the EU scale and 4.2 mm on the others; the engine turns the size back into
/// the length that the formula has for it. EU sizes below 35½ are on the children's line.
type Row = (u32, [u16; 4], i64, i64, &'static str);

const ADULTS: [Row; 9] = [
    (220, [70, 6, 8, 10], -34, 1, MARKINGS),
    (230, [73, 8, 10, 12], 0, -14, MARKINGS),
    (240, [76, 11, 13, 15], 0, 13, MARKINGS),
    (250, [79, 13, 15, 17], 0, -2, MARKINGS),
    (260, [82, 15, 17, 19], 0, -18, MARKINGS),
    (270, [85, 18, 20, 22], 0, 9, MARKINGS),
    (280, [88, 20, 22, 24], 0, -6, MARKINGS),
    (290, [91, 22, 24, 26], 0, -21, HALF_BELOW),
    (300, [94, 25, 27, 29], 0, 6, MARKINGS),
];

#[test]
fn adults_sizes_are_the_standards_markings() {
    for (mm, sizes, eu_longer, longer, source) in ADULTS {
        let scales = [Scale::Eu, Scale::Uk, Scale::UsMen, Scale::UsWomen];
        for (scale, halves) in scales.into_iter().zip(sizes) {
            let length = foot_length(scale, halves).expect("a size of the scale");
            let expected = if scale == Scale::Eu {
                eu_longer
            } else {
                longer
            };
            let seen = i64::from(length.0) - i64::from(mm) * 10;
            assert_eq!(
                seen,
                expected,
                "{scale:?} {}: {length}, marked for {mm} mm ({source})",
                f32::from(halves) / 2.0
            );
        }
    }
}

/// Two UK markings stand half a size below what the formula would be rounded to (a third, 210 mm,
/// is no adult's size here): the engine's foot is 2.1 mm shorter there, and as much longer at the
/// size half above. Foot length in mm, marked size in halves,
/// tenths of a millimetre by which the engine's foot is longer at that size and at half a size more.
const UK_HALF_BELOW: [(u32, u16, i64, i64); 2] = [(235, 9, -22, 21), (290, 22, -21, 21)];

#[test]
fn two_british_markings_are_half_a_size_low() {
    for (mm, halves, marked, above) in UK_HALF_BELOW {
        let longer = |halves| {
            let length = foot_length(Scale::Uk, halves).expect("a size of the scale");
            i64::from(length.0) - i64::from(mm) * 10
        };
        assert_eq!(
            (longer(halves), longer(halves + 1)),
            (marked, above),
            "{mm} mm ({HALF_BELOW})"
        );
    }
}

/// Foot length in mm; EU, child UK and child US size in halves, sizes after 13½ counted on; how
/// much longer the engine's foot is on the EU scale, in tenths of a millimetre; source. 35½ is the
/// smallest of the adults' EU sizes here, and their formula differs from the children's row.
const CHILDREN: [(u32, u16, u16, u16, i64, &str); 6] = [
    (120, 39, 7, 8, 0, MARKINGS),
    (140, 45, 12, 13, 0, MARKINGS),
    (160, 52, 18, 19, 0, MARKINGS),
    (180, 58, 23, 24, 0, MARKINGS),
    // 1 after 13½, and 1½.
    (200, 65, 28, 29, 0, MARKINGS),
    (220, 71, 33, 34, 33, MARKINGS),
];

#[test]
fn childrens_sizes_are_the_standards_markings() {
    for (mm, eu, uk, us, eu_longer, source) in CHILDREN {
        for (scale, halves, longer) in [
            (Scale::UkChild, uk, 0),
            (Scale::UsChild, us, 0),
            (Scale::Eu, eu, eu_longer),
        ] {
            let length = foot_length(scale, halves).expect("a size of the scale");
            let seen = i64::from(length.0) - i64::from(mm) * 10;
            assert_eq!(
                seen, longer,
                "{scale:?} {halves} halves, {mm} mm ({source})"
            );
        }
    }
}

/// The formulas themselves, to hundredths of a size: EU = 1.5 x cm + 2, UK = 3 x inches - 23, US men's one more
/// than that, US women's two (ISO/TS 19407:2015, preview). Foot length in mm, then EU, UK, US men's and women's.
const FORMULAS: [(u32, [f64; 4], &str); 14] = [
    (220, [35.00, 2.98, 3.98, 4.98], BY_FORMULA),
    (225, [35.75, 3.57, 4.57, 5.57], BY_FORMULA),
    (230, [36.50, 4.17, 5.17, 6.17], BY_FORMULA),
    (235, [37.25, 4.76, 5.76, 6.76], BY_FORMULA),
    (240, [38.00, 5.35, 6.35, 7.35], BY_FORMULA),
    (245, [38.75, 5.94, 6.94, 7.94], BY_FORMULA),
    (250, [39.50, 6.53, 7.53, 8.53], BY_FORMULA),
    (255, [40.25, 7.12, 8.12, 9.12], BY_FORMULA),
    (260, [41.00, 7.71, 8.71, 9.71], BY_FORMULA),
    (265, [41.75, 8.30, 9.30, 10.30], BY_FORMULA),
    (270, [42.50, 8.89, 9.89, 10.89], BY_FORMULA),
    (275, [43.25, 9.48, 10.48, 11.48], BY_FORMULA),
    (280, [44.00, 10.07, 11.07, 12.07], BY_FORMULA),
    (290, [45.50, 11.25, 12.25, 13.25], BY_FORMULA),
];
const BY_FORMULA: &str = "ISO/TS 19407:2015, formulas of the preview; worked out by hand";

/// A foot lies between those of two half sizes as the formula has it. The smallest is on the children's line of the
/// EU scale.
#[test]
fn feet_lie_between_half_sizes_as_the_formulas_have_it() {
    for (mm, sizes, source) in FORMULAS {
        let scales = [Scale::Eu, Scale::Uk, Scale::UsMen, Scale::UsWomen];
        for (scale, due) in scales.into_iter().zip(sizes) {
            if scale == Scale::Eu && mm == 220 {
                continue;
            }
            let (low, high) = scale.halves();
            let tenths = |halves| foot_length(scale, halves).map_or(0.0, |foot| f64::from(foot.0));
            let foot = f64::from(mm * 10);
            let below = (low..high).rev().find(|halves| tenths(*halves) <= foot);
            let below = below.expect("a size of the scale");
            let part = (foot - tenths(below)) / (tenths(below + 1) - tenths(below));
            let size = (f64::from(below) + part) * 0.5;
            // tables print hundredths, lengths are told in tenths of a millimetre
            assert!(
                (size - due).abs() < 0.014,
                "{scale:?}, {mm} mm: {size}, not {due} ({source})"
            );
        }
    }
}

/// A body chart gives 7.5 inches for the row of children's sizes 10 to 2 in America: Craft Yarn Council,
/// "Foot Size", that cell quoted for a child's 12 by knittingbeforeknittingwascool.wordpress.com (July
/// 2014). Our feet of that row lie on both sides of it; a 12 itself is 10.5 mm shorter, as the row is one length
/// for all its sizes.
#[test]
fn the_councils_foot_lies_within_its_row_of_sizes() {
    let [ten, twelve, two] = [20, 24, 30].map(|halves| {
        let foot = foot_length(Scale::UsChild, halves).expect("a size of the scale");
        i64::from(foot.0)
    });
    let council = 1905;
    assert!((ten..=two).contains(&council), "{ten} to {two}");
    assert_eq!(council - twelve, 105);
}
