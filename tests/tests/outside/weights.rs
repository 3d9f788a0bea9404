//! Yarn weights.

use std::ops::RangeInclusive;

use evenloop_engine::recipe::STITCH_GAUGE;
use evenloop_engine::swatch::{FirstGuess, Swatch};
use evenloop_engine::yarn_weight::WeightName;

const COUNCIL: &str = "Craft Yarn Council, Standard Yarn Weight System (seen in copies: \
                       hertzoffjo.blogspot.com, 2019; scribd.com/document/657653690)";

/// Number, stitches to 10 cm, source.
type Row = (u8, RangeInclusive<u16>, &'static str);

/// The two thickest (6 and 7, at most 11 stitches) are left out: no sock of ours is so coarse.
const ROWS: [Row; 6] = [
    (0, 33..=40, COUNCIL),
    (1, 27..=32, COUNCIL),
    (2, 23..=26, COUNCIL),
    (3, 21..=24, COUNCIL),
    (4, 16..=20, COUNCIL),
    (5, 12..=15, COUNCIL),
];

/// Every gauge that a recipe may have, up to the table's finest, is one of such yarn, and nothing thicker than
/// category 5 is.
#[test]
fn no_gauge_lies_between_two_weights() {
    assert!(*STITCH_GAUGE.start() > 11, "6 and 7 would be needed");
    for gauge in *STITCH_GAUGE.start()..=40 {
        let known = ROWS.iter().any(|(_, range, ..)| range.contains(&gauge));
        assert!(known, "{gauge} stitches to 10 cm");
    }
}

/// From memory; common practice, no source: what yarn gives in socks, as a first guess without a swatch.
/// Each lies in the council's range, or in the tighter one of socks: 28 to 36 stitches in category 1, up to 4
/// stitches finer than the council's 32 (from memory).
const GUESSES: [(WeightName, u16); 6] = [
    (WeightName::Lace, 36),
    (WeightName::Fingering, 32),
    (WeightName::Sport, 26),
    (WeightName::Dk, 24),
    (WeightName::Worsted, 20),
    (WeightName::Bulky, 15),
];

#[test]
fn a_first_guess_is_what_such_yarn_gives_in_socks() {
    for ((yarn, stitches), (number, range, source)) in GUESSES.into_iter().zip(ROWS) {
        let guess = FirstGuess {
            yarn,
            band_stitches: None,
        };
        let swatch = guess.swatch(Swatch::default());
        assert_eq!(swatch.stitches, stitches, "{number}");
        let tighter = number == 1 && (28..=36).contains(&stitches);
        assert!(
            range.contains(&stitches) || tighter,
            "{number}: {stitches} ({source})"
        );
        // rounds to stitches as in the swatches of the loop-length model: 1.35 to 1.4
        let rounds = u32::from(swatch.rounds) * 100 / u32::from(swatch.stitches);
        assert!((130..=145).contains(&rounds), "{number}: {rounds}");
    }
}
