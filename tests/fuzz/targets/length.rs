//! Any text is read as a length (or a weight) or refused with what was expected; what is shown of it can be
//! typed again.
#![no_main]

use evenloop_engine::text::length_expected;
use evenloop_engine::units::{Length, LengthUnit};
use evenloop_engine::yarn::read_grams;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|data: &[u8]| {
    let Some((_, raw)) = data.split_first() else {
        return;
    };
    let Ok(text) = std::str::from_utf8(raw) else {
        return;
    };
    let _ = read_grams(text);
    for unit in [LengthUnit::Cm, LengthUnit::Inch] {
        match Length::parse(text, unit) {
            Ok(length) => {
                // Longest number that may be typed: six digits.
                for (shown, half) in [
                    (length.show(LengthUnit::Cm), 5),
                    (length.show(LengthUnit::Inch), 32),
                ] {
                    if let Ok(again) = Length::parse(&shown, unit) {
                        assert!(again.0.abs_diff(length.0) <= half, "{text}: {shown}");
                    } else {
                        assert!(length.0 > 9_999_900, "{text}: {shown} cannot be typed");
                    }
                }
            }
            Err(why) => assert!(!length_expected(why).is_empty()),
        }
    }
});
