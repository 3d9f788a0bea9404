//! The heel flap: the first half of the round, back and forth, the first stitch of each row
//! slipped so that its edges are chains to pick up from; every second stitch of a right-side row
//! slipped, which makes it thick. With a garter edge a row ends in knit stitches, the yarn behind: it
//! comes to the front to slip the first stitch and goes back between the needles, or the edge has no
//! chains (common practice, no source).

use crate::knit::Refusal;
use crate::needles::{Facing, Origin};
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::plan::numbers::FlapNumbers;
use crate::plan::rounds::run_repeat;
use crate::plan::seating;
use crate::recipe::{FlapTexture, HeelTurn};
use crate::stitch::{Op, run};

/// How many right-side rows at the end of a flap narrow it for a band turn; each takes two
/// stitches (from memory).
pub(in crate::plan) const BAND_SHAPINGS: u16 = 3;

pub(in crate::plan) fn write(
    m: &mut Maker<'_>,
    texture: FlapTexture,
    numbers: FlapNumbers,
) -> Result<(), Refusal> {
    seating::heel(m, m.recipe.needles, false)?;
    let rows = numbers.rows;
    let narrowing_from = rows - 2 * BAND_SHAPINGS;
    for row in 0..rows {
        let width = m.needles.stitches_of(Origin::Heel);
        let mut ops = Vec::with_capacity(6);
        if row == 0 {
            run(&mut ops, Op::WorkFlat, width);
        }
        let mut cue = Cue::Plain;
        let facing = Facing::of_row(row);
        match facing {
            Facing::RightSide if numbers.turn == HeelTurn::Band && row >= narrowing_from => {
                narrowing_row(&mut ops, texture, width);
                cue = Cue::Shape;
            }
            Facing::RightSide => thick_row(&mut ops, texture, width, row),
            Facing::WrongSide => back_row(&mut ops, texture, width),
        }
        ops.push(Op::Turn);
        m.step(Step::row(facing, cue, ops))?;
    }
    Ok(())
}

fn slip_one_knit_one(ops: &mut Vec<Op>, times: u16) {
    let mut pair = Vec::with_capacity(2);
    run(&mut pair, Op::Slip, 1);
    run(&mut pair, Op::Knit, 1);
    run_repeat(ops, pair, times);
}

/// A right-side row; `width` is even.
fn thick_row(ops: &mut Vec<Op>, texture: FlapTexture, width: u16, row: u16) {
    match texture {
        FlapTexture::SlippedStitch => slip_one_knit_one(ops, width / 2),
        FlapTexture::EyeOfPartridge if row.is_multiple_of(4) => slip_one_knit_one(ops, width / 2),
        FlapTexture::EyeOfPartridge => {
            // every second right-side row moves over by one
            run(ops, Op::Slip, 1);
            slip_one_knit_one(ops, width / 2 - 1);
            run(ops, Op::Knit, 1);
        }
        FlapTexture::GarterEdge => {
            run(ops, Op::SlipYarnInFront, 1);
            run(ops, Op::Knit, 2);
            slip_one_knit_one(ops, (width - 6) / 2);
            run(ops, Op::Knit, 3);
        }
    }
}

fn back_row(ops: &mut Vec<Op>, texture: FlapTexture, width: u16) {
    match texture {
        FlapTexture::SlippedStitch | FlapTexture::EyeOfPartridge => {
            run(ops, Op::Slip, 1);
            run(ops, Op::Purl, width - 1);
        }
        FlapTexture::GarterEdge => {
            run(ops, Op::SlipYarnInFront, 1);
            run(ops, Op::Knit, 2);
            run(ops, Op::Purl, width - 6);
            run(ops, Op::Knit, 3);
        }
    }
}

/// Two stitches go at the middle of the flap, leaning towards each other over a pair of plain ones.
fn narrowing_row(ops: &mut Vec<Op>, texture: FlapTexture, width: u16) {
    let side = width / 2 - 3;
    match texture {
        FlapTexture::GarterEdge => run(ops, Op::SlipYarnInFront, 1),
        FlapTexture::SlippedStitch | FlapTexture::EyeOfPartridge => run(ops, Op::Slip, 1),
    }
    run(ops, Op::Knit, side - 1);
    ops.push(Op::K2tog);
    run(ops, Op::Knit, 2);
    ops.push(Op::Ssk);
    run(ops, Op::Knit, side);
}
