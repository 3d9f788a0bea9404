//! German short rows: the double stitch, and how it is worked.

use super::stitches::{DrawnStitch, Frame, Side, at, held, moved, new, off, takes_at};
use super::strand::{Ink, Knot, k};
use super::worked::{
    AS_TO_PURL, DRAWN_TO_FRONT, HOLDING, IN, KNIT_WRAP, LEFT, OUTSIDE, RESTING, RIGHT, rests_behind,
};

/// Stitches of the row that has just ended, in the row below: their place on the left needle.
const WORKED: [f32; 4] = [2.0, 28.0, 54.0, 80.0];
/// The foot of the row that has just ended.
const ROW: f32 = 101.0;

/// The work after the turn: the row below, of which the right needle holds what waits; `below` comes under the
/// stitch that is moved.
fn turned(last: f32, below: DrawnStitch) -> Frame {
    let mut feet = WORKED.to_vec();
    feet.push(last);
    feet.extend(RIGHT);
    let mut row: Vec<DrawnStitch> = WORKED.map(off).to_vec();
    row.push(below);
    row.extend(RIGHT.map(moved));
    Frame::new(Side::Knit).below(&feet).row(
        &[],
        &row,
        &[k(230.0, 172.0, at::BETWEEN), k(256.0, 184.0, at::BETWEEN)],
    )
}

/// The row that has just ended, its last stitch and its yarn.
fn ended(frame: Frame, last: DrawnStitch, yarn: &[Knot]) -> Frame {
    let mut row: Vec<DrawnStitch> = WORKED.map(|x| held(x).foot_y(ROW)).to_vec();
    row.push(last);
    frame.row(&[], &row, &[]).line(Ink::Yarn, yarn)
}

/// The double stitch.
pub(crate) fn double() -> [Frame; 5] {
    let x = 106.0;
    let first = held(x).foot_y(ROW).subject();
    let in_front = [
        k(x + 3.0, 104.0, at::YARN),
        k(116.0, 112.0, at::YARN),
        k(121.0, 140.0, at::YARN),
        k(118.0, 190.0, at::YARN),
    ];
    let behind = [
        k(x + 2.0, 104.0, at::YARN_BEHIND),
        k(124.0, 92.0, at::YARN_BEHIND),
        k(138.0, 40.0, at::YARN_BEHIND),
        k(172.0, -10.0, at::YARN_BEHIND),
    ];
    let to = 132.0;
    let slipped_yarn = in_front.map(|knot| Knot {
        x: knot.x + 26.0,
        y: knot.y + 7.0,
        ..knot
    });
    let needle = takes_at(to);
    let pulled = |frame: Frame, stitches: &[DrawnStitch], lead: &[Knot]| {
        let row: Vec<DrawnStitch> = WORKED
            .iter()
            .map(|x| held(*x).foot_y(ROW))
            .take(WORKED.len() + 1 - stitches.len())
            .chain(stitches.iter().skip(1).copied())
            .collect();
        frame
            .row(&[], &row, &[])
            .line(
                Ink::Fabric,
                &[
                    k(
                        row.last().map_or(0.0, |s| s.foot_x()) + 3.0,
                        fallen_foot(&row),
                        at::BETWEEN,
                    ),
                    k(116.0, 104.0, at::BETWEEN),
                    k(to, needle + 16.0, at::BETWEEN),
                ],
            )
            .line(Ink::Yarn, lead)
    };
    let double = moved(to).doubled().subject();
    [
        ended(turned(x, off(x)), first, &behind)
            .holds(HOLDING)
            .takes(0.0, RESTING, OUTSIDE),
        ended(turned(x, off(x)), first.wide(13.0), &in_front)
            .holds(HOLDING)
            .takes(0.0, IN + 12.0, AS_TO_PURL),
        ended(
            turned(to, off(to)),
            moved(to).foot_y(ROW).subject(),
            &slipped_yarn,
        )
        .holds(100.0)
        .takes(0.0, 112.0, OUTSIDE),
        pulled(
            turned(to, double),
            &[double],
            &[
                k(to, needle + 14.0, at::BEHIND_TAKES),
                k(to + 6.0, needle - 14.0, at::BEHIND_TAKES),
                k(178.0, -10.0, at::BEHIND_TAKES),
            ],
        )
        .holds(100.0)
        .takes(0.0, 112.0, OUTSIDE),
        pulled(
            turned(to, double),
            &[double, off(106.0).foot_y(ROW).lower(-16.0)],
            &[],
        )
        .row(
            &rests_behind(106.0).map(|knot| Knot {
                y: knot.y.min(88.0),
                ..knot
            }),
            &[new(106.0).foot_y(84.0).ink(Ink::Yarn)],
            &[],
        )
        .holds(74.0)
        .takes(0.0, 84.0, OUTSIDE),
    ]
}

/// The foot of the last of some stitches, as it hangs.
fn fallen_foot(row: &[DrawnStitch]) -> f32 {
    row.last()
        .map_or(0.0, |stitch| super::stitches::fallen(stitch.foot_x(), ROW))
}

/// Working a double stitch.
pub(crate) fn double_worked() -> [Frame; 5] {
    let x = 114.0;
    let row = |frame: Frame, double: DrawnStitch| {
        let mut left: Vec<DrawnStitch> = LEFT.map(held).to_vec();
        left.push(held(80.0));
        left.push(double);
        frame.row(&[], &left, &[])
    };
    let start = |yarn: &[Knot], lower: f32| {
        let mut feet = LEFT.to_vec();
        feet.extend([80.0, x]);
        feet.extend(RIGHT);
        Frame::new(Side::Knit)
            .below(&feet)
            .line(
                Ink::Fabric,
                &[
                    k(x, 66.0, at::BETWEEN),
                    k(134.0, 108.0, at::BETWEEN),
                    k(154.0, 134.0, at::BETWEEN),
                ],
            )
            .row(&[], &RIGHT.map(off), &[])
            .row(yarn, &RIGHT.map(|x| new(x).lower(lower)), &[])
    };
    let double = held(x).doubled().subject();
    let open = double;
    let drawn = DRAWN_TO_FRONT.map(|knot| {
        if knot.x < 125.0 {
            Knot {
                x: knot.x - 4.0,
                ..knot
            }
        } else {
            knot
        }
    });
    let to = 132.0;
    let needle: &[(f32, i8)] = &[(256.0, at::TAKES), (101.0, at::TAKES_BEHIND)];
    let mut feet = LEFT.to_vec();
    feet.extend([80.0, to]);
    feet.extend(RIGHT);
    [
        row(start(&rests_behind(158.0), 0.0), double)
            .holds(HOLDING + 4.0)
            .takes(0.0, RESTING + 4.0, OUTSIDE),
        row(start(&rests_behind(158.0), 0.0), open)
            .holds(HOLDING + 4.0)
            .takes(0.0, IN, needle),
        row(start(&KNIT_WRAP, 0.0), open)
            .holds(HOLDING + 4.0)
            .takes(0.0, IN, needle),
        row(start(&drawn, 16.0), open)
            .holds(HOLDING + 4.0)
            .takes(16.0, 84.0, OUTSIDE),
        row(
            Frame::new(Side::Knit)
                .below(&feet)
                .row(&[], &RIGHT.map(off), &[])
                .row(
                    &rests_behind(to),
                    &[
                        new(to).foot_y(96.0).ink(Ink::Yarn),
                        new(158.0),
                        new(184.0),
                        new(210.0),
                    ],
                    &[],
                ),
            off(to).subject(),
        )
        .holds(104.0)
        .takes(0.0, 112.0, OUTSIDE),
    ]
}
