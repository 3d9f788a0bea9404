//! Binding off the cuff of a sock from the toe up.

use crate::knit::Refusal;
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::plan::seating::markers_off;
use crate::stitch::{Op, run};

pub(in crate::plan) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let mut off = markers_off(&m.needles);
    run(&mut off, Op::BindOff, m.needles.stitches());
    m.step(Step::walk(vec![
        (Cue::BindOff, off),
        (Cue::FastenOff, vec![Op::FastenOff]),
    ]))
}
