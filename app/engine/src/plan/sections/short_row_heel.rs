//! The short-row heel: inward over the heel's half, once round (and more for a high instep), and
//! outward again. The same from the cuff down and from the toe up. Proportions from memory.

use crate::knit::Refusal;
use crate::plan::maker::Maker;
use crate::plan::seating;
use crate::plan::short_rows::{ShortRows, fold, inward, outward};
use crate::plan::work::{plain_rounds_closing, rounds_after_short_rows};
use crate::recipe::{Direction, Recipe, Yarns};

/// A third of the heel stays without double stitches.
pub(in crate::plan) const fn short_rows(heel: u16, narrow: bool) -> ShortRows {
    let usual = ShortRows::over(heel, 3);
    if narrow { usual.narrowed() } else { usual }
}

/// Rounds between the halves that make room for a high instep (from memory).
pub(in crate::plan) const HIGH_INSTEP: u16 = 4;

/// Rounds of the foot's length that the heel takes. From the cuff down its outward rows and the two
/// rounds that end them lie under the foot; from the toe up its inward rows do, and the rest goes up
/// behind the heel. Rounds between lie in the fold at the back of the heel: half of them under the foot,
/// half up the leg (common practice, no source).
pub(in crate::plan) const fn under_foot(
    rows: ShortRows,
    between: u16,
    direction: Direction,
) -> u16 {
    match direction {
        Direction::CuffDown => rows.turn_rows() + 2 + between.div_ceil(2),
        Direction::ToeUp => rows.inward_rows() + between.div_ceil(2),
    }
}

/// Whether the heel has a yarn that leg and foot have not alone.
fn stands_out(recipe: &Recipe) -> bool {
    let differs = |y: &Yarns| y.stripes.iter().any(|s| s.yarn != y.heel);
    recipe.yarns.as_ref().is_some_and(differs)
}

pub(in crate::plan) fn write(
    m: &mut Maker<'_>,
    rows: ShortRows,
    between: u16,
) -> Result<(), Refusal> {
    let folded = between == 0 && stands_out(m.recipe);
    seating::heel(m, m.recipe.needles, folded)?;
    inward(rows, 0)
        .into_iter()
        .try_for_each(|row| m.step(row))?;
    if folded {
        // a round in the yarn of the foot would draw a line across a heel of another yarn
        let rows = fold(rows).into_iter().chain(outward(rows, false));
        rows.into_iter().try_for_each(|row| m.step(row))?;
        return rounds_after_short_rows(m);
    }
    // To the end of the round: the double stitches on that side are closed, and in the first round
    // between the halves those on the other side.
    plain_rounds_closing(m, 1 + between)?;
    outward(rows, between == 0)
        .into_iter()
        .try_for_each(|row| m.step(row))?;
    // The last double stitch on each side is closed in a round of its own.
    rounds_after_short_rows(m)
}
