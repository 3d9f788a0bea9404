//! What cast-ons with the yarn round finger and thumb are drawn of, and those onto two needles at once for a closed toe.
//! The needles are in the right hand, the yarn comes from the left one; stitches come from the right to the left. But
//! for the wrapped cast-on: its needles are in the left hand, as they lie to be knitted, and the yarn is wound towards
//! their points.

use super::stitches::{Frame, Side, at};
use super::strand::{Ink, Knot, k};

/// From one stitch to the next.
const PITCH: f32 = 26.0;

/// Depths of the hand that holds the yarn, and of yarn behind and before it.
const FINGER: i8 = 5;
pub(super) const BEHIND_FINGER: i8 = 3;
pub(super) const BEFORE_FINGER: i8 = 9;

/// Where the needle's point is, and how high the needle lies at the right edge of the picture.
#[derive(Clone, Copy)]
pub(super) struct NeedleLine {
    pub(super) point: (f32, f32),
    pub(super) right: f32,
}

impl NeedleLine {
    pub(super) fn y(self, x: f32) -> f32 {
        let (px, py) = self.point;
        py + (x - px) * (self.right - py) / (252.0 - px)
    }
}

/// Stitches on the needle with the tail's bumps below them, from the left to the right.
pub(super) fn cast(
    mut frame: Frame,
    line: NeedleLine,
    xs: &[f32],
    ink: Ink,
    yarn: &[Knot],
    tail: &[Knot],
) -> Frame {
    let mut own = yarn.to_vec();
    let mut bumps = tail.to_vec();
    for x in xs {
        let y = line.y(*x);
        own.extend([
            k(x - 4.0, y + 40.0, at::LEG_BEHIND),
            k(x - 8.5, y + 18.0, at::LEG_BEHIND),
            k(x - 8.0, y + 3.0, at::LEG_BEHIND),
            k(*x, y - 9.0, at::LEG),
            k(x + 8.0, y + 4.0, at::LEG),
            k(x + 8.5, y + 18.0, at::LEG),
            k(x + 4.0, y + 40.0, at::BETWEEN),
        ]);
        bumps.extend([
            k(x - 12.0, y + 40.0, at::LEG_BEHIND),
            k(x - 7.0, y + 30.0, at::TAKES),
            k(x + 7.0, y + 30.0, at::LEG_BEHIND),
            k(x + 11.0, y + 42.0, at::LEG_BEHIND),
        ]);
    }
    frame = frame.line(ink, &own).line(Ink::Subject, &bumps);
    frame.on_needles.1 += xs.len();
    frame
}

pub(super) fn needle(frame: Frame, line: NeedleLine, depths: &[(f32, i8)]) -> Frame {
    let mut knots: Vec<Knot> = depths
        .iter()
        .map(|(x, depth)| k(*x, line.y(*x), *depth))
        .collect();
    knots.push(k(line.point.0, line.point.1, 0));
    frame.straight(Ink::Needle, &knots)
}

pub(super) fn finger(frame: Frame) -> Frame {
    frame.line(
        Ink::Hand,
        &[
            k(-20.0, 8.0, FINGER),
            k(20.0, 16.0, FINGER),
            k(50.0, 28.0, FINGER),
        ],
    )
}

pub(super) fn thumb(frame: Frame) -> Frame {
    frame.line(
        Ink::Hand,
        &[
            k(-20.0, 168.0, FINGER),
            k(30.0, 158.0, FINGER),
            k(68.0, 140.0, FINGER),
        ],
    )
}

/// Over the finger, from the palm, to that point.
pub(super) fn over_finger(to: &[Knot]) -> Vec<Knot> {
    let mut yarn = vec![
        k(-10.0, 84.0, BEHIND_FINGER),
        k(10.0, 50.0, BEHIND_FINGER),
        k(30.0, 6.0, BEFORE_FINGER),
        k(48.0, 34.0, BEFORE_FINGER),
    ];
    yarn.extend(to);
    yarn
}

/// Round the thumb, from the palm, to that point: in front of it down, and behind it up again.
pub(super) fn round_thumb(to: &[Knot]) -> Vec<Knot> {
    let mut yarn = vec![
        k(-10.0, 90.0, BEFORE_FINGER),
        k(22.0, 118.0, BEFORE_FINGER),
        k(44.0, 168.0, BEHIND_FINGER),
        k(62.0, 126.0, BEHIND_FINGER),
    ];
    yarn.extend(to);
    yarn
}

/// The needles of a closed cast-on.
const UPPER: f32 = 72.0;
const LOWER: f32 = 102.0;
const GAP: f32 = f32::midpoint(UPPER, LOWER);

/// A loop on the upper needle from the left to the right: its right leg behind, where its strand came from.
fn upper(x: f32) -> [Knot; 5] {
    [
        k(x - 8.0, GAP + 7.0, at::NEW_LEG),
        k(x - 7.0, UPPER + 2.0, at::NEW_LEG),
        k(x, UPPER - 10.0, at::LEG_BEHIND),
        k(x + 7.0, UPPER + 2.0, at::LEG_BEHIND),
        k(x + 6.0, GAP + 5.0, at::YARN_BEHIND),
    ]
}

/// A loop on the lower needle from the left to the right: its left leg before.
fn lower(x: f32) -> [Knot; 5] {
    [
        k(x - 8.0, GAP - 7.0, at::TAKES),
        k(x - 7.0, LOWER - 2.0, at::TAKES),
        k(x, LOWER + 10.0, at::LEG_BEHIND),
        k(x + 7.0, LOWER - 2.0, at::LEG_BEHIND),
        k(x + 6.0, GAP - 5.0, at::BETWEEN),
    ]
}

/// So many loops on the upper needle and on the lower one.
fn closed(on_upper: u8, on_lower: u8) -> Frame {
    let at_x = |i: u8| f32::from(i).mul_add(-PITCH, 206.0);
    let mut frame = Frame::new(Side::Knit);
    let last = |n: u8, shift: f32| at_x(n.max(1) - 1) + shift;
    // Both strands come from behind: the thumb's from below to the upper needle, the finger's from above to the lower
    // one, so that each passes the other on its way.
    let x = last(on_upper, 0.0);
    let mut up = vec![
        k(-10.0, 160.0, at::YARN_BEHIND),
        k((x - 52.0).max(20.0), 134.0, at::YARN_BEHIND),
        k(x - 14.0, GAP, at::YARN_BEHIND),
    ];
    for i in (0..on_upper).rev() {
        up.extend(upper(at_x(i)));
    }
    let x = last(on_lower, -13.0);
    let mut down = vec![
        k(-10.0, 18.0, at::YARN_BEHIND),
        k((x - 52.0).max(20.0), 42.0, at::YARN_BEHIND),
        k(x - 14.0, GAP, at::YARN_BEHIND),
    ];
    for i in (0..on_lower).rev() {
        down.extend(lower(at_x(i) - 13.0));
    }
    // Where it begins the two strands are one: tail and yarn.
    down.push(k(at_x(0) + 8.0, GAP + 2.0, at::YARN_BEHIND));
    frame = frame.line(Ink::Yarn, &up).line(Ink::Subject, &down);
    for y in [UPPER, LOWER] {
        frame = frame.straight(
            Ink::Needle,
            &[k(252.0, y, at::HOLDS), k(44.0, y, at::HOLDS)],
        );
    }
    frame.on_needles = (usize::from(on_upper), usize::from(on_lower));
    frame
}

/// The magic closed cast-on.
pub(crate) fn closed_cast_on() -> [Frame; 5] {
    [
        closed(1, 0),
        closed(1, 1),
        closed(2, 1),
        closed(2, 2),
        closed(5, 5),
    ]
}

/// So many times round both needles, held in the left hand; after the last time the yarn goes between the two
/// where they are done.
fn wrapped(times: u8, done: bool) -> Frame {
    let at_x = |i: u8| f32::from(i).mul_add(PITCH, 46.0);
    let x = at_x(0);
    // In front of both under the thumb; the yarn goes down from there and under both to the back.
    let tail = [
        k(x - 30.0, 190.0, at::LEG),
        k(x - 28.0, 140.0, at::LEG),
        k(x - 24.0, GAP + 4.0, at::LEG),
        k(x - 19.0, GAP + 4.0, at::LEG),
        k(x - 14.0, LOWER, at::LEG),
    ];
    let mut yarn = tail.to_vec();
    for i in 0..times {
        let x = at_x(i);
        yarn.extend([
            k(x - 12.0, LOWER + 11.0, at::YARN_BEHIND),
            k(x - 9.0, GAP, at::YARN_BEHIND),
            k(x - 2.0, UPPER - 10.0, at::LEG),
            k(x + 4.0, GAP, at::LEG),
        ]);
    }
    let x = at_x(times.saturating_sub(1));
    if done {
        yarn.extend([
            k(x + 10.0, GAP + 1.0, at::YARN_BEHIND),
            k(x + 30.0, UPPER - 8.0, at::YARN_BEHIND),
            k(250.0, 24.0, at::YARN_BEHIND),
        ]);
    } else {
        yarn.extend([
            k(x + 12.0, LOWER + 12.0, at::LEG),
            k(x + 50.0, 140.0, at::LEG),
            k(250.0, 160.0, at::LEG),
        ]);
    }
    let thumb = [
        k(-20.0, GAP + 16.0, FINGER),
        k(2.0, GAP + 12.0, FINGER),
        k(18.0, GAP + 6.0, FINGER),
    ];
    let mut frame = Frame::new(Side::Knit)
        .line(Ink::Yarn, &yarn)
        .line(Ink::Hand, &thumb);
    for y in [UPPER, LOWER] {
        frame = frame.straight(
            Ink::Needle,
            &[k(-12.0, y, at::HOLDS), k(224.0, y, at::HOLDS)],
        );
    }
    frame.on_needles = (usize::from(times), usize::from(times));
    frame
}

/// The wrapped closed cast-on.
pub(crate) fn wrapped_cast_on() -> [Frame; 4] {
    [
        wrapped(1, false),
        wrapped(2, false),
        wrapped(3, false),
        wrapped(6, true),
    ]
}
