//! The toe: which one, how long it is, and on which needles it is worked.
//!
//! May use the maker, rounds and seatings of the plan. Must not know other sections, nor a sentence.

mod round;
mod shaped;
mod short_row;
mod wedge;

use self::round::{DRAWN, RoundToe};
use self::shaped::ShapedToe;
pub(in crate::plan) use self::wedge::{Wedge, to_graft};
use crate::knit::Refusal;
use crate::plan::maker::Maker;
use crate::plan::model::Cue;
use crate::plan::rounds::{Shaping, increase_round, shaping_round};
use crate::plan::seating;
use crate::plan::work::{self, plain_rounds};
use crate::recipe::{Direction, Method, Recipe, Seating, Toe};

/// Stitches that wide toes keep more than others, both needles together (from memory).
const WIDE: u16 = 8;

/// Live stitches when the toe ends.
pub(in crate::plan) const fn left(around: u16, recipe: &Recipe) -> u16 {
    match recipe.toe {
        Toe::Wedge { .. } | Toe::Shaped { .. } => {
            to_graft(around) + if recipe.fit.wide_toes { WIDE } else { 0 }
        }
        Toe::Round => DRAWN,
        Toe::ShortRow => around,
    }
}

/// Rounds of the foot's length that the toe takes.
pub(in crate::plan) fn rounds(around: u16, recipe: &Recipe) -> u16 {
    let left = left(around, recipe);
    // a closed cast-on is knitted round once before it widens
    let first = u16::from(recipe.direction == Direction::ToeUp);
    match recipe.toe {
        Toe::Wedge { narrowing } => first + Wedge::new(around, left, narrowing).rounds(),
        Toe::Shaped { foot } => {
            first + ShapedToe::new(around, left, foot, recipe.direction).rounds()
        }
        Toe::Round => first + RoundToe::new(around).rounds(),
        Toe::ShortRow => short_row::rounds(around / 2, recipe.fit.wide_toes),
    }
}

/// The needles of a toe: a short circular does not reach round it.
const fn needles(method: Method) -> Method {
    match method {
        Method::ShortCircular { .. } => Method::MagicLoop {
            seating: Seating::EvenHalves,
        },
        other => other,
    }
}

/// From the foot to the toe's end.
pub(in crate::plan) fn decrease(m: &mut Maker<'_>, toe: Toe) -> Result<(), Refusal> {
    let on = needles(m.recipe.needles);
    let (around, left) = (m.numbers.around, m.numbers.toe_left);
    match toe {
        _ if m.done.seated => {}
        // one side narrows faster than the other: no needle may end between the sides
        Toe::Shaped { .. } | Toe::ShortRow => seating::instep_and_sole_apart(m)?,
        Toe::Wedge { .. } | Toe::Round
            if m.recipe.needles != on && m.needles.per_needle().len() == 1 =>
        {
            seating::change_needles(m, on, Cue::ChangeNeedles)?;
        }
        // the needles' ends go back to the middle where a motif kept them away from it
        Toe::Wedge { .. } | Toe::Round => seating::toe(m, on)?,
    }
    match toe {
        Toe::Wedge { narrowing } => {
            let wedge = Wedge::new(around, left, narrowing);
            work::scheduled(m, wedge.schedule(), shaping_round)
        }
        Toe::Shaped { foot } => {
            let toe = ShapedToe::new(around, left, foot, Direction::CuffDown);
            work::scheduled(m, toe.schedule(), shaping_round)
        }
        Toe::Round => RoundToe::new(around).decrease(m),
        Toe::ShortRow => {
            let wide = m.recipe.fit.wide_toes;
            short_row::write(m, short_row::short_rows(around / 2, wide))
        }
    }
}

/// From the closed cast-on to the foot: the same the other way round, after a first plain round.
pub(in crate::plan) fn increase(m: &mut Maker<'_>, toe: Toe) -> Result<(), Refusal> {
    let on = needles(m.recipe.needles);
    let (around, left) = (m.numbers.around, m.numbers.toe_left);
    match toe {
        Toe::Wedge { narrowing } => {
            first_round(m)?;
            let schedule = Wedge::new(around, left, narrowing).schedule();
            // after the first round nothing has moved yet; a toe that is done may lie on other
            // needles already
            let seated = m.done.seated && m.done.rounds > 1;
            if !seated && usize::from(m.done.rounds) <= schedule.len() {
                seating::toe(m, on)?;
            }
            widen(m, &schedule)?;
        }
        Toe::Shaped { foot } => {
            first_round(m)?;
            let toe = ShapedToe::new(around, left, foot, Direction::ToeUp);
            widen(m, &toe.schedule())?;
        }
        Toe::ShortRow => {
            let wide = m.recipe.fit.wide_toes;
            short_row::write(m, short_row::short_rows(around / 2, wide))?;
        }
        Toe::Round => return Err(Refusal::NotAtTheStart),
    }
    if m.recipe.needles == on {
        Ok(())
    } else {
        seating::to_short_circular(m)
    }
}

fn first_round(m: &mut Maker<'_>) -> Result<(), Refusal> {
    if m.done.rounds > 0 {
        return Ok(());
    }
    plain_rounds(m, 1)?;
    m.done.rounds = 1;
    Ok(())
}

/// The first round has been worked; the others are those of a toe that narrows, read backwards.
fn widen(m: &mut Maker<'_>, narrowing: &[Option<Shaping>]) -> Result<(), Refusal> {
    let rounds = std::iter::once(None).chain(narrowing.iter().rev().copied());
    work::scheduled(m, rounds, increase_round)
}
