//! The plain foot, between heel and toe.

use super::layout::plain_rounds;
use super::make::Maker;
use super::seat;
use crate::knit::Refusal;

pub(super) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    if !m.done.seated {
        seat::foot(m, m.recipe.needles)?;
    }
    // a gusset that was begun in another rhythm has more or fewer rounds than planned
    let planned = m.numbers.foot + m.numbers.gusset_before_foot(m.recipe.direction);
    let rounds = planned.saturating_sub(m.gusset_rounds + m.done.rounds);
    plain_rounds(m, rounds)
}
