//! What a kitchen or letter scale says of yarn, and how sure that is. Whole numbers only.

use crate::error::{FieldError, Problem};
use crate::journal::Decigrams;
use crate::units::parse_number;

/// Heaviest yarn that can be weighed: two kilograms.
const HEAVIEST: Decigrams = 20_000;

/// Reads grams as a scale shows them: `41`, `41.5`, `41,5`.
///
/// # Errors
/// What can be entered.
pub fn read_grams(text: &str) -> Result<Decigrams, FieldError> {
    parse_number(text, 10)
        .and_then(|tenths| Decigrams::try_from(tenths).ok())
        .filter(|grams| *grams <= HEAVIEST)
        .ok_or_else(|| {
            let most = HEAVIEST / 10;
            FieldError::new("grams", Problem::NoWeight { most })
        })
}

/// The step of the scale that showed a weight: a gram where it showed whole grams, else a tenth.
pub const fn scale_step(shown: Decigrams) -> Decigrams {
    if shown.is_multiple_of(10) { 10 } else { 1 }
}

/// A weight that lies between two others, in hundredths of a gram.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Centigrams {
    pub least: u64,
    pub most: u64,
}

impl Centigrams {
    /// What is on a scale that shows so much: it rounds to its step.
    pub(super) fn shown(shown: Decigrams) -> Self {
        let (middle, half) = (u64::from(shown) * 10, half_step(shown));
        Self {
            least: middle.saturating_sub(half),
            most: middle + half,
        }
    }

    /// This one from which another one was taken.
    pub(super) const fn less(self, other: Self) -> Self {
        Self {
            least: self.least.saturating_sub(other.most),
            most: self.most.saturating_sub(other.least),
        }
    }

    /// To the tenth of a gram, never narrower than it is.
    pub(super) fn range(self) -> GramRange {
        let tenths = |tenths: u64| Decigrams::try_from(tenths).unwrap_or(Decigrams::MAX);
        GramRange {
            least: tenths(self.least / 10),
            most: tenths(self.most.div_ceil(10)),
        }
    }
}

/// By how much a scale's figure can be off, in hundredths of a gram.
pub(super) const fn half_step(shown: Decigrams) -> u64 {
    scale_step(shown) as u64 * 5
}

/// From the least to the most that it can be, in tenths of a gram.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GramRange {
    /// The least.
    pub least: Decigrams,
    /// The most.
    pub most: Decigrams,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn grams_are_read_as_a_scale_shows_them() {
        assert_eq!(read_grams("41"), Ok(410));
        assert_eq!(read_grams(" 41,5 "), Ok(415));
        assert_eq!(read_grams("41.5"), Ok(415));
        for text in ["", "many", "-3", "2001", "1e9"] {
            assert!(read_grams(text).is_err(), "{text}");
        }
    }

    #[test]
    fn a_scale_is_right_to_half_its_step() {
        assert_eq!(
            Centigrams::shown(620),
            Centigrams {
                least: 6_150,
                most: 6_250
            }
        );
        assert_eq!(
            Centigrams::shown(623),
            Centigrams {
                least: 6_225,
                most: 6_235
            }
        );
        assert_eq!(Centigrams::shown(0).least, 0);
        let used = Centigrams::shown(620).less(Centigrams::shown(600));
        assert_eq!(
            used,
            Centigrams {
                least: 100,
                most: 300
            }
        );
        assert_eq!(
            used.range(),
            GramRange {
                least: 10,
                most: 30
            }
        );
    }
}
