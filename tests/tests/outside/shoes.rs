//! Shoe sizes to foot lengths.
//!
//! Scales: EU sizes are Paris points of 2/3 cm, UK and US sizes barleycorns of 1/3 inch
//! (ISO/TS 19407:2015, preview). The rows are the standard's recommended markings as seen in a
//! second-hand copy; the standard's own tables were not seen.

use evenloop_engine::shoe::{Scale, foot_length};

/// Foot length in mm; EU, UK, US men's and US women's size, in halves (38½ is 77).
const ADULTS: [(u32, u16, u16, u16, u16); 9] = [
    (220, 70, 6, 8, 10),
    (230, 73, 8, 10, 12),
    (240, 76, 11, 13, 15),
    (250, 79, 13, 15, 17),
    (260, 82, 15, 17, 19),
    (270, 85, 18, 20, 22),
    (280, 88, 20, 22, 24),
    (290, 91, 22, 24, 26),
    (300, 94, 25, 27, 29),
];

/// A marking is rounded to half a size: a foot may be half of that off, and where the two EU lines
/// meet all of it.
const HALF_PARIS_POINT: u32 = 34;
const HALF_BARLEYCORN: u32 = 43;

#[test]
fn adults_sizes_are_the_standards_markings() {
    for (mm, eu, uk, men, women) in ADULTS {
        for (scale, halves, grace) in [
            // 35 is on the children's line.
            (Scale::Eu, eu, if eu == 70 { HALF_PARIS_POINT } else { 1 }),
            (Scale::Uk, uk, HALF_BARLEYCORN / 2),
            (Scale::UsMen, men, HALF_BARLEYCORN / 2),
            (Scale::UsWomen, women, HALF_BARLEYCORN / 2),
        ] {
            let length = foot_length(scale, halves).expect("a size of the scale");
            assert!(
                length.0.abs_diff(mm * 10) <= grace,
                "{scale:?} {}: {length}, marked for {mm} mm",
                f32::from(halves) / 2.0
            );
        }
    }
}

/// Foot length in mm; EU, child UK and child US size in halves, sizes after 13½ counted on.
const CHILDREN: [(u32, u16, u16, u16); 6] = [
    (120, 39, 7, 8),
    (140, 45, 12, 13),
    (160, 52, 18, 19),
    (180, 58, 23, 24),
    // 1 after 13½, and 1½.
    (200, 65, 28, 29),
    (220, 71, 33, 34),
];

#[test]
fn childrens_sizes_are_the_standards_markings() {
    for (mm, eu, uk, us) in CHILDREN {
        for (scale, halves) in [(Scale::UkChild, uk), (Scale::UsChild, us)] {
            let length = foot_length(scale, halves).expect("a size of the scale");
            assert_eq!(length.0, mm * 10, "{scale:?} {halves} halves");
        }
        // 35½ is the smallest of the adults' EU sizes here: theirs is 3 mm longer.
        let length = foot_length(Scale::Eu, eu).expect("a size of the scale");
        assert!(
            length.0.abs_diff(mm * 10) <= HALF_PARIS_POINT,
            "EU {eu} halves: {length}"
        );
    }
}
