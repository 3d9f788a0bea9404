//! The tubular cast-on: loops of the finger's strand and of the thumb's by turns.

use super::cast_ons::{NeedleLine, finger, needle, over_finger, round_thumb, thumb};
use super::stitches::{Frame, Side, at};
use super::strand::{Ink, Knot, k};

/// Knit and purl loops by turns, from the left to the right: the finger's strand and the thumb's. The leftmost one
/// is a knit loop where `knit_last`; each of the two goes on as it says.
fn by_turns(
    mut frame: Frame,
    line: NeedleLine,
    xs: &[f32],
    knit_last: bool,
    finger: &[Knot],
    thumb: &[Knot],
) -> Frame {
    let (mut yarn, mut tail) = (finger.to_vec(), thumb.to_vec());
    for (i, x) in xs.iter().enumerate() {
        let y = line.y(*x);
        let knit = (i % 2 == 0) == knit_last;
        let (own, other) = if knit {
            (&mut yarn, &mut tail)
        } else {
            (&mut tail, &mut yarn)
        };
        // The right leg of a knit loop is behind, that of a purl loop in front.
        let (left, right) = if knit {
            (at::LEG, at::LEG_BEHIND)
        } else {
            (at::LEG_BEHIND, at::LEG)
        };
        own.extend([
            k(x - 7.0, y + 13.0, left),
            k(x - 8.0, y + 2.0, left),
            k(*x, y - 9.0, right),
            k(x + 8.0, y + 2.0, right),
            k(x + 7.0, y + 13.0, at::HEAD),
        ]);
        other.push(k(*x, y + 16.0, at::HEAD));
    }
    frame = frame.line(Ink::Subject, &tail).line(Ink::Yarn, &yarn);
    frame.on_needles.1 += xs.len();
    frame
}

/// Tubular cast-on.
#[allow(clippy::too_many_lines)] // a line for each knot
pub(crate) fn tubular() -> [Frame; 8] {
    let line = NeedleLine {
        point: (92.0, 66.0),
        right: 84.0,
    };
    let all: &[(f32, i8)] = &[(252.0, at::HOLDS)];
    let hand = || thumb(finger(Frame::new(Side::Knit)));
    let xs = [152.0, 178.0, 204.0, 230.0];
    let more = [126.0, 152.0, 178.0, 204.0, 230.0];
    let most = [100.0, 126.0, 152.0, 178.0, 204.0, 230.0];
    let to_finger = |to: &[Knot]| over_finger(to);
    let to_thumb = |to: &[Knot]| round_thumb(to);
    let moment =
        |line: NeedleLine, xs: &[f32], knit_last: bool, finger: &[Knot], thumb: &[Knot]| {
            needle(
                by_turns(
                    hand(),
                    line,
                    xs,
                    knit_last,
                    &to_finger(finger),
                    &to_thumb(thumb),
                ),
                line,
                all,
            )
        };
    let mid = |line: NeedleLine, x: f32, up: f32, depth: i8| k(x, line.y(x) + up, depth);
    let full = NeedleLine {
        point: (48.0, 64.0),
        right: 84.0,
    };
    // The finger's strand runs behind the needle.
    let slack = [k(70.0, 48.0, at::LEG_BEHIND)];
    let reach = NeedleLine {
        point: (72.0, 62.0),
        right: 84.0,
    };
    [
        moment(line, &xs, false, &slack, &[]),
        // Both strands lie over the needle.
        moment(
            line,
            &xs,
            false,
            &[
                mid(line, 100.0, -10.0, at::LEG),
                mid(line, 112.0, 12.0, at::LEG_BEHIND),
                mid(line, 126.0, 14.0, at::LEG_BEHIND),
            ],
            &[
                k(112.0, 96.0, at::LEG),
                mid(line, 124.0, -8.0, at::LEG_BEHIND),
                mid(line, 134.0, 14.0, at::LEG_BEHIND),
            ],
        ),
        // The finger's strand lies round the point.
        moment(
            reach,
            &xs,
            false,
            &[
                mid(reach, 86.0, -12.0, at::LEG),
                mid(reach, 94.0, 10.0, at::LEG_BEHIND),
                mid(reach, 120.0, 14.0, at::LEG_BEHIND),
            ],
            &[
                k(108.0, 96.0, at::LEG),
                mid(reach, 118.0, -8.0, at::LEG_BEHIND),
                mid(reach, 130.0, 14.0, at::LEG_BEHIND),
            ],
        ),
        moment(line, &more, true, &slack, &[]),
        // Both strands lie over the needle once more.
        moment(
            reach,
            &more,
            true,
            &[
                mid(reach, 82.0, -11.0, at::LEG),
                mid(reach, 90.0, 11.0, at::LEG_BEHIND),
                mid(reach, 106.0, 16.0, at::LEG_BEHIND),
            ],
            &[
                k(88.0, 96.0, at::LEG),
                mid(reach, 99.0, -8.0, at::LEG_BEHIND),
                mid(reach, 108.0, 14.0, at::LEG_BEHIND),
            ],
        ),
        moment(
            reach,
            &more,
            true,
            &[
                mid(reach, 98.0, -12.0, at::LEG),
                mid(reach, 108.0, 10.0, at::LEG_BEHIND),
            ],
            &[
                mid(reach, 78.0, 22.0, at::LEG_BEHIND),
                mid(reach, 84.0, -9.0, at::LEG),
                mid(reach, 92.0, 14.0, at::LEG),
                mid(reach, 108.0, 18.0, at::HEAD),
            ],
        ),
        moment(line, &most, false, &slack, &[]),
        needle(
            by_turns(
                hand(),
                full,
                &[74.0, 100.0, 126.0, 152.0, 178.0, 204.0, 230.0],
                true,
                &to_finger(&[k(52.0, 46.0, at::LEG_BEHIND)]),
                &to_thumb(&[]),
            ),
            full,
            all,
        ),
    ]
}
