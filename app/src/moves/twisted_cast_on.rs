//! The long-tail cast-on with a twist in the thumb's loop.

use super::cast_ons::{
    BEFORE_FINGER, BEHIND_FINGER, Lie, cast, drawn_through, finger, finger_caught, needle,
    new_stitch, over_finger, round_thumb, thumb,
};
use super::stitches::{Frame, Side, at};
use super::strand::{Ink, Knot, k};

/// Long-tail cast-on with a twist in the thumb's loop.
pub(crate) fn twisted_long_tail() -> [Frame; 6] {
    let rest = Lie {
        point: (112.0, 66.0),
        right: 84.0,
    };
    let xs = [152.0, 178.0, 204.0, 230.0];
    let hand = || thumb(finger(Frame::new(Side::Knit)));
    let start = |lie: Lie, depths: &[(f32, i8)], yarn: &[Knot], tail: &[Knot]| {
        needle(cast(hand(), lie, &xs, Ink::Fabric, &[], &[]), lie, depths)
            .line(Ink::Yarn, yarn)
            .line(Ink::Subject, tail)
    };
    let foot = |lie: Lie| k(xs[0] - 4.0, lie.y(xs[0]) + 40.0, at::LEG_BEHIND);
    let bump = |lie: Lie| k(xs[0] - 11.0, lie.y(xs[0]) + 40.0, at::LEG_BEHIND);
    let slack = |lie: Lie| over_finger(&[k(96.0, 80.0, BEHIND_FINGER), foot(lie)]);
    let to_needle = |lie: Lie| round_thumb(&[k(98.0, 112.0, BEHIND_FINGER), bump(lie)]);
    let all: &[(f32, i8)] = &[(252.0, at::HOLDS)];
    let under = Lie {
        point: (20.0, 150.0),
        right: 60.0,
    };
    let down = Lie {
        point: (52.0, 118.0),
        right: 70.0,
    };
    let over = Lie {
        point: (62.0, 50.0),
        right: 92.0,
    };
    let through = Lie {
        point: (62.0, 84.0),
        right: 82.0,
    };
    // The thumb's loop, its two strands crossed between the thumb and the needle's point.
    let crossed = |x: f32, y: f32, to: Knot| {
        vec![
            k(-10.0, 90.0, BEFORE_FINGER),
            k(22.0, 112.0, BEFORE_FINGER),
            k(x - 18.0, y + 26.0, BEFORE_FINGER),
            k(x + 4.0, y + 2.0, BEFORE_FINGER),
            k(x + 14.0, y - 10.0, at::LEG_BEHIND),
            k(x, y, at::LEG_BEHIND),
            k(x - 12.0, y + 12.0, BEHIND_FINGER),
            k(40.0, 150.0, BEHIND_FINGER),
            k(52.0, 166.0, BEHIND_FINGER),
            k(68.0, 134.0, BEHIND_FINGER),
            k(100.0, 112.0, BEHIND_FINGER),
            to,
        ]
    };
    let caught = finger_caught(foot(over));
    let new_loop = drawn_through(foot(through));
    [
        start(rest, all, &slack(rest), &to_needle(rest)),
        start(
            under,
            &[(252.0, at::HOLDS)],
            &slack(under),
            &to_needle(under),
        ),
        start(
            down,
            &[(252.0, at::HOLDS), (100.0, 7)],
            &slack(down),
            &crossed(78.0, 104.0, bump(down)),
        ),
        start(over, all, &caught, &crossed(80.0, 70.0, bump(over))),
        start(
            through,
            all,
            &new_loop,
            &crossed(84.0, 108.0, bump(through)),
        ),
        new_stitch(&xs),
    ]
}
