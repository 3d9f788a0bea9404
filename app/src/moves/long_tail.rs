//! The long-tail cast-on, as it is and with a twist in the thumb's loop.

use super::cast_ons::{
    BEFORE_FINGER, BEHIND_FINGER, NeedleLine, cast, finger, needle, over_finger, round_thumb, thumb,
};
use super::stitches::{Frame, Side, at};
use super::strand::{Ink, Knot, k};

/// Where the stitches from before are.
const STITCHES: [f32; 4] = [152.0, 178.0, 204.0, 230.0];

/// Between two stitches.
const REST: NeedleLine = NeedleLine {
    point: (112.0, 66.0),
    right: 84.0,
};
/// On to the strand at the finger, the thumb's strand on the needle.
const OVER: NeedleLine = NeedleLine {
    point: (62.0, 50.0),
    right: 92.0,
};
/// The finger's strand drawn through the thumb's loop.
const THROUGH: NeedleLine = NeedleLine {
    point: (62.0, 84.0),
    right: 82.0,
};

/// All of the needle lies as stitches lie on it.
const ALL: &[(f32, i8)] = &[(252.0, at::HOLDS)];

/// Thumb and finger with their strands, and the needle with the stitches from before.
fn held(line: NeedleLine, depths: &[(f32, i8)], yarn: &[Knot], tail: &[Knot]) -> Frame {
    let hand = thumb(finger(Frame::new(Side::Knit)));
    needle(
        cast(hand, line, &STITCHES, Ink::Fabric, &[], &[]),
        line,
        depths,
    )
    .line(Ink::Yarn, yarn)
    .line(Ink::Subject, tail)
}

/// Where the yarn leaves the last stitch.
fn foot(line: NeedleLine) -> Knot {
    let x = STITCHES[0];
    k(x - 4.0, line.y(x) + 40.0, at::LEG_BEHIND)
}

/// Where the tail leaves the last stitch.
fn bump(line: NeedleLine) -> Knot {
    let x = STITCHES[0];
    k(x - 11.0, line.y(x) + 40.0, at::LEG_BEHIND)
}

/// The yarn over the finger to the last stitch, held by nothing on its way.
fn slack(line: NeedleLine) -> Vec<Knot> {
    over_finger(&[k(96.0, 80.0, BEHIND_FINGER), foot(line)])
}

/// The tail round the thumb to the last stitch.
fn to_needle(line: NeedleLine) -> Vec<Knot> {
    round_thumb(&[k(98.0, 112.0, BEHIND_FINGER), bump(line)])
}

/// The finger's strand caught by the needle.
fn caught() -> Vec<Knot> {
    over_finger(&[
        k(66.0, 42.0, at::LEG_BEHIND),
        k(76.0, 42.0, at::LEG),
        k(82.0, 62.0, at::LEG),
        k(108.0, 92.0, at::LEG_BEHIND),
        foot(OVER),
    ])
}

/// The finger's strand drawn through as a new loop.
fn drawn_through() -> Vec<Knot> {
    over_finger(&[
        k(62.0, 90.0, at::LEG_BEHIND),
        k(83.0, 112.0, at::LEG_BEHIND),
        k(78.0, 88.0, at::LEG_BEHIND),
        k(86.0, 74.0, at::LEG),
        k(94.0, 90.0, at::LEG),
        k(91.0, 112.0, at::LEG_BEHIND),
        k(116.0, 116.0, at::LEG_BEHIND),
        foot(THROUGH),
    ])
}

/// The thumb is out, and the tail is pulled: a new stitch beside those from before.
fn new_stitch() -> Frame {
    let x = 126.0;
    let line = NeedleLine {
        point: (92.0, 64.0),
        right: 84.0,
    };
    let done = cast(
        Frame::new(Side::Knit),
        line,
        &[x],
        Ink::Yarn,
        &over_finger(&[k(84.0, 74.0, BEHIND_FINGER)]),
        &[
            k(-10.0, 96.0, BEHIND_FINGER),
            k(30.0, 132.0, BEHIND_FINGER),
            k(80.0, 128.0, BEHIND_FINGER),
        ],
    );
    needle(
        cast(finger(done), line, &STITCHES, Ink::Fabric, &[], &[]),
        line,
        ALL,
    )
}

/// Long-tail cast-on.
pub(crate) fn long_tail() -> [Frame; 6] {
    // Under the strand before the thumb.
    let under = NeedleLine {
        point: (12.0, 140.0),
        right: 62.0,
    };
    let lifted = [
        k(-10.0, 90.0, BEFORE_FINGER),
        k(24.0, 98.0, BEFORE_FINGER),
        k(74.0, 68.0, BEFORE_FINGER),
        k(86.0, 46.0, at::LEG_BEHIND),
        k(72.0, 74.0, at::LEG_BEHIND),
        k(48.0, 116.0, BEFORE_FINGER),
        k(36.0, 148.0, BEFORE_FINGER),
        k(46.0, 168.0, BEHIND_FINGER),
        k(66.0, 122.0, BEHIND_FINGER),
        k(100.0, 108.0, BEHIND_FINGER),
        bump(OVER),
    ];
    // The loop on the needle, and round its neck the thumb's loop.
    let round_new = [
        k(-10.0, 90.0, BEFORE_FINGER),
        k(34.0, 108.0, BEFORE_FINGER),
        k(86.0, 106.0, BEFORE_FINGER),
        k(102.0, 101.0, BEHIND_FINGER - 6),
        k(80.0, 100.0, BEHIND_FINGER - 6),
        k(50.0, 122.0, BEFORE_FINGER),
        k(37.0, 148.0, BEFORE_FINGER),
        k(46.0, 168.0, BEHIND_FINGER),
        k(68.0, 130.0, BEHIND_FINGER),
        k(104.0, 128.0, BEHIND_FINGER),
        bump(THROUGH),
    ];
    let in_front: &[(f32, i8)] = &[(252.0, at::HOLDS), (96.0, 7)];
    [
        held(REST, ALL, &slack(REST), &to_needle(REST)),
        held(under, in_front, &slack(under), &to_needle(under)),
        held(OVER, ALL, &slack(OVER), &lifted),
        held(OVER, ALL, &caught(), &lifted),
        held(THROUGH, ALL, &drawn_through(), &round_new),
        new_stitch(),
    ]
}

/// The thumb's loop, its two strands crossed between the thumb and the needle's point.
fn crossed(x: f32, y: f32, to: Knot) -> [Knot; 12] {
    [
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
}

/// Long-tail cast-on with a twist in the thumb's loop.
pub(crate) fn twisted_long_tail() -> [Frame; 6] {
    let under = NeedleLine {
        point: (20.0, 150.0),
        right: 60.0,
    };
    let down = NeedleLine {
        point: (52.0, 118.0),
        right: 70.0,
    };
    let in_front: &[(f32, i8)] = &[(252.0, at::HOLDS), (100.0, 7)];
    [
        held(REST, ALL, &slack(REST), &to_needle(REST)),
        held(under, ALL, &slack(under), &to_needle(under)),
        held(
            down,
            in_front,
            &slack(down),
            &crossed(78.0, 104.0, bump(down)),
        ),
        held(OVER, ALL, &caught(), &crossed(80.0, 70.0, bump(OVER))),
        held(
            THROUGH,
            ALL,
            &drawn_through(),
            &crossed(84.0, 108.0, bump(THROUGH)),
        ),
        new_stitch(),
    ]
}
