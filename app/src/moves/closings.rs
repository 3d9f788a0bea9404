//! Gaps that are closed: the last stitches drawn together, and the corner between heel and instep.

use core::f32::consts::TAU;

use super::stitches::{DrawnStitch, Frame, Front, Side, at, held, moved, new, off};
use super::strand::{Ink, Knot, k};
use super::worked::{
    AS_TO_KNIT, BEHIND, HOLDING, IN, OUTSIDE, RESTING, RIGHT, fabric, into, made, off_pair,
    rests_behind,
};

/// The stitches on the needle that holds them, from the left to the right, and the height at which a thread goes
/// through them.
const ON: [f32; 5] = [2.0, 28.0, 54.0, 80.0, 106.0];

fn through(x: f32) -> f32 {
    super::stitches::fallen(x, 64.0)
}

/// The last stitches on their needles; the first `off` of those on the one are threaded.
fn last_stitches(worked: usize) -> Frame {
    let row: Vec<DrawnStitch> = ON
        .iter()
        .rev()
        .enumerate()
        .map(|(i, x)| {
            if i < worked {
                held(*x).subject()
            } else {
                held(*x)
            }
        })
        .rev()
        .collect();
    fabric(Side::Knit, &[80.0, 106.0])
        .row(&[], &row, &[])
        .row(&[], &RIGHT.map(moved), &[])
        .holds(HOLDING)
        .takes(0.0, RESTING, OUTSIDE)
}

/// The thread in so many stitches, on to the needle's eye.
fn threaded(stitches: usize, to: &[Knot]) -> Vec<Knot> {
    let mut way = vec![
        k(155.0, 121.0, at::YARN_BEHIND),
        k(134.0, 84.0, at::TAKES_IN_LEG),
    ];
    for x in ON.iter().rev().take(stitches) {
        way.push(k(*x, through(*x), at::TAKES_IN_LEG));
    }
    way.extend(to);
    way
}

/// How many of the last stitches are seen from above.
const RING: u8 = 8;
const MIDDLE: (f32, f32) = (120.0, 92.0);

/// A place round the hole, so far from its middle, at a part of the way round.
fn round_hole(far: f32, turn: f32, depth: i8) -> Knot {
    let angle = turn * TAU;
    k(
        angle.cos().mul_add(far, MIDDLE.0),
        angle.sin().mul_add(far, MIDDLE.1),
        depth,
    )
}

/// The hole seen from above: the heads of the last stitches so far from its middle, and two rows below them.
fn hole(head: f32, threads: &[f32], to: &[Knot]) -> Frame {
    let mut frame = Frame::new(Side::Knit);
    let step = 1.0 / f32::from(RING);
    for (row, ink) in [(2.0, Ink::Fabric), (1.0, Ink::Fabric), (0.0, Ink::Subject)] {
        let far = head + row * 26.0;
        let loops: Vec<Vec<Knot>> = (0..RING)
            .map(|i| {
                let turn = f32::from(i) * step;
                let wide = (7.0 / (far + 12.0)) / TAU * 1.3;
                vec![
                    round_hole(far + 34.0, turn - wide * 0.4, at::FOOT),
                    round_hole(far + 14.0, turn - wide, at::LEG_BEHIND),
                    round_hole(far, turn, at::LEG),
                    round_hole(far + 14.0, turn + wide, at::LEG),
                    round_hole(far + 34.0, turn + wide * 0.4, at::FOOT),
                ]
            })
            .collect();
        frame = frame.lines(ink, &loops);
    }
    let mut way = Vec::new();
    for thread in threads {
        for part in 0..RING * 2 {
            way.push(round_hole(
                head + thread,
                f32::from(part) * step / 2.0 + step / 4.0,
                at::TAKES_IN_LEG,
            ));
        }
    }
    way.extend(to);
    frame.line(Ink::Yarn, &way)
}

/// Drawing the last stitches closed.
pub(crate) fn drawn_closed() -> [Frame; 6] {
    let sewing = |from: f32, to: f32| {
        [
            k(from, through(from) - 8.0, at::TAKES_IN_LEG),
            k(to, through(to) + 4.0, 0),
        ]
    };
    [
        last_stitches(0).line(
            Ink::Yarn,
            &[
                k(172.0, -10.0, at::YARN_BEHIND),
                k(142.0, 50.0, at::YARN_BEHIND),
                k(155.0, 121.0, at::YARN_BEHIND),
            ],
        ),
        last_stitches(1)
            .line(
                Ink::Yarn,
                &[
                    k(155.0, 121.0, at::YARN_BEHIND),
                    k(172.0, 66.0, at::YARN_BEHIND),
                    sewing(156.0, 84.0)[0],
                ],
            )
            .straight(Ink::Sewing, &sewing(156.0, 84.0)),
        last_stitches(3)
            .line(
                Ink::Yarn,
                &threaded(1, &[k(84.0, through(84.0), at::TAKES_IN_LEG)]),
            )
            .straight(Ink::Sewing, &{
                let mut knots = sewing(90.0, 14.0);
                knots[0].y += 10.0;
                knots
            }),
        hole(40.0, &[9.0, 17.0], &{
            let mut to = vec![round_hole(52.0, 1.05, at::YARN)];
            to.extend([
                k(206.0, 84.0, at::YARN),
                k(228.0, 40.0, at::YARN),
                k(230.0, -10.0, at::YARN),
            ]);
            to
        }),
        hole(
            8.0,
            &[8.0, 13.0],
            &[
                k(150.0, 84.0, at::YARN),
                k(204.0, 60.0, at::YARN),
                k(230.0, -10.0, at::YARN),
            ],
        ),
        hole(4.0, &[7.0, 11.0], &[k(MIDDLE.0, MIDDLE.1, at::YARN_BEHIND)]),
    ]
}

/// Closing the corner between heel and instep.
pub(crate) fn corner() -> [Frame; 8] {
    let heel = 92.0;
    let firm = 131.0;
    let start = || made(fabric(Side::Knit, &[heel]), &rests_behind(158.0), &[]);
    let lies = off(firm).foot_y(152.0).lower(16.0).wide(9.0).subject();
    let lifted = held(firm).foot_y(150.0).head(114.0).subject();
    let stitch = held(heel).subject();
    let open = [stitch.head(94.0).wide(14.0), lifted.head(108.0).wide(14.0)];
    let together = |on_top: Front| {
        let [second, first] = off_pair(on_top);
        into(
            made(
                fabric(Side::Knit, &[106.0]),
                &rests_behind(125.0),
                &[new(125.0).foot_y(96.0).ink(Ink::Yarn)],
            ),
            &match on_top {
                Front::Left => [second, first.foot_y(150.0)],
                Front::Right => [second.foot_y(150.0), first],
            },
        )
        .holds(92.0)
        .takes(0.0, 105.0, OUTSIDE)
    };
    // At the heel's other end the loop lies after the last stitch of the heel.
    let last = 106.0;
    let (beyond, slipped) = (84.0, moved(132.0).turned().subject());
    let at_end = |row: &[DrawnStitch], feet: &[f32]| {
        let mut all: Vec<DrawnStitch> = [2.0, 28.0].map(held).to_vec();
        all.extend(row);
        all.extend(RIGHT.map(off));
        let below = [&[2.0, 28.0], feet, &RIGHT[..]].concat();
        Frame::new(Side::Knit)
            .below(&below)
            .row(&rests_behind(158.0), &RIGHT.map(new), &[])
            .row(&[], &all, &[])
    };
    let waits = off(beyond - 12.0)
        .foot_y(150.0)
        .lower(16.0)
        .wide(9.0)
        .subject();
    let up = held(beyond - 12.0).foot_y(148.0).head(92.0).subject();
    [
        into(start(), &[stitch, lies])
            .holds(HOLDING - 14.0)
            .takes(0.0, RESTING, OUTSIDE),
        into(start(), &[stitch, lifted])
            .holds(HOLDING)
            .takes(0.0, RESTING, OUTSIDE),
        into(start(), &open)
            .holds(HOLDING)
            .takes(0.0, IN, AS_TO_KNIT),
        together(Front::Left),
        at_end(&[waits, held(last).subject()], &[last])
            .holds(HOLDING)
            .takes(0.0, RESTING, OUTSIDE),
        at_end(&[up, slipped], &[132.0])
            .holds(108.0)
            .takes(0.0, 114.0, OUTSIDE),
        at_end(
            &[
                up.turned().head(96.0).wide(14.0).behind(at::BEHIND_TAKES),
                held(120.0)
                    .head(110.0)
                    .turned()
                    .wide(14.0)
                    .behind(at::BEHIND_TAKES)
                    .subject(),
            ],
            &[120.0],
        )
        .holds(HOLDING)
        .takes(0.0, IN, BEHIND),
        together(Front::Right),
    ]
}
