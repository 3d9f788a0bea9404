//! Stitches bound off on two needles: each lifted over the next, two worked together, or with a yarn over.

use super::edges::link;
use super::stitches::{DrawnStitch, Frame, Side, at, fallen, held, moved, new, off};
use super::strand::{Ink, Knot, k};
use super::worked::{
    BEHIND, HOLDING, IN, KNIT_WRAP, OUTSIDE, RESTING, RIGHT, fabric, into, rests_behind,
};

/// The middle of the chain that the edge is, while nothing has fallen.
const CHAIN: f32 = 95.0;

/// Links of the edge: of each foot one that lies over to the foot at its left, the leftmost to `end`.
fn chain(frame: Frame, feet: &[f32], end: f32, ink: Ink) -> Frame {
    let mut next = end;
    let mut links = Vec::with_capacity(feet.len());
    for foot in feet {
        let (right, left) = (foot - 4.0, next - 6.0);
        let knots = link(right, CHAIN, right - left, 6.5);
        links.push(
            knots
                .into_iter()
                .map(|knot| k(knot.x, fallen(knot.x, knot.y), knot.depth))
                .collect(),
        );
        next = *foot;
    }
    frame.lines(ink, &links)
}

/// An edge under way: stitches on the needle that takes them with their yarn, those that they are worked into, and
/// from the first foot on the links of the edge, the leftmost up to `end`.
fn edge(
    yarn: &[Knot],
    on: &[DrawnStitch],
    below: &[f32],
    worked: &[DrawnStitch],
    (feet, end): (&[f32], f32),
) -> Frame {
    let frame = fabric(Side::Knit, below).row(yarn, on, &[]);
    chain(into(frame, worked), feet, end, Ink::Fabric)
}

/// The links at the right, from the first of them on.
const BOUND: [f32; 3] = [184.0, 210.0, 236.0];
const BOUND_ONE_MORE: [f32; 4] = [158.0, 184.0, 210.0, 236.0];

/// The needle that holds stitches while its point lifts a loop over another: in front from there on.
fn lifting(frame: Frame, point: f32) -> Frame {
    let y = |x: f32| fallen(28.0, 48.0) + (28.0 - x) * 0.18;
    frame.holds_along(&[
        k(-12.0, y(-12.0), at::HOLDS),
        k(100.0, y(100.0), at::YARN),
        k(point, y(point), 0),
    ])
}

/// A loop that is carried over to the left on the point that lifts it.
fn carried(foot: f32, head: f32) -> DrawnStitch {
    let needle = fallen(28.0, 48.0) + (28.0 - head) * 0.18;
    let fall = fallen(head, 0.0);
    moved(foot).head(head).in_front(needle - fall).subject()
}

/// Each stitch lifted over the next.
pub(crate) fn plain() -> [Frame; 5] {
    let before = [158.0];
    let two = |first: &[DrawnStitch]| {
        let mut on = vec![new(132.0).foot_y(96.0).ink(Ink::Yarn)];
        on.extend(first);
        edge(
            &rests_behind(132.0),
            &on,
            &[132.0],
            &[off(132.0)],
            (&BOUND, 158.0),
        )
    };
    // The needle that holds stitches goes in before everything and under the leg in front.
    let y = |x: f32| 61.0 + (x - 28.0) * 0.27;
    let lowered = |x: f32| held(x).lower(y(x) - fallen(x, 48.0));
    let entered = {
        let frame = fabric(Side::Knit, &[132.0]).row(
            &rests_behind(132.0),
            &[
                new(132.0).foot_y(96.0).ink(Ink::Yarn),
                new(158.0).wide(11.0).subject(),
            ],
            &[],
        );
        let mut row: Vec<DrawnStitch> = [2.0, 28.0, 54.0].map(lowered).to_vec();
        row.push(off(132.0));
        row.extend(RIGHT.map(off));
        chain(frame.row(&[], &row, &[]), &BOUND, 158.0, Ink::Fabric).holds_along(&[
            k(-12.0, y(-12.0), at::HOLDS),
            k(100.0, y(100.0), at::NEW_LEG + 1),
            k(156.0, y(156.0), at::TAKES + 1),
            k(180.0, y(180.0), 0),
        ])
    };
    [
        edge(
            &rests_behind(158.0),
            &before.map(|x| new(x).subject()),
            &[104.0],
            &[held(104.0)],
            (&BOUND, 158.0),
        )
        .holds(HOLDING)
        .takes(0.0, RESTING, OUTSIDE),
        two(&[new(158.0).subject()])
            .holds(92.0)
            .takes(0.0, 112.0, OUTSIDE),
        entered.takes(0.0, 112.0, OUTSIDE),
        lifting(two(&[]).row(&[], &[carried(158.0, 128.0)], &[]), 146.0).takes(0.0, 112.0, OUTSIDE),
        chain(
            edge(
                &rests_behind(132.0),
                &[new(132.0).foot_y(96.0).ink(Ink::Yarn)],
                &[132.0],
                &[off(132.0)],
                (&BOUND, 158.0),
            ),
            &[158.0],
            132.0,
            Ink::Subject,
        )
        .holds(92.0)
        .takes(0.0, 112.0, OUTSIDE),
    ]
}

/// Two worked together through the back loop, and the new one slipped back.
pub(crate) fn together() -> [Frame; 5] {
    let back = held(124.0).head(108.0).foot_y(101.0).subject();
    let next = held(82.0).subject();
    let begun = |yarn: &[Knot], back: DrawnStitch, next: DrawnStitch| {
        let frame = fabric(Side::Knit, &[82.0, 128.0]).row(yarn, &[back], &[]);
        chain(
            into(frame, &[next, off(128.0)]),
            &BOUND_ONE_MORE,
            126.0,
            Ink::Fabric,
        )
    };
    let open = |stitch: DrawnStitch| stitch.wide(14.0).behind(at::BEHIND_TAKES);
    let (open_next, open_back) = (open(next).head(94.0), open(back).head(106.0));
    let joined = |on: DrawnStitch, yarn: &[Knot]| {
        let frame = fabric(Side::Knit, &[104.0, 132.0]).row(yarn, &[on], &[]);
        let frame = into(
            frame,
            &[off(104.0).head(116.0).flat(at::HEAD).subject(), off(132.0)],
        );
        chain(
            chain(frame, &BOUND_ONE_MORE, 132.0, Ink::Fabric),
            &[132.0],
            118.0,
            Ink::Subject,
        )
    };
    [
        begun(&rests_behind(120.0), back, next)
            .holds(HOLDING)
            .takes(0.0, RESTING, OUTSIDE),
        begun(&rests_behind(120.0), open_back, open_next)
            .holds(HOLDING)
            .takes(0.0, IN, BEHIND),
        begun(&KNIT_WRAP, open_back, open_next)
            .holds(HOLDING)
            .takes(0.0, IN, BEHIND),
        joined(new(118.0).foot_y(96.0).ink(Ink::Yarn), &rests_behind(118.0))
            .holds(82.0)
            .takes(0.0, 98.0, OUTSIDE),
        joined(
            held(116.0).head(98.0).foot_y(96.0).ink(Ink::Yarn),
            &rests_behind(116.0),
        )
        .holds(124.0)
        .takes(0.0, RESTING, OUTSIDE),
    ]
}

/// A yarn over before each stitch, lifted over with it.
pub(crate) fn yarn_over() -> [Frame; 7] {
    let start = |yarn: &[Knot], next: DrawnStitch| {
        edge(
            yarn,
            &[new(158.0).subject()],
            &[104.0],
            &[next],
            (&BOUND, 158.0),
        )
    };
    let backwards = [
        k(168.0, -10.0, at::YARN_BEHIND),
        k(124.0, 40.0, at::YARN_BEHIND),
        k(124.0, 84.0, at::NEW_LEG),
        k(133.0, 82.0, at::NEW_LEG),
        k(138.0, 66.0, at::BEHIND_TAKES),
        k(143.0, 92.0, at::BEHIND_TAKES),
        k(150.0, 112.0, at::YARN_BEHIND),
    ];
    let forwards = [
        k(112.0, 190.0, at::YARN),
        k(114.0, 130.0, at::YARN),
        k(124.0, 92.0, at::BEHIND_TAKES),
        k(131.0, 80.0, at::BEHIND_TAKES),
        k(136.0, 64.0, at::NEW_LEG),
        k(143.0, 92.0, at::NEW_LEG),
        k(150.0, 112.0, at::YARN_BEHIND),
    ];
    let over = moved(132.0)
        .foot_y(98.0)
        .spread(13.0)
        .wide(9.0)
        .turned()
        .strand(Ink::Yarn);
    let knitted = |on: &[DrawnStitch]| {
        let mut all = vec![new(106.0).foot_y(96.0).ink(Ink::Yarn).strand(Ink::Yarn)];
        all.extend(on);
        edge(
            &rests_behind(106.0),
            &all,
            &[106.0],
            &[off(106.0)],
            (&BOUND, 158.0),
        )
    };
    let first = new(158.0);
    [
        start(&rests_behind(158.0), held(104.0))
            .holds(HOLDING)
            .takes(0.0, RESTING, OUTSIDE),
        start(&backwards, held(104.0))
            .holds(HOLDING - 14.0)
            .takes(0.0, 118.0, OUTSIDE),
        knitted(&[over.subject(), first])
            .holds(72.0)
            .takes(0.0, 86.0, OUTSIDE),
        lifting(
            knitted(&[first]).row(
                &[],
                &[carried(132.0, 100.0).spread(13.0).strand(Ink::Subject)],
                &[],
            ),
            118.0,
        )
        .takes(0.0, 86.0, OUTSIDE),
        lifting(
            chain(knitted(&[]), &[134.0], 106.0, Ink::Fabric).row(
                &[],
                &[carried(158.0, 100.0)],
                &[],
            ),
            118.0,
        )
        .takes(0.0, 86.0, OUTSIDE),
        chain(
            chain(
                edge(
                    &rests_behind(106.0),
                    &[new(106.0).foot_y(96.0).ink(Ink::Yarn)],
                    &[106.0],
                    &[off(106.0)],
                    (&BOUND, 158.0),
                ),
                &[134.0],
                106.0,
                Ink::Fabric,
            ),
            &[158.0],
            106.0,
            Ink::Subject,
        )
        .holds(72.0)
        .takes(0.0, 86.0, OUTSIDE),
        start(&forwards, held(104.0).purl())
            .holds(HOLDING - 14.0)
            .takes(0.0, 118.0, OUTSIDE),
    ]
}
