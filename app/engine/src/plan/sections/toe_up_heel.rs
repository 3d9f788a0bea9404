//! The heel from the toe up: the turn in short rows under the heel, then the flap, which takes up
//! the gusset's stitches at the end of each row. Proportions from memory.

use crate::knit::Refusal;
use crate::needles::Facing;
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::plan::numbers::ToeUpFlapNumbers;
use crate::plan::rounds::run_repeat;
use crate::plan::seating;
use crate::plan::short_rows::{ShortRows, fold, inward};
use crate::recipe::FlapTexture;
use crate::stitch::{Op, run};

/// Half of the heel stays without double stitches.
pub(in crate::plan) const fn short_rows(heel: u16, narrow: bool) -> ShortRows {
    let usual = ShortRows::over(heel, 2);
    if narrow { usual.narrowed() } else { usual }
}

pub(in crate::plan) fn turn(m: &mut Maker<'_>, numbers: ToeUpFlapNumbers) -> Result<(), Refusal> {
    seating::heel(m, m.recipe.needles, true)?;
    inward(numbers.rows, numbers.gusset.shapings)
        .into_iter()
        .chain(fold(numbers.rows))
        .try_for_each(|row| m.step(row))
}

pub(in crate::plan) fn flap(
    m: &mut Maker<'_>,
    texture: FlapTexture,
    numbers: ToeUpFlapNumbers,
) -> Result<(), Refusal> {
    let inner = numbers.rows.width() - 2;
    for row in 0..2 * numbers.gusset.shapings {
        let facing = Facing::of_row(row);
        let mut ops = Vec::with_capacity(6);
        run(&mut ops, Op::Slip, 1);
        match facing {
            Facing::RightSide => {
                thick(&mut ops, texture, inner, row);
                ops.push(Op::Ssk);
            }
            Facing::WrongSide => {
                back(&mut ops, texture, inner);
                ops.push(Op::P2tog);
            }
        }
        ops.push(Op::Turn);
        m.step(Step::row(facing, Cue::Shape, ops))?;
    }
    Ok(())
}

/// The stitches between the slipped first one and the decrease; an even number.
fn thick(ops: &mut Vec<Op>, texture: FlapTexture, inner: u16, row: u16) {
    let mut pair = Vec::with_capacity(2);
    run(&mut pair, Op::Knit, 1);
    run(&mut pair, Op::Slip, 1);
    match texture {
        FlapTexture::EyeOfPartridge if !row.is_multiple_of(4) => {
            pair.reverse();
            run_repeat(ops, pair, inner / 2);
        }
        FlapTexture::SlippedStitch | FlapTexture::EyeOfPartridge => {
            run_repeat(ops, pair, inner / 2);
        }
        FlapTexture::GarterEdge => {
            run(ops, Op::Knit, 2);
            run_repeat(ops, pair, (inner - 4) / 2);
            run(ops, Op::Knit, 2);
        }
    }
}

fn back(ops: &mut Vec<Op>, texture: FlapTexture, inner: u16) {
    match texture {
        FlapTexture::SlippedStitch | FlapTexture::EyeOfPartridge => run(ops, Op::Purl, inner),
        FlapTexture::GarterEdge => {
            run(ops, Op::Knit, 2);
            run(ops, Op::Purl, inner - 4);
            run(ops, Op::Knit, 2);
        }
    }
}
