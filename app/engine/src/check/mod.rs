//! Looks at every number of a recipe against its range, and says kindly what is wrong where.
//! All errors are gathered: nobody likes to mend one only to be told of the next.

mod extras;
mod seen;

use self::seen::Seen;
use crate::error::{Counted, FieldError, Problem, Quantity};
use crate::recipe::{
    ADJUST, BALL_GRAMS, BALL_METRES, BETWEEN, CUFF_LENGTH, Direction, EASE_PERCENT, FLAP_HEIGHT,
    FLAP_ROWS, FOOT_CIRCUMFERENCE, FOOT_LENGTH, HEEL_DIAGONAL, Heel, LEG_LENGTH, LENGTH_EASE,
    ROUND_GAUGE, Recipe, STITCH_GAUGE, STITCHES, SWATCH_SIZE, Toe,
};

impl Recipe {
    /// Checks every number against its range.
    ///
    /// # Errors
    /// All fields out of range, each with its range.
    pub fn check(&self) -> Result<(), Vec<FieldError>> {
        let mut seen = Seen(Vec::new());
        self.check_measures(&mut seen);
        self.check_fit(&mut seen);
        self.check_tube(&mut seen);
        self.check_heel(&mut seen);
        self.check_toe(&mut seen);
        self.check_calf(&mut seen);
        self.check_motif(&mut seen);
        self.check_yarns(&mut seen);
        if seen.0.is_empty() {
            Ok(())
        } else {
            Err(seen.0)
        }
    }

    fn check_measures(&self, seen: &mut Seen) {
        let (foot, swatch) = (&self.foot, &self.swatch);
        seen.range(
            "foot.length".into(),
            Quantity::FootLength,
            Some(foot.length),
            &FOOT_LENGTH,
        );
        seen.range(
            "foot.circumference".into(),
            Quantity::FootCircumference,
            foot.circumference,
            &FOOT_CIRCUMFERENCE,
        );
        seen.range(
            "foot.heel_diagonal".into(),
            Quantity::HeelDiagonal,
            foot.heel_diagonal,
            &HEEL_DIAGONAL,
        );
        seen.range(
            "swatch.width".into(),
            Quantity::SwatchWidth,
            Some(swatch.width),
            &SWATCH_SIZE,
        );
        seen.range(
            "swatch.height".into(),
            Quantity::SwatchHeight,
            Some(swatch.height),
            &SWATCH_SIZE,
        );
        seen.gauge(
            "swatch.stitches",
            Counted::Stitches,
            swatch.stitch_gauge_tenths(),
            &STITCH_GAUGE,
        );
        seen.gauge(
            "swatch.rounds",
            Counted::Rounds,
            swatch.round_gauge_tenths(),
            &ROUND_GAUGE,
        );
        seen.range(
            "swatch.unwashed.width".into(),
            Quantity::UnwashedWidth,
            swatch.unwashed.map(|u| u.width),
            &SWATCH_SIZE,
        );
        seen.range(
            "swatch.unwashed.height".into(),
            Quantity::UnwashedHeight,
            swatch.unwashed.map(|u| u.height),
            &SWATCH_SIZE,
        );
    }

    fn check_fit(&self, seen: &mut Seen) {
        seen.range(
            "fit.ease_percent".into(),
            Quantity::Ease,
            Some(self.fit.ease_percent),
            &EASE_PERCENT,
        );
        seen.range(
            "fit.length_ease".into(),
            Quantity::LengthEase,
            Some(self.fit.length_ease),
            &LENGTH_EASE,
        );
        seen.range(
            "ball.grams".into(),
            Quantity::BallGrams,
            self.ball.map(|b| b.grams),
            &BALL_GRAMS,
        );
        seen.range(
            "ball.metres".into(),
            Quantity::BallMetres,
            self.ball.map(|b| b.metres),
            &BALL_METRES,
        );
    }

    fn check_tube(&self, seen: &mut Seen) {
        seen.range(
            "cuff.length".into(),
            Quantity::CuffLength,
            Some(self.cuff.length),
            &CUFF_LENGTH,
        );
        seen.range(
            "leg".into(),
            Quantity::LegLength,
            Some(self.leg),
            &LEG_LENGTH,
        );
        seen.that(self.leg >= self.cuff.length, || {
            FieldError::new(
                "leg",
                Problem::LegShorterThanCuff {
                    leg: self.leg,
                    cuff: self.cuff.length,
                },
            )
        });
        for (field, quantity, rounds) in [
            ("adjust.leg", Quantity::LegRounds, self.adjust.leg),
            ("adjust.foot", Quantity::FootRounds, self.adjust.foot),
        ] {
            seen.range(field.into(), quantity, Some(rounds), &ADJUST);
        }
        seen.range(
            "stitches".into(),
            Quantity::Stitches,
            self.stitches,
            &STITCHES,
        );
        let n = self.stitches.unwrap_or(4);
        seen.that(n.is_multiple_of(4), || {
            let below = n / 4 * 4;
            FieldError::new(
                "stitches",
                Problem::StitchesNotQuartered {
                    stitches: n,
                    below,
                    above: below.saturating_add(4),
                },
            )
        });
    }

    fn check_heel(&self, seen: &mut Seen) {
        let (rows, height, between) = match self.heel {
            Heel::FlapAndGusset { rows, height, .. } => (rows, height, None),
            Heel::ShortRow { between } => (None, None, Some(between)),
            Heel::Afterthought => (None, None, None),
        };
        seen.range(
            "heel.height".into(),
            Quantity::FlapHeight,
            height,
            &FLAP_HEIGHT,
        );
        seen.that(rows.is_none() || height.is_none(), || {
            FieldError::new("heel.height", Problem::FlapRowsAndHeight)
        });
        seen.that(
            !self.fit.high_instep || self.heel != Heel::Afterthought,
            || FieldError::new("fit.high_instep", Problem::HighInstepAfterthought),
        );
        seen.range(
            "heel.between".into(),
            Quantity::RoundsBetween,
            between,
            &BETWEEN,
        );
        seen.range("heel.rows".into(), Quantity::FlapRows, rows, &FLAP_ROWS);
        let rows = rows.unwrap_or(2);
        seen.that(rows.is_multiple_of(2), || {
            FieldError::new("heel.rows", Problem::FlapRowsOdd { rows })
        });
    }

    fn check_toe(&self, seen: &mut Seen) {
        seen.that(
            self.direction == Direction::CuffDown || self.toe != Toe::Round,
            || FieldError::new("toe.kind", Problem::RoundToeFirst),
        );
        seen.that(!self.fit.wide_toes || self.toe != Toe::Round, || {
            FieldError::new("fit.wide_toes", Problem::RoundToeWide)
        });
    }
}
