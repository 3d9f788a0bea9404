//! Looks at every number of a recipe against its range, and says kindly what is wrong where.
//! All errors are gathered, so that the knitter mends them in one go.
//!
//! May use recipes, written patterns and typed problems. Must not know how a sock is planned, nor any sentence.

mod extras;
mod motif;
mod seen;

use self::seen::FaultList;
use crate::error::{FieldError, Problem};
use crate::recipe::{BindOff, CastOn, Direction, Heel, NumberField, Recipe, Toe, ToeCastOn};

impl Recipe {
    /// Checks every number against its range.
    ///
    /// # Errors
    /// All fields out of range, each with its range.
    pub fn check(&self) -> Result<(), Vec<FieldError>> {
        let mut seen = FaultList(Vec::new());
        for field in NumberField::all() {
            seen.number(self, field);
        }
        self.check_tube(&mut seen);
        self.check_heel(&mut seen);
        self.check_toe(&mut seen);
        self.check_edges(&mut seen);
        self.check_calf(&mut seen);
        self.check_motif(&mut seen);
        self.check_pattern_swatch(&mut seen);
        self.check_pattern_rounds(&mut seen);
        self.check_yarns(&mut seen);
        self.check_written(&mut seen);
        if seen.0.is_empty() {
            Ok(())
        } else {
            Err(seen.0)
        }
    }

    fn check_tube(&self, seen: &mut FaultList) {
        seen.that(self.leg >= self.cuff.length, || {
            FieldError::new(
                "leg",
                Problem::LegShorterThanCuff {
                    leg: self.leg,
                    cuff: self.cuff.length,
                },
            )
        });
        let n = self.stitches.unwrap_or(4);
        seen.that(n.is_multiple_of(4), || {
            let (below, above) = self.multiples_near(n, 4);
            FieldError::new(
                "stitches",
                Problem::StitchesNotQuartered {
                    stitches: n,
                    below,
                    above,
                },
            )
        });
    }

    fn check_heel(&self, seen: &mut FaultList) {
        let (rows, height) = match self.heel {
            Heel::FlapAndGusset { rows, height, .. } => (rows, height),
            Heel::ShortRow { .. } | Heel::Afterthought { .. } => (None, None),
        };
        seen.that(rows.is_none() || height.is_none(), || {
            FieldError::new("heel.height", Problem::FlapRowsAndHeight)
        });
        seen.that(
            !self.fit.high_instep || !self.heel.is_knitted_last(),
            || FieldError::new("fit.high_instep", Problem::HighInstepAfterthought),
        );
        let rows = rows.unwrap_or(2);
        seen.that(rows.is_multiple_of(2), || {
            FieldError::new("heel.rows", Problem::FlapRowsOdd { rows })
        });
    }

    /// For tender legs the edge is chosen; no other one was asked for.
    fn check_edges(&self, seen: &mut FaultList) {
        let (field, tubular) = match self.direction {
            Direction::CuffDown => ("cast_on", self.cast_on == CastOn::Tubular),
            Direction::ToeUp => (
                "bind_off",
                self.bind_off == BindOff::Tubular && !self.sews_hem(),
            ),
        };
        let possible = self.tubular_rib().is_some() || self.fit.tender_legs;
        seen.that(!tubular || possible, || {
            let cast_on = self.direction == Direction::CuffDown;
            FieldError::new(field, Problem::TubularEdgeRib { cast_on })
        });
        let provisional =
            self.direction == Direction::ToeUp && self.toe_cast_on == ToeCastOn::Provisional;
        seen.that(!provisional || self.toe == Toe::ShortRow, || {
            FieldError::new("toe_cast_on", Problem::ProvisionalToe)
        });
    }

    fn check_toe(&self, seen: &mut FaultList) {
        seen.that(
            self.direction == Direction::CuffDown || self.toe != Toe::Round,
            || FieldError::new("toe.kind", Problem::RoundToeFirst),
        );
        seen.that(!self.fit.wide_toes || self.toe != Toe::Round, || {
            FieldError::new("fit.wide_toes", Problem::RoundToeWide)
        });
    }
}
