//! A cast-on of slip knots.

use super::cast_ons::{NeedleLine, needle};
use super::stitches::{Frame, Side, at};
use super::strand::{Ink, Knot, k};

/// Slip knots on the needle, from the left to the right.
fn knots(mut frame: Frame, line: NeedleLine, xs: &[f32], ink: Ink, from: &[Knot]) -> Frame {
    let mut yarn = from.to_vec();
    for x in xs {
        let y = line.y(*x);
        yarn.extend([
            k(x - 9.0, y + 36.0, at::LEG_BEHIND),
            k(x + 7.0, y + 34.0, at::LEG_BEHIND),
            k(x + 8.0, y + 25.0, at::TAKES),
            k(x - 7.0, y + 25.0, at::TAKES),
            k(x - 7.0, y + 34.0, at::LEG_BEHIND),
            k(x - 3.0, y + 22.0, at::LEG_BEHIND),
            k(x - 8.0, y + 3.0, at::LEG_BEHIND),
            k(*x, y - 9.0, at::LEG),
            k(x + 8.0, y + 4.0, at::LEG),
            k(x + 4.0, y + 22.0, at::LEG_BEHIND),
            k(x + 8.0, y + 37.0, at::LEG_BEHIND),
        ]);
    }
    frame = frame.line(ink, &yarn);
    frame.on_needles.1 += xs.len();
    frame
}

/// Slip-knot cast-on.
pub(crate) fn slip_knot() -> [Frame; 5] {
    let line = NeedleLine {
        point: (104.0, 46.0),
        right: 62.0,
    };
    let xs = [152.0, 178.0, 204.0, 230.0];
    let all: &[(f32, i8)] = &[(252.0, at::HOLDS)];
    let on = |yarn: &[Knot]| {
        needle(
            knots(Frame::new(Side::Knit), line, &xs, Ink::Fabric, &[]),
            line,
            all,
        )
        .line(Ink::Yarn, yarn)
    };
    // From the last knot to the left: the strand that a knot is made of.
    let foot = k(141.0, line.y(152.0) + 36.0, at::HEAD);
    // Its right side passes behind where it begins, to the end that goes to the ball.
    let ring = [
        k(104.0, 82.0, at::HEAD),
        k(117.0, 98.0, at::HEAD),
        k(118.0, 122.0, at::FOOT),
        k(98.0, 146.0, at::FOOT),
        k(68.0, 146.0, at::FOOT),
        k(54.0, 122.0, at::FOOT),
        k(66.0, 100.0, at::FOOT),
        k(94.0, 98.0, at::FOOT),
        foot,
    ];
    let to_ball = |to: &[Knot]| {
        let mut yarn = vec![
            k(-10.0, 160.0, at::LEG_BEHIND),
            k(40.0, 158.0, at::LEG_BEHIND),
        ];
        yarn.extend(to);
        yarn.extend(ring);
        yarn
    };
    let behind = [
        k(74.0, 130.0, at::LEG_BEHIND),
        k(82.0, 104.0, at::LEG_BEHIND),
        k(90.0, 82.0, at::LEG_BEHIND),
    ];
    let fetched = [
        k(66.0, 136.0, at::TAKES),
        k(70.0, 96.0, at::TAKES),
        k(80.0, 60.0, at::TAKES),
        k(92.0, 76.0, at::TAKES),
        k(88.0, 112.0, at::LEG_BEHIND),
        k(92.0, 88.0, at::LEG_BEHIND),
    ];
    // The knot close to the needle, its loop over it.
    let loose = [
        k(-10.0, 130.0, at::LEG_BEHIND),
        k(70.0, 116.0, at::LEG_BEHIND),
        k(112.0, 96.0, at::TAKES - 1),
        k(112.0, 62.0, at::LEG_BEHIND),
        k(123.0, line.y(124.0) - 9.0, at::LEG),
        k(135.0, 62.0, at::LEG),
        k(128.0, 94.0, at::LEG_BEHIND),
        k(146.0, 108.0, at::TAKES),
        k(132.0, 122.0, at::TAKES),
        k(104.0, 112.0, at::TAKES),
        k(104.0, 88.0, at::TAKES),
        k(132.0, 82.0, at::HEAD - 2),
        foot,
    ];
    [
        on(&[
            k(-10.0, 118.0, at::HEAD),
            k(60.0, 126.0, at::HEAD),
            k(110.0, 106.0, at::HEAD),
            foot,
        ]),
        on(&to_ball(&behind)),
        on(&to_ball(&fetched)),
        on(&loose),
        needle(
            knots(
                knots(
                    Frame::new(Side::Knit),
                    line,
                    &[126.0],
                    Ink::Yarn,
                    &[
                        k(-10.0, 140.0, at::LEG_BEHIND),
                        k(60.0, 120.0, at::LEG_BEHIND),
                    ],
                ),
                line,
                &xs,
                Ink::Fabric,
                &[],
            ),
            line,
            all,
        ),
    ]
}
