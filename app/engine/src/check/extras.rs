//! Looks at what not every sock has: a shaped leg, a motif, several yarns.

use super::Seen;
use crate::error::{FieldError, Problem};
use crate::recipe::{MOST_GIRTHS, Motif, MotifPlacement, Recipe, STRIPES};

impl Recipe {
    pub(super) fn check_calf(&self, seen: &mut Seen) {
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
        seen.that(self.calf.is_empty() || !all_round, || {
            FieldError::new("calf", Problem::MotifRoundShapedLeg)
        });
    }

    pub(super) fn check_motif(&self, seen: &mut Seen) {
        if let Some(Err(error)) = self.motif.as_ref().map(Motif::check) {
            seen.that(false, || error);
        }
    }

    pub(super) fn check_yarns(&self, seen: &mut Seen) {
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
