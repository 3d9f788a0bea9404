//! The short-row toe: a cup over the sole's half, inward and outward like a heel. From the cuff down
//! its live edge is grafted to the instep; from the toe up it grows out of a closed cast-on, or out of a
//! chain that is undone when it is done, so that nothing is grafted at all.

use crate::knit::Refusal;
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::plan::short_rows::{ShortRows, fold, inward, outward};
use crate::plan::work::rounds_after_short_rows;
use crate::stitch::{Op, run};

/// A third of the sole stays without double stitches; wide toes keep four more.
pub(in crate::plan) const fn short_rows(half: u16, wide: bool) -> ShortRows {
    let usual = ShortRows::over(half, 3);
    if wide { usual.widened(2) } else { usual }
}

/// Rounds of the foot's length that it takes: half the way round its tip, from the last round of the
/// foot on the sole to the one on the instep.
pub(in crate::plan) const fn rounds(half: u16, wide: bool) -> u16 {
    short_rows(half, wide).turn_rows() + 2
}

pub(in crate::plan) fn write(m: &mut Maker<'_>, rows: ShortRows) -> Result<(), Refusal> {
    inward(rows, 0)
        .into_iter()
        .chain(fold(rows))
        .chain(outward(rows, false))
        .try_for_each(|row| m.step(row))?;
    let waiting = m.needles.provisional();
    if waiting > 0 {
        let mut undo = Vec::with_capacity(1);
        run(&mut undo, Op::OpenProvisional, waiting);
        m.step(Step::walk(vec![(Cue::UndoChain, undo)]))?;
    }
    // the last double stitch on each side
    rounds_after_short_rows(m)
}
