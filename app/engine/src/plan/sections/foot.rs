//! The plain foot, between heel and toe.

use crate::knit::Refusal;
use crate::plan::maker::Maker;
use crate::plan::seating;
use crate::plan::work::plain_rounds;
use crate::recipe::Direction;

pub(in crate::plan) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    if !m.done.seated {
        seating::foot(m, m.recipe.needles)?;
    }
    // a gusset that was begun in another rhythm has more or fewer rounds than planned
    let planned = match m.recipe.direction {
        Direction::CuffDown => m.numbers.foot_and_gusset(),
        Direction::ToeUp => m.numbers.foot,
    };
    let rounds = planned.saturating_sub(m.gusset_rounds + m.done.rounds);
    plain_rounds(m, rounds)
}
