//! The plain foot, between gusset and toe.

use super::layout::plain_round;
use super::make::Maker;
use super::{Cue, Step};
use crate::knit::Refusal;

pub(super) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let ops = plain_round(&m.needles);
    (0..m.numbers.foot).try_for_each(|_| m.step(Step::round(Cue::Plain, ops.clone())))
}
