//! The whole sock on its needle, from a little farther away: the magic loop, and how the ring is closed.

use super::stitches::{Frame, Side, at};
use super::strand::{Ink, Knot, k};

/// From one stitch to the next, and where the first stitch from the right lies.
const PITCH: f32 = 16.0;
const FIRST: f32 = 168.0;
/// How many stitches each half has.
const HALF: u8 = 8;
/// The height of the half that faces the knitter, and of the one behind.
const FRONT: f32 = 78.0;
const BACK: f32 = 50.0;
/// What lies on the half behind is deeper by so much.
const DEEP: i8 = 20;

/// A stitch of the half in front, from its left foot to its right one.
fn small(x: f32, foot: f32, needle: f32, on: bool) -> [Knot; 5] {
    let (left, right) = if on {
        (at::LEG_BEHIND, at::LEG)
    } else {
        (at::HEAD, at::FOOT)
    };
    [
        k(x - 2.4, foot, at::FOOT),
        k(x - 5.6, needle + 3.0, left),
        k(x, needle - 7.5, right),
        k(x + 5.6, needle + 3.0, right),
        k(x + 2.4, foot, at::BETWEEN),
    ]
}

/// Rows below: the heads of one are held by the feet of the one above.
fn rows(mut frame: Frame, from: f32, count: u8, xs: &[f32], ink: Ink) -> Frame {
    for row in 0..count {
        let top = from + f32::from(row) * 22.0;
        let mut knots = Vec::new();
        for x in xs {
            knots.extend(small(*x, top + 28.0, top + 6.0, false));
        }
        frame = frame.line(ink, &knots);
    }
    frame
}

/// The places of some stitches, from the left to the right.
fn places(first: f32, count: u8) -> Vec<f32> {
    (0..count)
        .rev()
        .map(|i| first - f32::from(i) * PITCH)
        .collect()
}

/// Stitches on a needle or a cable at that height, all in one ink.
fn on(frame: Frame, xs: &[f32], y: f32, ink: Ink, deeper: i8) -> Frame {
    let mut knots = Vec::new();
    for x in xs {
        knots.extend(small(*x, y + 26.0, y, true).map(|knot| Knot {
            depth: knot.depth - deeper,
            ..knot
        }));
    }
    frame.line(ink, &knots)
}

/// The half behind: only its upper edge is seen above the one in front.
fn behind(frame: Frame, ink: Ink) -> Frame {
    on(frame, &places(FIRST, HALF), BACK, ink, DEEP)
}

/// A needle's tip and the cable at its end, from the left to the right.
fn tip(frame: Frame, y: f32, point: f32, deeper: i8) -> Frame {
    frame.straight(Ink::Needle, &[k(44.0, y, -deeper), k(point, y, -deeper)])
}

/// The cable's loop at the left: from the front half to the half behind.
fn loop_left(frame: Frame) -> Frame {
    frame.line(
        Ink::Cable,
        &[
            k(52.0, BACK, -DEEP),
            k(30.0, BACK, -DEEP),
            k(8.0, 54.0, -DEEP),
            k(8.0, 74.0, -DEEP),
            k(30.0, FRONT, -DEEP),
            k(52.0, FRONT, -DEEP),
        ],
    )
}

/// The cable below the half behind, and round to the needle that was pulled out of it.
fn pulled_out(frame: Frame, end: (f32, f32)) -> Frame {
    frame.line(
        Ink::Cable,
        &[
            k(30.0, BACK, -DEEP),
            k(110.0, BACK, -DEEP),
            k(184.0, BACK, -DEEP),
            k(222.0, 30.0, -DEEP),
            k(252.0, 50.0, -DEEP),
            k(end.0 + 6.0, end.1 + 4.0, -DEEP),
            k(end.0 - 4.0, end.1 - 2.0, -DEEP),
        ],
    )
}

/// The yarn from the last stitch, which lies at the right end of the half behind.
const YARN: [Knot; 4] = [
    k(FIRST + 2.0, BACK + 26.0, -DEEP),
    k(FIRST + 14.0, BACK + 20.0, -DEEP),
    k(204.0, 12.0, -DEEP),
    k(212.0, -10.0, -DEEP),
];

/// The sock on its needle: how many rows hang below; of the front half so many stitches are worked.
fn sock(hanging: u8) -> Frame {
    rows(
        Frame::new(Side::Knit),
        FRONT + 14.0,
        hanging,
        &places(FIRST, HALF),
        Ink::Fabric,
    )
}

/// Both tips in their halves.
fn at_rest(hanging: u8, front: Ink, back: Ink) -> Frame {
    let mut frame = loop_left(behind(sock(hanging), back));
    frame = on(frame, &places(FIRST, HALF), FRONT, front, 0);
    frame = tip(tip(frame, BACK, 196.0, DEEP), FRONT, 196.0, 0);
    frame.on_needles = (usize::from(HALF), usize::from(HALF));
    frame
}

/// The needle that was pulled out, beside or in the stitches in front, with so many of them worked.
fn at_work(hanging: u8, worked: u8, depths: &[(f32, i8)], point: f32, lower: f32) -> Frame {
    // What is worked lies on the needle in the right hand, which falls to the right.
    let slope = if worked > 1 { 0.16 } else { 0.42 };
    let meet = FIRST - f32::from(worked) * PITCH + 9.0;
    let y = |x: f32| FRONT + lower + (x - meet) * slope;
    let mut frame = pulled_out(
        loop_left(behind(sock(hanging), Ink::Fabric)),
        (240.0, y(240.0)),
    );
    frame = on(
        frame,
        &places(FIRST - f32::from(worked) * PITCH, HALF - worked),
        FRONT,
        Ink::Subject,
        0,
    );
    let mut done = Vec::new();
    for x in places(FIRST, worked) {
        done.extend(small(x, y(x) + 24.0, y(x), true).map(|knot| Knot {
            depth: if knot.depth == at::LEG {
                at::NEW_LEG
            } else {
                knot.depth
            },
            ..knot
        }));
    }
    frame = frame.line(Ink::Yarn, &done);
    let held = if worked == HALF { 60.0 } else { meet + 18.0 };
    frame = tip(frame, FRONT, held, 0);
    let mut knots: Vec<Knot> = depths
        .iter()
        .map(|(x, depth)| k(*x, y(*x), *depth))
        .collect();
    knots.push(k(point, y(point), 0));
    frame = frame.straight(Ink::Needle, &knots);
    frame.on_needles = (usize::from(HALF), usize::from(HALF));
    frame
}

const OUT: &[(f32, i8)] = &[(240.0, at::TAKES)];

/// The magic loop: half a round.
pub(crate) fn magic_loop() -> [Frame; 5] {
    let worked = 3;
    let meet = FIRST - f32::from(worked) * PITCH;
    [
        at_rest(3, Ink::Subject, Ink::Fabric).line(Ink::Yarn, &YARN),
        at_work(3, 0, OUT, 184.0, 14.0)
            .line(Ink::Yarn, &YARN)
            .arrow(&[
                k(112.0, 22.0, at::ARROW),
                k(150.0, 20.0, at::ARROW),
                k(188.0, 20.0, at::ARROW),
            ]),
        at_work(3, worked, OUT, meet - 2.0, 8.0).line(
            Ink::Yarn,
            &[
                k(meet + 13.0, 116.0, -DEEP),
                k(meet + 4.0, 100.0, -DEEP),
                k(meet + 12.0, 30.0, -DEEP),
                k(200.0, -10.0, -DEEP),
            ],
        ),
        at_work(3, HALF, OUT, 34.0, 10.0)
            .line(
                Ink::Yarn,
                &[
                    k(FIRST - f32::from(HALF - 1) * PITCH - 3.0, 108.0, -DEEP),
                    k(44.0, 104.0, -DEEP),
                    k(38.0, 30.0, -DEEP),
                    k(60.0, -10.0, -DEEP),
                ],
            )
            .arrow(&[
                k(190.0, 150.0, at::ARROW),
                k(214.0, 142.0, at::ARROW),
                k(214.0, 124.0, at::ARROW),
                k(196.0, 120.0, at::ARROW),
            ]),
        at_rest(3, Ink::Subject, Ink::Yarn).line(Ink::Yarn, &YARN),
    ]
}

/// Closing the ring.
pub(crate) fn join() -> [Frame; 4] {
    let tail = [
        k(FIRST + 2.0, FRONT + 26.0, at::BETWEEN),
        k(FIRST + 10.0, FRONT + 36.0, at::BETWEEN),
        k(FIRST + 12.0, FRONT + 70.0, at::BETWEEN),
    ];
    let wrap = [
        k(FIRST + 2.0, BACK + 26.0, -DEEP),
        k(FIRST - 4.0, BACK + 44.0, -DEEP),
        k(148.0, 92.0, -4),
        k(136.0, 66.0, -2),
        k(160.0, 50.0, -2),
        k(206.0, 4.0, -2),
        k(212.0, -10.0, -2),
    ];
    [
        at_rest(0, Ink::Fabric, Ink::Fabric)
            .line(Ink::Yarn, &YARN)
            .line(Ink::Subject, &tail),
        at_work(0, 0, OUT, 184.0, 14.0)
            .line(Ink::Yarn, &YARN)
            .line(Ink::Subject, &tail),
        at_work(
            0,
            0,
            &[(240.0, at::TAKES), (166.0, at::TAKES_BEHIND)],
            128.0,
            8.0,
        )
        .line(Ink::Yarn, &wrap)
        .line(Ink::Subject, &tail),
        at_work(0, 1, OUT, 150.0, 14.0)
            .line(Ink::Subject, &tail)
            .line(
                Ink::Yarn,
                &[
                    k(FIRST - 2.0, 114.0, -DEEP),
                    k(FIRST - 8.0, 96.0, -DEEP),
                    k(FIRST + 2.0, 30.0, -DEEP),
                    k(200.0, -10.0, -DEEP),
                ],
            ),
    ]
}
