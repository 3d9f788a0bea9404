//! How many stitches go round: the foot less its negative ease, in the fabric that is knitted, to whole
//! repeats. And how well a number of stitches fits.

use super::fabric::Fabric;
use super::panel::unit;
use crate::recipe::{Recipe, STITCHES};
use crate::units::{Length, scaled};

/// Ease below which a sock is hardly smaller than the foot, in tenths of a percent (from memory).
pub(in crate::plan) const LITTLE_EASE: i64 = 30;
/// Ease above which it is much smaller (from memory).
pub(in crate::plan) const MUCH_EASE: i64 = 180;
/// What a tube gladly stretches to, in percent of itself: about one and a half times (common practice,
/// no source).
const GLADLY: u64 = 155;
/// The same for a firm edge (from memory).
const FIRM_EDGE: u64 = 135;

/// Stitches that would fit exactly, and whole ones near them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) struct Around {
    /// The number that is knitted, where the knitter does not choose it.
    pub stitches: u16,
    /// What fits exactly, to the nearest whole stitch.
    pub exact: u64,
}

/// The stitches that would be cast on for a recipe's foot in its gauge, whatever number the recipe has itself.
pub fn count_that_fits(recipe: &Recipe) -> u16 {
    Around::decide(recipe).stitches
}

/// Whether a sock that is so much smaller than the foot, in thousandths, fits well.
pub fn is_good_fit(ease_permille: i32) -> bool {
    (LITTLE_EASE..=MUCH_EASE).contains(&ease_permille.into())
}

/// What is looked at when stitches are counted.
struct Wish<'a> {
    recipe: &'a Recipe,
    fabric: Fabric<'a>,
}

impl Around {
    /// Decides it from foot, ease, swatch and motif; whatever the recipe's own number is.
    pub(in crate::plan) fn decide(recipe: &Recipe) -> Self {
        let wish = Wish {
            recipe,
            fabric: Fabric::of(recipe),
        };
        let unit = unit(recipe);
        let up = wish.first_not_tighter(unit);
        let down = up.saturating_sub(unit);
        let nearest = if wish.off(down) < wish.off(up) && down > 0 {
            down
        } else {
            up
        };
        let stitches = if unit > 4 {
            // A wide repeat moves far: rather a little wide than tighter than wished.
            let fits = [up, down].into_iter().find(|n| *n > 0 && wish.fits(*n));
            fits.unwrap_or(nearest)
        } else if nearest == down
            && Tubes::of(recipe, down).hard_by_rounding()
            && Tubes::of(recipe, up).foot_ease() >= LITTLE_EASE
        {
            up
        } else {
            nearest
        };
        let exact = wish.first_not_tighter(1);
        let below = exact.saturating_sub(1);
        Self {
            stitches,
            exact: if wish.off(below) < wish.off(exact) {
                below
            } else {
                exact
            }
            .into(),
        }
    }
}

impl Wish<'_> {
    /// The tube of so many stitches and the tube that is wished, by one measure.
    fn tubes(&self, around: u16) -> (u64, u64) {
        let (recipe, swatch) = (self.recipe, &self.recipe.swatch);
        let share = u64::from(100 - recipe.fit.ease_percent);
        (
            u64::from(around) * u64::from(swatch.width.0) * u64::from(self.fabric.mean(around)),
            u64::from(recipe.foot.round_ball().0) * share * u64::from(swatch.stitches) * 10,
        )
    }

    fn off(&self, around: u16) -> u64 {
        let (tube, wished) = self.tubes(around);
        tube.abs_diff(wished)
    }

    /// The least multiple that is as wide as is wished.
    fn first_not_tighter(&self, unit: u16) -> u16 {
        let multiples = (1..=u16::MAX / unit).map(|times| times * unit);
        let wide = |around: &u16| {
            let (tube, wished) = self.tubes(*around);
            tube >= wished
        };
        multiples
            .take_while(|around| *around < 4 * *STITCHES.end())
            .find(wide)
            .unwrap_or(4 * *STITCHES.end())
    }

    fn fits(&self, around: u16) -> bool {
        let fit = Tubes::of(self.recipe, around);
        (LITTLE_EASE..=MUCH_EASE).contains(&fit.foot_ease())
            && fit.leg_ease() <= MUCH_EASE
            && !fit.hard_to_put_on()
    }
}

/// The tubes of a sock beside its foot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) struct Tubes {
    /// Round the leg, unstretched.
    pub leg: Length,
    /// Round the foot, unstretched.
    pub foot: Length,
    round_ball: Length,
    round_heel: Length,
    ease_percent: u8,
}

impl Tubes {
    /// Those of so many stitches.
    pub(in crate::plan) fn of(recipe: &Recipe, around: u16) -> Self {
        let fabric = Fabric::of(recipe);
        let swatch = &recipe.swatch;
        let tube = |share: u32| {
            let tenths = scaled(
                u64::from(around) * u64::from(swatch.width.0),
                share.into(),
                u64::from(swatch.stitches.max(1)) * 1000,
            );
            Length(u32::try_from(tenths).unwrap_or(u32::MAX))
        };
        Self {
            leg: tube(fabric.leg(around)),
            foot: tube(fabric.foot(around)),
            round_ball: recipe.foot.round_ball(),
            round_heel: recipe.foot.round_heel(),
            ease_percent: recipe.fit.ease_percent,
        }
    }

    /// How much smaller the foot's tube is than the foot, in tenths of a percent.
    pub(in crate::plan) fn foot_ease(&self) -> i64 {
        self.ease(self.foot)
    }

    /// How much smaller the leg's tube is than the foot.
    pub(in crate::plan) fn leg_ease(&self) -> i64 {
        self.ease(self.leg)
    }

    fn ease(&self, tube: Length) -> i64 {
        let foot = i64::from(self.round_ball.0.max(1));
        (foot - i64::from(tube.0)) * 1000 / foot
    }

    /// The narrower of the two: it has to pass the heel.
    pub(in crate::plan) fn narrowest(&self) -> Length {
        self.leg.min(self.foot)
    }

    /// The tube that is wished.
    fn wished(&self) -> Length {
        crate::foot::percent_of(self.round_ball, u32::from(100 - self.ease_percent))
    }

    /// Whether the sock has to stretch to more than it gladly does to pass the heel.
    pub(in crate::plan) fn hard_to_put_on(&self) -> bool {
        self.stretches_far(self.narrowest())
    }

    /// Whether the cuff has to stretch to more than a firm edge does to pass the heel.
    pub(in crate::plan) fn wants_a_stretchy_edge(&self) -> bool {
        u64::from(self.round_heel.0) * 100 > u64::from(self.leg.0) * FIRM_EDGE
    }

    /// The same where the tube that is wished has not: whole stitches alone make it so.
    pub(in crate::plan) fn hard_by_rounding(&self) -> bool {
        self.hard_to_put_on() && !self.stretches_far(self.wished())
    }

    fn stretches_far(&self, tube: Length) -> bool {
        u64::from(self.round_heel.0) * 100 > u64::from(tube.0) * GLADLY
    }
}
