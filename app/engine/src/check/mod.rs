//! Looks at every number of a recipe against its range, and says kindly what is wrong where.
//! All errors are gathered: nobody likes to mend one only to be told of the next.

mod extras;
mod seen;

use self::seen::Seen;
use crate::error::FieldError;
use crate::recipe::{
    ADJUST, BALL_GRAMS, BALL_METRES, BETWEEN, CUFF_LENGTH, Direction, EASE_PERCENT, FLAP_HEIGHT,
    FLAP_ROWS, FOOT_CIRCUMFERENCE, FOOT_LENGTH, HEEL_DIAGONAL, Heel, LEG_LENGTH, LENGTH_EASE,
    ROUND_GAUGE, Recipe, STITCH_GAUGE, STITCHES, SWATCH_SIZE, Toe,
};
use crate::told::Told as _;

impl Recipe {
    /// Checks every number against its range.
    ///
    /// # Errors
    /// All fields out of range, each with the range and what would help.
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
            ("foot.length", "The foot's length"),
            Some(foot.length),
            &FOOT_LENGTH,
            "Measure from the back of the heel to the longest toe, standing on a sheet of paper.",
        );
        seen.range(
            ("foot.circumference", "The foot's circumference"),
            foot.circumference,
            &FOOT_CIRCUMFERENCE,
            "Measure round the ball of the foot, where it is widest; leave it empty to estimate it.",
        );
        seen.range(
            ("foot.heel_diagonal", "The measure round heel and instep"),
            foot.heel_diagonal,
            &HEEL_DIAGONAL,
            "Measure from under the heel over the bend of the ankle; leave it empty to estimate it.",
        );
        let help = "Measure over at least ‹500›, better ‹1000›.";
        seen.range(
            ("swatch.width", "The swatch's measured width"),
            Some(swatch.width),
            &SWATCH_SIZE,
            help,
        );
        seen.range(
            ("swatch.height", "The swatch's measured height"),
            Some(swatch.height),
            &SWATCH_SIZE,
            help,
        );
        seen.gauge(
            ("swatch.stitches", "stitches"),
            swatch.stitch_gauge_tenths(),
            &STITCH_GAUGE,
            "Count again over the measured width; sock yarn usually gives 28 to 36.",
        );
        seen.gauge(
            ("swatch.rounds", "rounds"),
            swatch.round_gauge_tenths(),
            &ROUND_GAUGE,
            "Count again over the measured height; sock yarn usually gives 38 to 50.",
        );
        let help = "Measure the same stitches and rounds before the swatch is washed.";
        seen.range(
            ("swatch.unwashed.width", "The unwashed swatch's width"),
            swatch.unwashed.map(|u| u.width),
            &SWATCH_SIZE,
            help,
        );
        seen.range(
            ("swatch.unwashed.height", "The unwashed swatch's height"),
            swatch.unwashed.map(|u| u.height),
            &SWATCH_SIZE,
            help,
        );
    }

    fn check_fit(&self, seen: &mut Seen) {
        seen.range(
            ("fit.ease_percent", "The ease round the foot"),
            Some(self.fit.ease_percent),
            &EASE_PERCENT,
            "10 % suits most plain socks.",
        );
        seen.range(
            ("fit.length_ease", "The ease along the foot"),
            Some(self.fit.length_ease),
            &LENGTH_EASE,
            "‹100› suits most adults, ‹50› small children.",
        );
        let help = "It is printed on the band.";
        seen.range(
            ("ball.grams", "Grams in a ball"),
            self.ball.map(|b| b.grams),
            &BALL_GRAMS,
            help,
        );
        seen.range(
            ("ball.metres", "Metres in a ball"),
            self.ball.map(|b| b.metres),
            &BALL_METRES,
            help,
        );
    }

    fn check_tube(&self, seen: &mut Seen) {
        seen.range(
            ("cuff.length", "The cuff's height"),
            Some(self.cuff.length),
            &CUFF_LENGTH,
            "‹300› to ‹500› is usual.",
        );
        seen.range(
            ("leg", "The leg from cast-on to heel flap"),
            Some(self.leg),
            &LEG_LENGTH,
            "‹1500› to ‹1800› reaches mid-calf on most adults.",
        );
        seen.that(self.leg >= self.cuff.length, || {
            FieldError::new(
                "leg",
                format!(
                    "The leg ({}) is shorter than its cuff ({}).",
                    self.leg.told(),
                    self.cuff.length.told()
                ),
                "The leg is measured from the cast-on edge and includes the cuff.",
            )
        });
        for (field, what, rounds) in [
            ("adjust.leg", "Rounds added to the leg", self.adjust.leg),
            ("adjust.foot", "Rounds added to the foot", self.adjust.foot),
        ] {
            let help = "Change the measured length for more.";
            seen.range((field, what), Some(rounds), &ADJUST, help);
        }
        seen.range(
            ("stitches", "Stitches around"),
            self.stitches,
            &STITCHES,
            "Leave it empty to have it worked out from foot and swatch.",
        );
        let n = self.stitches.unwrap_or(4);
        seen.that(n.is_multiple_of(4), || {
            let below = n / 4 * 4;
            FieldError::new(
                "stitches",
                format!("{n} stitches around cannot be quartered."),
                format!(
                    "Heel and toe want a multiple of 4: {below} or {}.",
                    below.saturating_add(4)
                ),
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
            ("heel.height", "The flap's height"),
            height,
            &FLAP_HEIGHT,
            "Measure from the floor to the hollow under the ankle bone; ‹500› to ‹700› is usual.",
        );
        seen.that(rows.is_none() || height.is_none(), || {
            FieldError::new(
                "heel.height",
                "The flap has its rows and its height both given.",
                "Give one of them; the other follows from the gauge.",
            )
        });
        seen.that(
            !self.fit.high_instep || self.heel != Heel::Afterthought,
            || {
                FieldError::new(
                    "fit.high_instep",
                    "An afterthought heel has nothing to widen for a high instep.",
                    "A heel flap with its gusset, or a short-row heel, makes room for it.",
                )
            },
        );
        seen.range(
            ("heel.between", "Rounds between the halves of the heel"),
            between,
            &BETWEEN,
            "2 or 3 give a high instep room.",
        );
        seen.range(
            ("heel.rows", "The flap's rows"),
            rows,
            &FLAP_ROWS,
            "As many rows as the flap has stitches makes it square.",
        );
        let rows = rows.unwrap_or(2);
        seen.that(rows.is_multiple_of(2), || {
            FieldError::new(
                "heel.rows",
                format!("The flap's rows ({rows}) are an odd number."),
                "A flap ends with a wrong-side row: take one row more or less.",
            )
        });
    }

    fn check_toe(&self, seen: &mut Seen) {
        seen.that(
            self.direction == Direction::CuffDown || self.toe != Toe::Round,
            || {
                FieldError::new(
                    "toe.kind",
                    "A round toe is drawn closed at the end, so it cannot be the beginning.",
                    "From the toe up a wedge, a left or right or a short-row toe is cast on closed.",
                )
            },
        );
        seen.that(!self.fit.wide_toes || self.toe != Toe::Round, || {
            FieldError::new(
                "fit.wide_toes",
                "A round toe comes to a point and cannot be wide.",
                "A wedge, a left or right or a short-row toe can.",
            )
        });
    }
}
