//! The ribbed cuff.

use super::layout::rib_round;
use super::make::Maker;
use super::{Cue, Step};
use crate::knit::Refusal;
use crate::recipe::Rib;

pub(super) fn write(m: &mut Maker<'_>, rib: Rib) -> Result<(), Refusal> {
    let ops = rib_round(&m.needles, rib);
    (0..m.numbers.cuff).try_for_each(|_| m.step(Step::round(Cue::Plain, ops.clone())))
}
