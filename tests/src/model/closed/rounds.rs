//! Rounds and heights where fabrics differ: heel, toe and cuff are plain, the leg and the foot between
//! them have the rounds of the fabric that counts.

use evenloop_engine::recipe::{MotifPlacement, Recipe, RoundsBy};

use super::Sums;

/// How tall a round is: so many tenths of a millimetre over so many rounds.
#[derive(Debug, Clone, Copy)]
struct Tall(u128, u128);

impl Tall {
    /// Half way between two.
    const fn mean(self, other: Self) -> Self {
        Self(self.0 * other.1 + other.0 * self.1, 2 * self.1 * other.1)
    }
}

/// `a / b` to the nearest whole.
fn nearest(a: u128, b: u128) -> u32 {
    u32::try_from((2 * a + b) / (2 * b)).unwrap_or(u32::MAX)
}

/// Plain rounds, those of the leg, those of the foot; where they are wanted as they are before washing and
/// that was measured, by so much less or more.
fn rounds(recipe: &Recipe) -> [Tall; 3] {
    let swatch = recipe.swatch;
    let plain = Tall(swatch.height.0.into(), swatch.rounds.into());
    let Some((motif, own)) = recipe.motif.as_ref().zip(swatch.pattern_rounds) else {
        return [plain; 3];
    };
    let own = Tall(own.height.0.into(), own.rounds.into());
    let foot = match motif.rounds_by {
        RoundsBy::Plain => plain,
        RoundsBy::Between => plain.mean(own),
        RoundsBy::Pattern => own,
    };
    let leg = match motif.place {
        MotifPlacement::AllRound => own,
        MotifPlacement::Front => foot,
    };
    [plain, leg, foot]
}

/// Rounds over a length of which the first so many are plain and the others so tall.
fn over(length: u32, plain: Tall, ends: u32, other: Tall) -> u32 {
    let whole = u128::from(length) * plain.1;
    match whole.checked_sub(u128::from(ends) * plain.0) {
        Some(rest) => ends + nearest(rest * other.1, plain.1 * other.0),
        None => nearest(whole, plain.0),
    }
}

/// Rounds of a leg so long, under so many of its cuff.
pub(super) fn of_leg(recipe: &Recipe, length: u32, cuff: u32) -> u32 {
    let [plain, leg, _] = rounds(recipe);
    over(length, plain, cuff, leg).saturating_sub(cuff)
}

/// Rounds of the leg at a height above the heel.
pub(super) fn up_the_leg(recipe: &Recipe, height: u32) -> u32 {
    let [_, leg, _] = rounds(recipe);
    nearest(u128::from(height) * leg.1, leg.0)
}

/// Rounds of the foot, of which so many are heel and toe.
pub(super) fn of_foot(recipe: &Recipe, ends: u32) -> u32 {
    let [plain, _, foot] = rounds(recipe);
    let length = recipe.foot.length.0;
    let length = length.saturating_sub(recipe.fit.length_ease.0);
    over(length, plain, ends, foot)
}

/// How long so many plain rounds and so many others are; washed, or as they lie on the needles.
fn long(recipe: &Recipe, plain: u32, others: u32, other: Tall, washed: bool) -> u64 {
    let [a, ..] = rounds(recipe);
    let swatch = recipe.swatch;
    let unwashed = swatch.unwashed.filter(|_| !washed);
    let now = unwashed.map_or(swatch.height, |unwashed| unwashed.height);
    let (plain, others) = (u128::from(plain), u128::from(others));
    let both = plain * a.0 * other.1 + others * other.0 * a.1;
    let of = u128::from(swatch.height.0) * a.1 * other.1;
    nearest(both * u128::from(now.0), of).into()
}

/// How long the foot is, in tenths of a millimetre; washed, or as it lies on the needles.
pub fn foot_length(recipe: &Recipe, s: &Sums, washed: bool) -> u64 {
    let [.., foot] = rounds(recipe);
    let others = s.whole_foot.saturating_sub(s.ends);
    long(recipe, s.whole_foot - others, others, foot, washed)
}

/// How long the leg is with its cuff.
pub fn leg_length(recipe: &Recipe, s: &Sums, washed: bool) -> u64 {
    let [_, leg, _] = rounds(recipe);
    long(recipe, s.cuff_height, s.leg_rounds, leg, washed)
}

/// How tall so many rounds of the leg are on the needles, without the cuff.
pub fn leg_rounds_tall(recipe: &Recipe, many: u32) -> u64 {
    let [_, leg, _] = rounds(recipe);
    long(recipe, 0, many, leg, false)
}

/// How tall so many rounds of the foot between heel and toe are on the needles.
pub fn foot_rounds_tall(recipe: &Recipe, many: u32) -> u64 {
    let [.., foot] = rounds(recipe);
    long(recipe, 0, many, foot, false)
}

/// How long the foot is between a heel that is knitted last and the toe, on the needles.
pub fn between_heel_and_toe(recipe: &Recipe, s: &Sums) -> u64 {
    foot_rounds_tall(recipe, s.foot_rounds)
}

/// How long toe and foot are from the tip until the heel, or the foot until its toe.
pub fn until_the_other_end(recipe: &Recipe, s: &Sums) -> u64 {
    let [_, _, foot] = rounds(recipe);
    let toe = long(recipe, s.toe_rounds, 0, foot, false);
    if s.toe_up {
        long(recipe, s.toe_rounds, s.foot_rounds, foot, false)
    } else {
        foot_length(recipe, s, false).saturating_sub(toe)
    }
}
