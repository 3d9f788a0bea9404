//! Rows that are opened for a heel: with a waste yarn in them, or snipped. The open stitches are drawn laid flat, the
//! row's own right side up, as for a graft.

use super::graft;
use super::stitches::{DrawnStitch, Frame, Side, at, held, new, off};
use super::strand::{Ink, Knot, k};
use super::worked::{HOLDING, LEFT, OUTSIDE, RESTING, RIGHT, fabric, into, rests_behind};

/// How much closer to one another the rows lie than for a graft.
const CLOSER: f32 = 13.0;

/// How much farther to the right they begin: beyond the picture's edge.
const ASIDE: f32 = 76.0;
const BELOW: u8 = graft::FRONT_STITCHES + 2;
const ABOVE: u8 = graft::BACK_STITCHES + 2;

fn below_x(i: u8) -> f32 {
    graft::front(i) + ASIDE
}

fn above_x(i: u8) -> f32 {
    graft::back(i) + ASIDE
}

/// The rows below and above; so many of each are not on their needle.
fn rows(off_below: u8, off_above: u8) -> Frame {
    let frame = graft::needle(
        Frame::new(Side::Knit),
        BELOW,
        off_below,
        below_x,
        graft::FRONT - CLOSER,
        -1.0,
    );
    let mut frame = graft::needle(frame, ABOVE, off_above, above_x, graft::BACK + CLOSER, 1.0);
    frame.on_needles = (
        usize::from(BELOW - off_below),
        usize::from(ABOVE - off_above),
    );
    frame
}

/// The yarn of the row between, so many passes of it from the right.
fn passes(count: u8) -> Vec<Knot> {
    graft::way(count, CLOSER)
        .into_iter()
        .map(|knot| Knot {
            x: knot.x + ASIDE,
            ..knot
        })
        .collect()
}

fn between(frame: Frame, ink: Ink, count: u8, to: &[Knot]) -> Frame {
    let mut way = passes(count);
    way.extend(to);
    frame.line(ink, &way)
}

/// All of the row that is seen.
const ALL: u8 = 34;
/// Where a pass stands in the yarn's way.
const LEAD: usize = 5;

/// Waste yarn: knitted in, and drawn out later.
#[allow(clippy::too_many_lines)] // a line for each knot
pub(crate) fn waste() -> [Frame; 8] {
    let hangs = [
        k(120.0, 190.0, at::YARN_BEHIND),
        k(134.0, 140.0, at::YARN_BEHIND),
        k(150.0, 118.0, at::YARN_BEHIND),
    ];
    let heel = [80.0, 106.0];
    let made = |frame: Frame, yarn: &[Knot], on: &[DrawnStitch]| {
        frame
            .row(&[], on, &[])
            .row(yarn, &RIGHT.map(new), &[k(256.0, 168.0, at::BETWEEN)])
    };
    let lying = heel.map(held);
    let knitted = [106.0, 132.0];
    let in_waste = |x: f32| new(x).foot_y(96.0).ink(Ink::Waste).strand(Ink::Waste);
    let end = |x: f32| {
        [
            k(x + 40.0, -10.0, at::YARN_BEHIND),
            k(x - 8.0, 46.0, at::YARN_BEHIND),
            k(x - 4.0, 102.0, at::YARN_BEHIND),
        ]
    };
    let tail = |x: f32, y: f32| {
        [
            k(x, y, at::YARN_BEHIND),
            k(x + 4.0, y + 20.0, at::YARN_BEHIND),
            k(x - 6.0, 190.0, at::YARN_BEHIND),
        ]
    };
    let back = [80.0, 106.0].map(|x| held(x).foot_y(101.0).ink(Ink::Waste).strand(Ink::Waste));
    let over = knitted.map(|x| new(x).foot_y(86.0).ink(Ink::Yarn).strand(Ink::Yarn));
    [
        made(into(fabric(Side::Knit, &heel), &lying), &hangs, &[])
            .line(
                Ink::Waste,
                &[
                    k(160.0, -10.0, at::YARN_BEHIND),
                    k(126.0, 30.0, at::YARN_BEHIND),
                    k(118.0, 84.0, at::YARN_BEHIND),
                    k(98.0, 190.0, at::YARN_BEHIND),
                ],
            )
            .holds(HOLDING)
            .takes(0.0, RESTING, OUTSIDE),
        made(
            into(fabric(Side::Knit, &knitted), &knitted.map(off)),
            &hangs.map(|knot| Knot {
                x: knot.x + 10.0,
                ..knot
            }),
            &knitted.map(in_waste),
        )
        .line(Ink::Waste, &end(106.0))
        .line(Ink::Waste, &tail(136.0, 106.0))
        .holds(76.0)
        .takes(0.0, 88.0, OUTSIDE),
        made(
            into(fabric(Side::Knit, &heel), &heel.map(|x| off(x).lower(8.0))),
            &hangs,
            &[],
        )
        .row(&[], &back, &[])
        .line(
            Ink::Waste,
            &[
                k(70.0, 190.0, at::YARN_BEHIND),
                k(66.0, 140.0, at::YARN_BEHIND),
                k(77.0, 110.0, at::YARN_BEHIND),
            ],
        )
        .line(Ink::Waste, &tail(110.0, 104.0))
        .holds(HOLDING)
        .takes(0.0, RESTING, OUTSIDE),
        made(
            Frame::new(Side::Knit)
                .below(&[
                    LEFT[0], LEFT[1], LEFT[2], 106.0, 132.0, RIGHT[0], RIGHT[1], RIGHT[2],
                ])
                .row(
                    &[],
                    &[
                        held(LEFT[0]),
                        held(LEFT[1]),
                        held(LEFT[2]),
                        off(106.0).lower(14.0),
                        off(132.0).lower(14.0),
                        off(RIGHT[0]),
                        off(RIGHT[1]),
                        off(RIGHT[2]),
                    ],
                    &[],
                )
                .row(
                    &[],
                    &knitted.map(|x| {
                        off(x)
                            .foot_y(108.0)
                            .lower(-10.0)
                            .ink(Ink::Waste)
                            .strand(Ink::Waste)
                    }),
                    &[],
                ),
            &[],
            &[],
        )
        .row(&rests_behind(106.0), &over, &[])
        .line(Ink::Waste, &tail(136.0, 112.0))
        .holds(76.0)
        .takes(0.0, 88.0, OUTSIDE),
        between(rows(BELOW, ABOVE), Ink::Waste, ALL, &[]),
        between(rows(0, 4), Ink::Waste, ALL, &[]),
        between(
            rows(0, 0),
            Ink::Waste,
            12,
            &[
                k(128.0, 96.0, at::YARN),
                k(96.0, 60.0, at::YARN),
                k(110.0, -10.0, at::YARN),
            ],
        ),
        rows(0, 0),
    ]
}

/// A row that is snipped.
pub(crate) fn snipped_row() -> [Frame; 6] {
    // The row's right part up to a pass, and its left part from another one on, each with its end.
    let parted = |to: u8, out: &[Knot], from: usize, back: &[Knot]| {
        let right = [&passes(to)[..], out].concat();
        let all = passes(ALL);
        let left = [back, all.get(from + LEAD..).unwrap_or_default()].concat();
        rows(0, 0)
            .line(Ink::Subject, &right)
            .line(Ink::Subject, &left)
    };
    [
        between(rows(BELOW, ABOVE), Ink::Subject, ALL, &[]),
        between(rows(4, ABOVE), Ink::Subject, ALL, &[]),
        between(rows(0, 4), Ink::Subject, ALL, &[]),
        parted(
            12,
            &[k(150.0, 98.0, at::YARN)],
            12,
            &[k(156.0, 78.0, at::YARN)],
        ),
        parted(
            8,
            &[k(178.0, 150.0, at::YARN), k(160.0, 190.0, at::YARN)],
            16,
            &[k(124.0, -10.0, at::YARN), k(132.0, 24.0, at::YARN)],
        ),
        parted(
            4,
            &[k(210.0, 150.0, at::YARN), k(196.0, 190.0, at::YARN)],
            24,
            &[k(60.0, -10.0, at::YARN), k(58.0, 24.0, at::YARN)],
        ),
    ]
}
