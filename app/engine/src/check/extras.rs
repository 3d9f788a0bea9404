//! Looks at what not every sock has: a shaped leg, a motif, several yarns.

use super::Seen;
use crate::error::FieldError;
use crate::recipe::{GIRTH, GIRTH_HEIGHT, MOST_GIRTHS, Place, Recipe, STRIPE_ROUNDS, STRIPES};

impl Recipe {
    pub(super) fn check_calf(&self, seen: &mut Seen) {
        let places = self.calf.len();
        seen.that(places <= MOST_GIRTHS, || {
            FieldError::new(
                "calf",
                format!(
                    "The leg is measured round at {places} places; it can be {MOST_GIRTHS} at most."
                ),
                "Ankle, calf and below the knee are usually enough.",
            )
        });
        for (i, girth) in self.calf.iter().enumerate() {
            seen.range(
                (
                    &format!("calf.{i}.height"),
                    "The height of a leg measurement",
                ),
                Some(girth.height),
                &GIRTH_HEIGHT,
                "Measure upward from where the heel begins.",
            );
            seen.range(
                (
                    &format!("calf.{i}.circumference"),
                    "The leg's circumference",
                ),
                Some(girth.circumference),
                &GIRTH,
                "Measure round the bare leg.",
            );
        }
        let ascending = self.calf.windows(2).all(|w| w[0].height < w[1].height);
        seen.that(ascending, || {
            FieldError::new(
                "calf",
                "The leg's measurements do not go upward.",
                "Give the lowest place first.",
            )
        });
        let all_round = self
            .motif
            .as_ref()
            .is_some_and(|m| m.place == Place::AllRound);
        seen.that(self.calf.is_empty() || !all_round, || {
            FieldError::new(
                "calf",
                "A leg that widens cannot carry the motif all round.",
                "Place the motif on the front: the leg widens at the back.",
            )
        });
    }

    pub(super) fn check_motif(&self, seen: &mut Seen) {
        if let Some(Err(error)) = self.motif.as_ref().map(crate::recipe::Motif::check) {
            seen.that(false, || error);
        }
    }

    pub(super) fn check_yarns(&self, seen: &mut Seen) {
        let Some(yarns) = &self.yarns else { return };
        let stripes = u16::try_from(yarns.stripes.len()).unwrap_or(u16::MAX);
        seen.range(
            ("yarns.stripes", "The number of stripes in the sequence"),
            Some(stripes),
            &STRIPES,
            "Enter the sequence once; it is knitted again and again.",
        );
        for (i, stripe) in yarns.stripes.iter().enumerate() {
            seen.range(
                (
                    &format!("yarns.stripes.{i}.rounds"),
                    "The rounds of a stripe",
                ),
                Some(stripe.rounds),
                &STRIPE_ROUNDS,
                "A stripe of one yarn alone can have any number up to that.",
            );
        }
    }
}
