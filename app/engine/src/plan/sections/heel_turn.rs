//! Turning the heel: short rows, the decrease at the end of each closing the gap where the row
//! before was turned.
//!
//! Round turn: common practice, each row one decrease longer than the last. Square and band turns
//! (from memory): a middle of constant width, its edge stitches knitted together with the sides.

use super::heel_flap::BAND_SHAPINGS;
use crate::knit::Refusal;
use crate::needles::Facing;
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::recipe::HeelTurn;
use crate::stitch::{Op, run};

/// Stitches left when a heel of `heel` stitches (even, 12 or more) has been turned round:
/// half + 2, or half + 3 when the half is odd.
const fn round_count(heel: u16) -> u16 {
    let half = heel / 2;
    half + 2 + half % 2
}

/// Stitches that a narrow heel's cup is narrower.
const NARROWER: u16 = 2;

/// The narrowest cup.
const NARROWEST: u16 = 4;

/// The middle of a square or band turn: the even number nearest a third of the heel.
const fn middle(heel: u16) -> u16 {
    (heel + 3) / 6 * 2
}

/// Stitches of the flap's last row, when it was begun on `heel`.
const fn flap_end(heel: u16, turn: HeelTurn) -> u16 {
    match turn {
        HeelTurn::Round | HeelTurn::Square => heel,
        HeelTurn::Band => heel - 2 * BAND_SHAPINGS,
    }
}

/// Stitches left when a usual heel begun on `heel` stitches (even, 16 or more) has been turned.
pub const fn turned_count(heel: u16, turn: HeelTurn) -> u16 {
    turned(heel, turn, false)
}

/// The same for a usual or a narrow heel.
pub(in crate::plan) const fn turned(heel: u16, turn: HeelTurn, narrow: bool) -> u16 {
    let usual = match turn {
        HeelTurn::Round => round_count(heel),
        HeelTurn::Square | HeelTurn::Band => middle(flap_end(heel, turn)),
    };
    // two stitches would be a seam, not a cup
    if narrow && usual > NARROWEST {
        usual - NARROWER
    } else {
        usual
    }
}

/// Rows of the turn; each takes one stitch away.
pub(in crate::plan) const fn rows(heel: u16, turn: HeelTurn, narrow: bool) -> u16 {
    flap_end(heel, turn) - turned(heel, turn, narrow)
}

pub(in crate::plan) fn write(m: &mut Maker<'_>, turn: HeelTurn) -> Result<(), Refusal> {
    let heel = m.numbers.heel;
    let narrow = m.recipe.fit.narrow_heel;
    let all = rows(heel, turn, narrow);
    match turn {
        HeelTurn::Round => round(m, heel, all, narrow),
        HeelTurn::Square | HeelTurn::Band => {
            let middle = turned(heel, turn, narrow);
            square(m, (flap_end(heel, turn) - middle) / 2, middle, all)
        }
    }
}

/// One short row: plain stitches, the decrease, so many after it, and the turn. All but the first
/// row begin with a slipped stitch.
fn short_row(row: u16, plain: u16, after: u16) -> Step {
    let facing = Facing::of_row(row);
    let mut ops = Vec::with_capacity(5);
    if row > 0 {
        run(&mut ops, Op::Slip, 1);
    }
    let (work, decrease): (fn(_) -> Op, Op) = match facing {
        Facing::RightSide => (Op::Knit, Op::Ssk),
        Facing::WrongSide => (Op::Purl, Op::P2tog),
    };
    run(&mut ops, work, plain);
    ops.push(decrease);
    run(&mut ops, work, after);
    ops.push(Op::Turn);
    Step::row(facing, Cue::Shape, ops)
}

fn round(m: &mut Maker<'_>, heel: u16, rows: u16, narrow: bool) -> Result<(), Refusal> {
    // How far the first row goes past the middle.
    let past = if narrow { 0 } else { 2 };
    // Rows 1 and 2 leave so many stitches unworked on their far side.
    let mut unworked = [heel / 2 - 3 - past; 2];
    // Stitches between the two gaps, once row 2 has made the second one.
    let mut between = 4 + 2 * past;
    for row in 0..rows {
        let mut after = 1;
        let plain = match row {
            0 => heel / 2 + past,
            1 => 1 + 2 * past,
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
        m.step(short_row(row, plain, after))?;
    }
    Ok(())
}

/// `side` stitches lie on both sides of the middle; each row takes one of them.
fn square(m: &mut Maker<'_>, side: u16, middle: u16, rows: u16) -> Result<(), Refusal> {
    for row in 0..rows {
        let plain = if row == 0 {
            side + middle - 1
        } else {
            middle - 2
        };
        m.step(short_row(row, plain, 0))?;
    }
    Ok(())
}
