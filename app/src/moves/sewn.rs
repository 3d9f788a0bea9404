//! Bind-offs that are sewn: the yarn is cut, and a threaded needle goes through stitches that lie on the needle.

use super::stitches::{DrawnStitch, Frame, at, fallen, held, moved, off};
use super::strand::{Ink, Knot, k};
use super::worked::{HOLDING, OUTSIDE, RESTING, RIGHT, fabric, rests_behind};

/// Stitches on the needle that holds them, from the left to the right, and those beside it.
const ON: [f32; 5] = [2.0, 28.0, 54.0, 80.0, 106.0];
const OFF: [f32; 4] = [132.0, 158.0, 184.0, 210.0];

/// The height at which a thread goes through a stitch that is on the needle, or off it.
fn through(x: f32) -> f32 {
    fallen(x, 64.0)
}

fn through_off(x: f32) -> f32 {
    fallen(x, 91.0)
}

/// A threaded needle, its eye first.
fn threaded(frame: Frame, knots: &[Knot]) -> Frame {
    frame.straight(Ink::Sewing, knots)
}

/// So many stitches are off; those of `worked` are worked. In front of the edge the thread lies like a cord.
fn under_way(done: usize, worked: &[f32]) -> Frame {
    let (waits, gone) = ON.split_at(ON.len() - done);
    let subject = |stitch: DrawnStitch, x: &f32| {
        if worked.contains(x) {
            stitch.subject()
        } else {
            stitch
        }
    };
    let mut row: Vec<DrawnStitch> = waits.iter().map(|x| subject(held(*x), x)).collect();
    row.extend(gone.iter().chain(&OFF).map(|x| subject(off(*x), x)));
    let cords: Vec<Vec<Knot>> = gone
        .iter()
        .chain(&OFF)
        .map(|x| {
            vec![
                k(x - 33.0, through_off(x - 33.0) - 1.0, at::YARN),
                k(x - 19.0, through_off(x - 19.0) + 2.0, at::YARN),
                k(x - 5.0, through_off(x - 5.0) - 1.0, at::YARN),
            ]
        })
        .skip(usize::from(done == 0))
        .collect();
    let below: Vec<f32> = [80.0, 106.0, 132.0].to_vec();
    fabric_below(&below)
        .row(&[], &row, &[])
        .lines(Ink::Fabric, &cords)
}

fn fabric_below(feet: &[f32]) -> Frame {
    fabric(super::stitches::Side::Knit, feet)
}

/// Through two as if to purl, back through the first as if to knit.
pub(crate) fn sewn() -> [Frame; 6] {
    let pair = [80.0, 106.0];
    let hangs = |x: f32| {
        [
            k(x, through_off(x), at::YARN_BEHIND),
            k(x + 10.0, through_off(x) - 30.0, at::YARN_BEHIND),
            k(x + 44.0, -10.0, at::YARN_BEHIND),
        ]
    };
    let before = [
        k(128.0, through_off(128.0), at::YARN_BEHIND),
        k(138.0, 74.0, at::YARN_BEHIND),
    ];
    // Behind the leg in front, and before the one behind.
    let in_both = [
        k(124.0, 72.0, at::TAKES_IN_LEG),
        k(106.0, through(106.0), at::TAKES_IN_LEG),
        k(80.0, through(80.0), at::TAKES_IN_LEG),
        k(66.0, through(66.0) + 1.0, at::YARN),
    ];
    let drawn = |to: &[Knot]| {
        let mut line = before[..1].to_vec();
        line.extend(in_both);
        line.extend(to);
        line
    };
    let sewing = |frame: Frame| frame.holds(HOLDING);
    [
        sewing(under_way(0, &[])).line(Ink::Yarn, &hangs(128.0)),
        threaded(
            sewing(under_way(0, &pair)).line(
                Ink::Yarn,
                &[
                    before[0],
                    k(144.0, 100.0, at::YARN_BEHIND),
                    k(170.0, 78.0, at::YARN_BEHIND),
                    k(152.0, 56.0, at::YARN_BEHIND),
                ],
            ),
            &[
                k(152.0, 56.0, at::TAKES_IN_LEG),
                k(58.0, 73.0, at::TAKES_IN_LEG),
            ],
        ),
        sewing(under_way(0, &pair)).line(
            Ink::Yarn,
            &drawn(&[k(50.0, 100.0, at::YARN), k(34.0, 190.0, at::YARN)]),
        ),
        threaded(
            sewing(under_way(0, &pair)).line(
                Ink::Yarn,
                &drawn(&[k(48.0, 86.0, at::YARN), k(62.0, 100.0, at::YARN)]),
            ),
            &[
                k(62.0, 100.0, at::YARN),
                k(96.0, 83.0, at::TAKES_IN_LEG),
                k(142.0, 60.0, 0),
            ],
        ),
        under_way(1, &[106.0]).holds(104.0).line(
            Ink::Yarn,
            &[
                k(118.0, through_off(118.0), at::YARN_BEHIND),
                k(126.0, 60.0, at::YARN_BEHIND),
                k(150.0, -10.0, at::YARN_BEHIND),
            ],
        ),
        under_way(4, &[]).holds(26.0).line(
            Ink::Yarn,
            &[
                k(40.0, through_off(40.0), at::YARN_BEHIND),
                k(48.0, 60.0, at::YARN_BEHIND),
                k(80.0, -10.0, at::YARN_BEHIND),
            ],
        ),
    ]
}

/// A rib of one and one: purl stitches by turns, so many of them off.
fn rib(done: &[f32], worked: f32) -> Frame {
    let purl = |i: usize, stitch: DrawnStitch| if i % 2 == 1 { stitch.purl() } else { stitch };
    let row: Vec<DrawnStitch> = ON
        .into_iter()
        .enumerate()
        .map(|(i, x)| {
            let stitch = if done.contains(&x) { off(x) } else { held(x) };
            let stitch = if (worked - x).abs() < 1.0 {
                stitch.subject()
            } else {
                stitch
            };
            purl(i, stitch)
        })
        .collect();
    let waits: Vec<DrawnStitch> = RIGHT
        .into_iter()
        .enumerate()
        .map(|(i, x)| purl(i + 1, moved(x)))
        .collect();
    fabric_below(&[80.0, 106.0])
        .row(&[], &row, &[])
        .row(&[], &waits, &[])
        .takes(0.0, RESTING, OUTSIDE)
}

/// Through stitches as if to purl or to knit, at that place: the threaded needle's way from the right to the left.
fn as_to_purl(x: f32) -> Vec<Knot> {
    vec![
        k(x + 50.0, through(x) - 12.0, at::TAKES_IN_LEG),
        k(x - 22.0, through(x) + 6.0, at::TAKES_IN_LEG),
    ]
}

fn as_to_knit(x: f32, first: i8) -> Vec<Knot> {
    vec![
        k(x + 46.0, through(x) + 14.0, first),
        k(x + 14.0, through(x) + 5.0, at::TAKES),
        k(x + 2.0, through(x) + 1.0, at::TAKES_BEHIND),
        k(x - 24.0, through(x) - 6.0, 0),
    ]
}

/// Knit and purl stitches grafted to each other.
#[allow(clippy::too_many_lines)] // a line for each knot
pub(crate) fn tubular() -> [Frame; 8] {
    let hand = rests_behind(158.0);
    // From where the thread comes out to the needle's eye.
    let thread = |frame: Frame, way: &[Knot]| frame.line(Ink::Yarn, way);
    let [p1, k1] = [80.0, 106.0];
    let [p2, k2] = [28.0, 54.0];
    let in_k1 = [
        k(155.0, 121.0, at::YARN_BEHIND),
        k(128.0, 78.0, at::YARN_BEHIND),
        k(k1 + 8.0, through(k1), at::TAKES_IN_LEG),
        k(k1 - 8.0, through(k1) + 1.0, at::TAKES_IN_LEG),
    ];
    // Round the needle's point, from before it to behind.
    let round_point = [
        k(90.0, 76.0, at::YARN),
        k(110.0, 92.0, at::YARN),
        k(134.0, 78.0, at::YARN),
        k(140.0, 62.0, at::YARN_BEHIND),
    ];
    let through_k1 = |to: &[Knot]| [&in_k1[..], to].concat();
    let on_k2 = [
        k(k2 + 14.0, through(k2) - 1.0, at::YARN),
        k(k2 + 4.0, through(k2), at::TAKES_IN_LEG),
        k(k2 - 10.0, through(k2) + 1.0, at::YARN),
    ];
    let from_k1 = |to: &[Knot]| {
        let y = through_off(k1);
        let from = [
            k(p1 + 4.0, through(p1) + 6.0, at::YARN_BEHIND),
            k(k1 + 10.0, y - 18.0, at::YARN_BEHIND),
            k(k1 + 20.0, y - 8.0, at::YARN),
            k(k1 + 10.0, y + 2.0, at::YARN),
            k(k1, y, at::YARN_BEHIND),
        ];
        [&from[..], to].concat()
    };
    let start = rib(&[], 0.5);
    [
        thread(start, &{
            let mut hand = hand.to_vec();
            hand.push(k(155.0, 121.0, at::YARN_BEHIND));
            hand
        })
        .holds(HOLDING),
        threaded(
            thread(
                rib(&[], k1).holds(HOLDING),
                &[
                    k(155.0, 121.0, at::YARN_BEHIND),
                    k(168.0, 60.0, at::YARN_BEHIND),
                    as_to_purl(k1)[0],
                ],
            ),
            &as_to_purl(k1),
        ),
        threaded(
            thread(
                rib(&[], p1).holds(HOLDING),
                &through_k1(&[
                    round_point[0],
                    round_point[1],
                    round_point[2],
                    round_point[3],
                    k(p1 + 46.0, through(p1) + 14.0, at::YARN_BEHIND),
                ]),
            ),
            &as_to_knit(p1, at::YARN_BEHIND),
        ),
        threaded(
            thread(
                rib(&[], k1).holds(HOLDING),
                &[
                    k(p1 + 14.0, through(p1), at::TAKES),
                    k(p1 + 2.0, through(p1), at::TAKES_BEHIND),
                    k(p1 - 8.0, through(p1) - 14.0, at::YARN_BEHIND),
                    k(128.0, 24.0, at::YARN_BEHIND),
                    k(162.0, 58.0, at::YARN),
                    as_to_knit(k1, at::YARN)[0],
                ],
            ),
            &as_to_knit(k1, at::YARN),
        ),
        threaded(
            thread(
                rib(&[k1], k2).holds(104.0),
                &from_k1(&[
                    k(94.0, 84.0, at::YARN),
                    k(90.0, 66.0, at::YARN),
                    k(104.0, 51.0, at::YARN),
                ]),
            ),
            &[
                k(104.0, 51.0, at::YARN),
                k(68.0, 71.0, at::TAKES_IN_LEG),
                k(32.0, 91.0, 0),
            ],
        ),
        threaded(
            thread(rib(&[k1], p1).holds(104.0), &{
                let mut way = on_k2.to_vec();
                way.extend([
                    k(36.0, 96.0, at::YARN),
                    k(70.0, 112.0, at::YARN),
                    k(128.0, 92.0, at::YARN_BEHIND),
                    k(p1 + 50.0, through(p1) - 12.0, at::YARN_BEHIND),
                ]);
                way
            }),
            &as_to_purl(p1),
        ),
        threaded(
            thread(
                rib(&[k1, p1], p2).holds(78.0),
                &[
                    k(p1 + 26.0, through_off(p1) - 4.0, at::YARN_BEHIND),
                    k(p1 + 5.0, through_off(p1), at::FOOT + 1),
                    k(p1 - 8.0, through_off(p1) - 6.0, at::YARN),
                    k(p1 - 8.0, through_off(p1) - 24.0, at::YARN_BEHIND),
                    k(p2 + 46.0, through(p2) + 14.0, at::YARN_BEHIND),
                ],
            ),
            &as_to_knit(p2, at::YARN_BEHIND),
        ),
        rib(&ON, 0.5).line(Ink::Yarn, &drawn_up()),
    ]
}

/// The thread along an edge that is done: before each knit stitch's head, behind each purl one's.
fn drawn_up() -> Vec<Knot> {
    let mut way = vec![
        k(34.0, -10.0, at::YARN_BEHIND),
        k(10.0, 60.0, at::YARN_BEHIND),
    ];
    for x in [2.0, 54.0, 106.0] {
        let y = through_off(x);
        way.extend([
            k(x - 9.0, y - 6.0, at::FOOT),
            k(x, y + 6.0, at::FOOT),
            k(x + 9.0, y - 6.0, at::YARN_BEHIND),
            k(x + 26.0, through_off(x + 26.0) - 3.0, at::YARN_BEHIND),
        ]);
    }
    way.push(k(155.0, 121.0, at::YARN_BEHIND));
    way
}
