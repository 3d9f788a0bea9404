//! The last edge of a sock from the toe up: bound off, or a hem's live stitches sewn down.

use crate::knit::Refusal;
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::plan::seating::markers_off;
use crate::stitch::{Op, run};

pub(in crate::plan) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let mut off = markers_off(&m.needles);
    let stitches = m.needles.stitches();
    let mut moves = Vec::with_capacity(3);
    if m.recipe.sews_hem() {
        run(&mut off, Op::SewDown, stitches);
        moves.push((Cue::SewHem, off));
    } else {
        if m.recipe.tubular_rib().is_some() {
            moves.push((Cue::BindOffBegin, std::mem::take(&mut off)));
        }
        run(&mut off, Op::BindOff, stitches);
        moves.push((Cue::BindOff, off));
    }
    moves.push((Cue::FastenOff, vec![Op::FastenOff]));
    m.step(Step::walk(moves))
}
