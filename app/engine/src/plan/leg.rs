//! The leg, straight or as wide as the calf.

use super::calf;
use super::make::Maker;
use super::seat;
use crate::knit::Refusal;

pub(super) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    if !m.done.seated {
        seat::leg(m)?;
    }
    calf::write(m)
}
