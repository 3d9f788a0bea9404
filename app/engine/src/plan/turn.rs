//! The round heel turn (common practice): short rows, each one decrease longer than the last, the
//! decrease closing the gap where the row before was turned.

use super::make::Maker;
use super::{Cue, Step};
use crate::knit::Refusal;
use crate::needles::Facing;
use crate::stitch::{Op, run};

/// Stitches left when a heel of `heel` stitches (even, 12 or more) has been turned:
/// half + 2, or half + 3 when the half is odd.
pub const fn turned_count(heel: u16) -> u16 {
    let half = heel / 2;
    half + 2 + half % 2
}

/// Rows of the turn; each takes one stitch away.
pub(super) const fn rows(heel: u16) -> u16 {
    heel - turned_count(heel)
}

pub(super) fn write(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let heel = m.numbers.heel;
    // Rows 1 and 2 leave so many stitches unworked on their far side.
    let mut unworked = [heel / 2 - 5; 2];
    // Stitches between the two gaps, once row 2 has made the second one.
    let mut between = 8;
    for row in 0..rows(heel) {
        let facing = if row % 2 == 0 {
            Facing::RightSide
        } else {
            Facing::WrongSide
        };
        let mut ops = Vec::with_capacity(5);
        let mut after = 1;
        let plain = match row {
            0 => heel / 2 + 2,
            1 => 5,
            _ => {
                // One unworked stitch goes into the decrease; one more is worked if there is one.
                let left = &mut unworked[usize::from(row % 2)];
                after = u16::from(*left > 1);
                *left = left.saturating_sub(2);
                let plain = between - 2;
                between += after;
                plain
            }
        };
        if row > 0 {
            run(&mut ops, Op::Slip, 1);
        }
        match facing {
            Facing::RightSide => run(&mut ops, Op::Knit, plain),
            Facing::WrongSide => run(&mut ops, Op::Purl, plain),
        }
        match facing {
            Facing::RightSide => {
                ops.push(Op::Ssk);
                run(&mut ops, Op::Knit, after);
            }
            Facing::WrongSide => {
                ops.push(Op::P2tog);
                run(&mut ops, Op::Purl, after);
            }
        }
        ops.push(Op::Turn);
        m.step(Step::row(facing, Cue::Shape, ops))?;
    }
    Ok(())
}
