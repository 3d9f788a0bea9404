//! Short rows with double stitches (German short rows): inward, each row one stitch shorter, and
//! outward again, each one longer.
//!
//! A row ends with the turn and the double stitch that it makes.

use super::model::{Cue, Step};
use crate::needles::Facing;
use crate::stitch::{Op, run};

/// How far short rows go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct ShortRows {
    /// Double stitches on each side.
    pub doubles: u16,
    /// Stitches between them.
    pub middle: u16,
}

impl ShortRows {
    /// Over `width` stitches (even), leaving a middle of about `width / part`.
    pub(super) const fn over(width: u16, part: u16) -> Self {
        let middle = (width + part) / (2 * part) * 2;
        Self {
            doubles: (width - middle) / 2,
            middle,
        }
    }

    /// With so many double stitches fewer on each side, and a wider middle.
    pub(super) const fn widened(self, by: u16) -> Self {
        let by = if by < self.doubles {
            by
        } else {
            self.doubles - 1
        };
        Self {
            doubles: self.doubles - by,
            middle: self.middle + 2 * by,
        }
    }

    /// With one more double stitch on each side, and a middle two stitches narrower.
    pub(super) const fn narrowed(self) -> Self {
        Self {
            doubles: self.doubles + 1,
            middle: self.middle - 2,
        }
    }

    /// Stitches they are worked over.
    pub(super) const fn width(self) -> u16 {
        self.middle + 2 * self.doubles
    }

    /// Rows that go inward.
    pub(super) const fn inward_rows(self) -> u16 {
        2 * self.doubles
    }

    /// Rows that go inward, and the two that close all double stitches.
    pub(super) const fn turn_rows(self) -> u16 {
        self.inward_rows() + 2
    }
}

fn plain(ops: &mut Vec<Op>, facing: Facing, n: u16) {
    run(
        ops,
        if facing == Facing::RightSide {
            Op::Knit
        } else {
            Op::Purl
        },
        n,
    );
}

fn close(ops: &mut Vec<Op>, facing: Facing, n: u16) {
    run(
        ops,
        if facing == Facing::RightSide {
            Op::KnitDouble
        } else {
            Op::PurlDouble
        },
        n,
    );
}

/// The rows inward, `before` stitches beside the first one being passed on the way.
pub(super) fn inward(rows: ShortRows, before: u16) -> Vec<Step> {
    (0..rows.inward_rows())
        .map(|row| {
            let facing = Facing::of_row(row);
            let mut ops = Vec::with_capacity(3);
            plain(
                &mut ops,
                facing,
                if row == 0 {
                    before + rows.width()
                } else {
                    rows.width() - row
                },
            );
            ops.push(Op::TurnDouble);
            Step::row(facing, Cue::Shape, ops)
        })
        .collect()
}

/// The two rows that close all double stitches, where nothing is knitted round between.
pub(super) fn fold(rows: ShortRows) -> [Step; 2] {
    let ShortRows { doubles, middle } = rows;
    let mut right = Vec::with_capacity(3);
    run(&mut right, Op::Knit, middle);
    run(&mut right, Op::KnitDouble, doubles);
    right.push(Op::Turn);
    let mut wrong = Vec::with_capacity(4);
    run(&mut wrong, Op::Slip, 1);
    run(&mut wrong, Op::Purl, middle + doubles - 1);
    run(&mut wrong, Op::PurlDouble, doubles);
    wrong.push(Op::Turn);
    [
        Step::row(Facing::RightSide, Cue::Plain, right),
        Step::row(Facing::WrongSide, Cue::Plain, wrong),
    ]
}

/// The rows outward again. `open`: whether the double stitches before the middle are still to be
/// worked in the first row.
pub(super) fn outward(rows: ShortRows, open: bool) -> Vec<Step> {
    (0..rows.inward_rows() + 2)
        .map(|row| {
            let facing = Facing::of_row(row);
            let mut ops = Vec::with_capacity(5);
            match row {
                0 if open => {
                    close(&mut ops, facing, rows.doubles);
                    plain(&mut ops, facing, rows.middle);
                }
                0 => plain(&mut ops, facing, rows.doubles + rows.middle),
                1 => plain(&mut ops, facing, rows.middle - 1),
                _ => {
                    plain(&mut ops, facing, rows.middle + row - 4);
                    close(&mut ops, facing, 1);
                    plain(&mut ops, facing, 1);
                }
            }
            ops.push(Op::TurnDouble);
            Step::row(facing, Cue::Shape, ops)
        })
        .collect()
}
