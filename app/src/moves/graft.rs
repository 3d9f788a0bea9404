//! Grafting: a sewn row between two needles, drawn laid flat with the right side up, the front needle below and the
//! back needle above. It is worked from the right to the left.

use super::stitches::{Frame, Side, at};
use super::strand::{Ink, Knot, k};

/// From one stitch to the next.
const PITCH: f32 = 38.0;
/// The needles, and how far from them the heads, the insides and the feet of their stitches are.
pub(super) const FRONT: f32 = 116.0;
pub(super) const BACK: f32 = 58.0;
const HEAD: f32 = 10.0;
const INSIDE: f32 = 15.0;
const FOOT: f32 = 46.0;
/// How far heads come off the line when nothing holds them.
const FREE: f32 = 2.0;

/// The middle of a front stitch, counted from 0 from the right, and of the back stitch between it and the next.
pub(super) fn front(i: u8) -> f32 {
    f32::from(i).mul_add(-PITCH, 178.0)
}

pub(super) fn back(i: u8) -> f32 {
    front(i) - PITCH / 2.0
}

/// How many stitches of each needle are seen.
pub(super) const FRONT_STITCHES: u8 = 7;
pub(super) const BACK_STITCHES: u8 = 6;

/// A stitch; `up` says where its head points: -1 for the front needle's, 1 for the back needle's.
fn stitch(x: f32, needle: f32, up: f32, on: bool) -> [Knot; 7] {
    let head = if on {
        needle + up * HEAD
    } else {
        needle + up * FREE
    };
    let foot = needle - up * FOOT;
    // Laid flat the back needle's stitches are seen from above: the leg in front is the other one.
    let (left, right) = match (on, up < 0.0) {
        (false, _) => (at::FOOT, at::FOOT),
        (true, true) => (at::LEG_BEHIND, at::LEG),
        (true, false) => (at::LEG, at::LEG_BEHIND),
    };
    let half = 9.0;
    [
        k(x - 4.0, foot, at::FOOT),
        k(x - 9.0, needle - up * 22.0, left),
        k(x - half, needle - up * 2.0, left),
        k(x, head, right),
        k(x + half, needle - up * 2.0, right),
        k(x + 9.0, needle - up * 22.0, at::FOOT),
        k(x + 4.0, foot, at::BETWEEN),
    ]
}

/// A needle's stitches; the first `off` of them are off.
pub(super) fn needle(
    mut frame: Frame,
    count: u8,
    off: u8,
    at_x: fn(u8) -> f32,
    y: f32,
    up: f32,
) -> Frame {
    let mut rows: Vec<Knot> = Vec::new();
    for i in (0..count).rev() {
        let on = i >= off;
        rows.extend(stitch(at_x(i), y, up, on));
    }
    frame = frame.line(Ink::Fabric, &rows);
    // The row before it, of which the heads are seen.
    let feet = y - up * (FOOT - 8.0);
    let mut below: Vec<Knot> = Vec::new();
    for i in (0..count).rev() {
        let x = at_x(i);
        below.extend([
            k(x - 5.0, feet - up * 30.0, at::FOOT),
            k(x - 8.0, feet - up * 8.0, at::HEAD),
            k(x, feet, at::HEAD),
            k(x + 8.0, feet - up * 8.0, at::FOOT),
            k(x + 5.0, feet - up * 30.0, at::BETWEEN),
        ]);
    }
    frame = frame.line(Ink::Fabric, &below);
    if off == count {
        return frame;
    }
    let point = at_x(off) + 24.0;
    frame.straight(
        Ink::Needle,
        &[k(-14.0, y, at::HOLDS), k(point, y, at::HOLDS)],
    )
}

/// The yarn's way, pass by pass: where it comes out of a stitch or goes in, and what lies on the way there.
/// Passes: front 0 out, back 0 out; then by turns front in, front out (of the next), back in, back out (of the next).
pub(super) fn way(passes: u8, closer: f32) -> Vec<Knot> {
    let (front_y, back_y) = (FRONT - closer, BACK + closer);
    let mut way = vec![
        k(206.0, back_y - 58.0, at::YARN_BEHIND),
        k(204.0, back_y - 20.0, at::YARN_BEHIND),
        k(213.0, back_y + 20.0, at::YARN_BEHIND),
    ];
    let (low, high) = (front_y + INSIDE, back_y - INSIDE);
    for pass in 0..passes {
        match pass {
            0 => way.push(k(front(0) + 5.0, low, at::YARN)),
            1 => way.extend([
                k(front(0) + 24.0, front_y - 6.0, at::YARN),
                k(front(0) + 21.0, back_y + 4.0, at::YARN_BEHIND),
                k(back(0) + 5.0, high, at::YARN),
            ]),
            _ => {
                let (pair, part) = ((pass - 2) / 4, (pass - 2) % 4);
                way.push(match part {
                    0 => k(front(pair) - 5.0, low, at::YARN_BEHIND),
                    1 => k(front(pair + 1) + 5.0, low, at::YARN),
                    2 => k(back(pair) - 5.0, high, at::YARN_BEHIND),
                    _ => k(back(pair + 1) + 5.0, high, at::YARN),
                });
            }
        }
    }
    way
}

/// A moment: so many passes are done, and the sewing needle makes the next one, through these knots.
fn moment(passes: u8, sewing: &[Knot]) -> Frame {
    drawn_up(passes, sewing, 0.0)
}

/// The same with both sides so much closer to the middle.
fn drawn_up(passes: u8, sewing: &[Knot], closer: f32) -> Frame {
    let off = |from: u8| {
        if passes < from {
            0
        } else {
            (passes - from) / 4 + 1
        }
    };
    let frame = needle(
        Frame::new(Side::Knit),
        FRONT_STITCHES,
        off(3),
        front,
        FRONT - closer,
        -1.0,
    );
    let mut frame = needle(frame, BACK_STITCHES, off(5), back, BACK + closer, 1.0);
    let mut yarn = way(passes, closer);
    if let Some(eye) = sewing.first() {
        let last = yarn.last().copied().unwrap_or(*eye);
        let depth = if last.depth == at::YARN_BEHIND {
            at::YARN_BEHIND
        } else {
            at::YARN
        };
        if let Some(last) = yarn.last_mut() {
            last.depth = depth;
        }
        yarn.push(*eye);
    }
    let on = usize::from(FRONT_STITCHES - off(3).min(FRONT_STITCHES));
    let on_back = usize::from(BACK_STITCHES - off(5).min(BACK_STITCHES));
    frame = frame.line(Ink::Yarn, &yarn).straight(Ink::Sewing, sewing);
    frame.on_needles = (on, on_back);
    frame
}

/// The sewing needle in a front stitch, or a back one, at its right or left side: going in from before, or out from
/// behind.
fn through(x: f32, y: f32, up: f32, out: bool) -> Vec<Knot> {
    let (first, then) = if out {
        (at::YARN_BEHIND, at::YARN)
    } else {
        (at::YARN, at::YARN_BEHIND)
    };
    vec![
        k(x + 34.0, y - up * 9.0, first),
        k(x, y, then),
        k(x - 34.0, y + up * 9.0, then),
    ]
}

/// Each pass of a graft.
pub(crate) fn graft() -> [Frame; 8] {
    let (low, high) = (FRONT + INSIDE, BACK - INSIDE);
    [
        moment(0, &[]),
        moment(0, &through(front(0) + 3.0, low, -1.0, true)),
        moment(1, &through(back(0) + 3.0, high, 1.0, true)),
        moment(2, &through(front(0) - 2.0, low, -1.0, false)),
        moment(3, &through(front(1) + 3.0, low, -1.0, true)),
        moment(4, &through(back(0) - 2.0, high, 1.0, false)),
        moment(5, &through(back(1) + 3.0, high, 1.0, true)),
        drawn_up(14, &[], 13.0),
    ]
}
