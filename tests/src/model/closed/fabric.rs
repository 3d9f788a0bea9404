//! Tubes of patterned fabric, and the stitches that fit a foot: every number that there is is tried.

use evenloop_engine::recipe::{Method, MotifPlacement, Recipe};

use super::{No, chart};

/// `a / b` to the nearest whole.
const fn nearest(a: u64, b: u64) -> u64 {
    (2 * a + b) / (2 * b)
}

/// A recipe's foot and fabric; lengths in tenths of a millimetre, shares in thousandths of
/// stockinette.
pub(super) struct Fabric {
    ball: u64,
    heel: u64,
    left: u64,
    stitches: u64,
    width: u64,
    /// Of the patterned stitches.
    share: u64,
    /// Stitches of a repeat, and whether they are all round.
    motif: Option<(u64, bool)>,
    /// Balancing stitches, and edge stitches of both sides.
    beside: (u64, u64),
}

impl Fabric {
    pub(super) fn of(recipe: &Recipe) -> Self {
        let foot = recipe.foot;
        let ball = foot.circumference.map_or_else(
            || nearest(u64::from(foot.length.0) * 95, 100),
            |round| round.0.into(),
        );
        let heel = foot
            .heel_diagonal
            .map_or_else(|| nearest(ball * 135, 100), |round| round.0.into());
        let (stitches, width) = (
            u64::from(recipe.swatch.stitches),
            u64::from(recipe.swatch.width.0),
        );
        let chart = chart(recipe).unwrap_or_default();
        let share = match (&chart, recipe.swatch.pattern) {
            (None, _) => 1000,
            (Some(_), Some(own)) => nearest(
                1000 * u64::from(own.width.0) * stitches,
                width * u64::from(own.stitches),
            ),
            (Some(chart), None) => 1000 - chart.draws_in(),
        };
        let all_round = recipe
            .motif
            .as_ref()
            .is_some_and(|m| m.place == MotifPlacement::AllRound);
        Self {
            ball,
            heel,
            left: 100 - u64::from(recipe.fit.ease_percent),
            stitches,
            width,
            share,
            motif: chart.map(|chart| (chart.wide() as u64, all_round)),
            beside: match &recipe.motif {
                Some(motif) if !all_round => (motif.balance.into(), 2 * u64::from(motif.edge)),
                _ => (0, 0),
            },
        }
    }

    /// The shares of leg and foot of so many stitches.
    fn shares(&self, around: u64) -> (u64, u64) {
        let Some((wide, all_round)) = self.motif else {
            return (1000, 1000);
        };
        let (balance, edges) = self.beside;
        let repeats = (around / 2).saturating_sub(balance + edges) / wide;
        let patterned = if repeats == 0 {
            0
        } else {
            repeats * wide + balance
        };
        let foot = nearest(self.share * patterned + 1000 * (around - patterned), around);
        (if all_round { self.share } else { foot }, foot)
    }

    /// The tubes of leg and foot.
    pub(super) fn tubes(&self, around: u64) -> (u64, u64) {
        let (leg, foot) = self.shares(around);
        let tube = |share| nearest(around * self.width * share, self.stitches * 1000);
        (tube(leg), tube(foot))
    }

    /// How much smaller than the foot a tube is, in thousandths of the foot.
    #[allow(clippy::cast_possible_wrap)] // lengths of socks
    fn smaller(&self, tube: u64) -> i64 {
        (self.ball as i64 - tube as i64) * 1000 / self.ball as i64
    }

    /// How far the mean of the tubes is from the wish, and whether it is no narrower.
    fn off(&self, around: u64) -> (u64, bool) {
        let (leg, foot) = self.shares(around);
        let tube = around * self.width * (leg + foot).div_ceil(2);
        let wish = self.ball * self.left * self.stitches * 10;
        (tube.abs_diff(wish), tube >= wish)
    }

    /// Whether it stays on, is not tight, and passes the heel.
    fn fits(&self, around: u64) -> bool {
        let (leg, foot) = self.tubes(around);
        (30..=180).contains(&self.smaller(foot))
            && self.smaller(leg) <= 180
            && self.heel * 100 <= leg.min(foot) * 155
    }

    /// The multiple that is knitted.
    pub(super) fn stitches_around(&self, multiple: u64) -> u64 {
        let up = (1..=480 / multiple)
            .map(|times| times * multiple)
            .find(|n| self.off(*n).1)
            .unwrap_or(480);
        let down = up - multiple;
        let usual = if down > 0 && self.off(down).0 < self.off(up).0 {
            down
        } else {
            up
        };
        if multiple > 4 {
            let well = [up, down].into_iter().find(|n| *n > 0 && self.fits(*n));
            return well.unwrap_or(usual);
        }
        let (leg, foot) = self.tubes(usual);
        let wished = nearest(self.ball * self.left, 100);
        let alarm = |tube: u64| self.heel * 100 > tube * 155;
        let roomy = self.smaller(self.tubes(up).1) >= 30;
        if usual == down && alarm(leg.min(foot)) && !alarm(wished) && roomy {
            up
        } else {
            usual
        }
    }
}

/// Round the ball of the foot, in tenths of a millimetre.
pub(super) fn round_ball(recipe: &Recipe) -> u32 {
    u32::try_from(Fabric::of(recipe).ball).unwrap_or(u32::MAX)
}

/// How wide the ankle of so many stitches lies beside stockinette, in thousandths.
pub(super) fn leg_share(recipe: &Recipe, around: u32) -> i64 {
    i64::try_from(Fabric::of(recipe).shares(around.into()).0).unwrap_or(i64::MAX)
}

/// Round the foot's tube, in tenths of a millimetre.
pub fn foot_tube(recipe: &Recipe, around: u32) -> u64 {
    Fabric::of(recipe).tubes(around.into()).1
}

/// Why a sock that is not begun would not be knitted: it would be far from the foot, or not reach round
/// its needle.
pub fn misfit(recipe: &Recipe, around: u32) -> Option<No> {
    let fabric = Fabric::of(recipe);
    let (leg, foot) = fabric.tubes(around.into());
    let by_repeat =
        recipe.stitches.is_none() && matches!(fabric.motif, Some((wide, true)) if wide > 2);
    let far = if by_repeat {
        fabric.smaller(foot) < -100 || fabric.smaller(leg) > 300
    } else {
        recipe.stitches.is_some() && fabric.smaller(foot) < -500
    };
    if far {
        return Some(No::FarFromFoot);
    }
    too_narrow(recipe, around)
}

/// Whether stitches do not reach round a short circular, spread to a quarter more than they lie.
pub fn too_narrow(recipe: &Recipe, around: u32) -> Option<No> {
    let Method::ShortCircular { length } = recipe.needles else {
        return None;
    };
    let needle = length.map_or(2000, |length| u64::from(length.length().0));
    let (leg, foot) = Fabric::of(recipe).tubes(around.into());
    (5 * leg.min(foot) < 4 * needle).then_some(No::NeedleTooLong)
}
