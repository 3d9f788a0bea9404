//! Looks at what not every sock has: a shaped leg, a motif, several yarns.

use super::FaultList;
use crate::error::{FieldError, Problem};
use crate::pattern::sizes;
use crate::recipe::{MOST_GIRTHS, Motif, MotifPlacement, Recipe, STRIPES};

/// Most characters of a written pattern: a recipe with it stays below what is read of a document.
pub(crate) const MOST_OF_PATTERN: usize = 12_000;

impl Recipe {
    pub(super) fn check_calf(&self, seen: &mut FaultList) {
        let places = self.calf.len();
        seen.that(places <= MOST_GIRTHS, || {
            FieldError::new(
                "calf",
                Problem::TooManyGirths {
                    places,
                    most: MOST_GIRTHS,
                },
            )
        });
        let ascending = self.calf.windows(2).all(|w| w[0].height < w[1].height);
        seen.that(ascending, || {
            FieldError::new("calf", Problem::GirthsNotAscending)
        });
        let all_round = self
            .motif
            .as_ref()
            .is_some_and(|m| m.place == MotifPlacement::AllRound);
        for (shaped, field) in [
            (!self.calf.is_empty(), "calf"),
            (self.fit.tender_legs, "fit.tender_legs"),
        ] {
            seen.that(!shaped || !all_round, || {
                FieldError::new(field, Problem::MotifRoundShapedLeg)
            });
        }
    }

    pub(super) fn check_written(&self, seen: &mut FaultList) {
        let Some(written) = &self.written else { return };
        let characters = written.text.chars().count();
        seen.that(characters <= MOST_OF_PATTERN, || {
            FieldError::new(
                "written.text",
                Problem::PatternTooLong {
                    characters,
                    most: MOST_OF_PATTERN,
                },
            )
        });
        let sizes = sizes(&written.text);
        let size = written.size.map_or(1, |size| usize::from(size) + 1);
        seen.that(size <= sizes, || {
            FieldError::new("written.size", Problem::NoSuchPatternSize { size, sizes })
        });
    }

    pub(super) fn check_motif(&self, seen: &mut FaultList) {
        if let Some(Err(error)) = self.motif.as_ref().map(Motif::check) {
            seen.that(false, || error);
        }
    }

    /// A motif's fabric is no less than half as wide and not twice as wide as stockinette (from memory).
    pub(super) fn check_pattern_swatch(&self, seen: &mut FaultList) {
        let Some(pattern) = self.swatch.pattern else {
            return;
        };
        let plain = u64::from(self.swatch.width.0) * u64::from(pattern.stitches);
        let patterned = u64::from(pattern.width.0) * u64::from(self.swatch.stitches);
        seen.that(2 * patterned >= plain && patterned <= 2 * plain, || {
            FieldError::new("swatch.pattern.stitches", Problem::PatternSwatchFarOff)
        });
    }

    /// Nor are its rounds half as tall or twice as tall (from memory).
    pub(super) fn check_pattern_rounds(&self, seen: &mut FaultList) {
        let Some(pattern) = self.swatch.pattern_rounds else {
            return;
        };
        let plain = u64::from(self.swatch.height.0) * u64::from(pattern.rounds);
        let patterned = u64::from(pattern.height.0) * u64::from(self.swatch.rounds);
        seen.that(2 * patterned >= plain && patterned <= 2 * plain, || {
            FieldError::new("swatch.pattern_rounds.rounds", Problem::PatternRoundsFarOff)
        });
    }

    pub(super) fn check_yarns(&self, seen: &mut FaultList) {
        let Some(yarns) = &self.yarns else { return };
        let stripes = u16::try_from(yarns.stripes.len()).unwrap_or(u16::MAX);
        seen.that(STRIPES.contains(&stripes), || {
            let problem = Problem::StripesOutOfRange {
                stripes,
                least: *STRIPES.start(),
                most: *STRIPES.end(),
            };
            FieldError::new("yarns.stripes", problem)
        });
    }
}
