//! The plain foot, between heel and toe.

use super::layout::plain_rounds;
use super::make::Maker;
use super::seat;
use crate::knit::Refusal;

pub(super) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    seat::foot(m, m.recipe.needles)?;
    plain_rounds(m, m.numbers.foot)
}
