//! The plain leg.

use super::layout::plain_rounds;
use super::make::Maker;
use super::seat;
use crate::knit::Refusal;

pub(super) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    seat::leg(m)?;
    plain_rounds(m, m.numbers.leg)
}
