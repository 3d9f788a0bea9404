//! Stitches worked with the needle in one or two of them.

use super::stitches::{DrawnStitch, Frame, Front, Side, at, fallen, held, moved, new, off};
use super::strand::{Ink, Knot, k};

/// Where the stitches lie that nothing happens to.
pub(super) const RIGHT: [f32; 3] = [158.0, 184.0, 210.0];
pub(super) const LEFT: [f32; 3] = [2.0, 28.0, 54.0];

/// The needle that takes stitches: outside; in a stitch as if to knit; in a stitch as if to purl; behind the other.
pub(super) const OUTSIDE: &[(f32, i8)] = &[(256.0, at::TAKES)];
pub(super) const AS_TO_KNIT: &[(f32, i8)] = &[(256.0, at::TAKES), (106.0, at::TAKES_BEHIND)];
pub(super) const AS_TO_PURL: &[(f32, i8)] = &[(256.0, at::TAKES_IN_LEG)];
pub(super) const BEHIND: &[(f32, i8)] = &[(256.0, at::TAKES_BEHIND)];

/// How far the points of the needles reach: the one that holds, the one that takes at rest, and in a stitch.
pub(super) const HOLDING: f32 = 130.0;
pub(super) const RESTING: f32 = 140.0;
pub(super) const IN: f32 = 62.0;

/// The row that is worked into.
pub(super) fn into(frame: Frame, subjects: &[DrawnStitch]) -> Frame {
    let mut row: Vec<DrawnStitch> = LEFT.map(held).to_vec();
    row.extend(subjects);
    row.extend(RIGHT.map(off));
    frame.row(
        &[],
        &row,
        &[k(230.0, 172.0, at::BETWEEN), k(256.0, 184.0, at::BETWEEN)],
    )
}

/// The row that is made: the stitches made in the picture, then those from before.
pub(super) fn made(frame: Frame, yarn: &[Knot], stitches: &[DrawnStitch]) -> Frame {
    made_lower(frame, yarn, stitches, 0.0)
}

/// The same while the needle that takes lies lower, or higher.
fn made_lower(frame: Frame, yarn: &[Knot], stitches: &[DrawnStitch], lower: f32) -> Frame {
    let mut row = stitches.to_vec();
    row.extend(RIGHT.map(|x| new(x).lower(lower)));
    frame.row(
        yarn,
        &row,
        &[k(226.0, 156.0, at::BETWEEN), k(256.0, 168.0, at::BETWEEN)],
    )
}

/// The fabric below stitches at these places.
pub(super) fn fabric(side: Side, feet: &[f32]) -> Frame {
    let mut all = LEFT.to_vec();
    all.extend(feet);
    all.extend(RIGHT);
    Frame::new(side).below(&all)
}

/// The yarn behind the work, going up to the hand from the foot of a stitch at that x.
pub(super) fn rests_behind(x: f32) -> [Knot; 3] {
    [
        k(x + 24.0, -10.0, at::YARN_BEHIND),
        k(x - 6.0, 42.0, at::YARN_BEHIND),
        k(x - 12.0, 100.0, at::YARN_BEHIND),
    ]
}

/// The yarn in front of the work, hanging from the foot of a stitch at that x.
pub(super) fn rests_in_front(x: f32) -> [Knot; 3] {
    [
        k(x - 36.0, 190.0, at::YARN),
        k(x - 31.0, 150.0, at::YARN),
        k(x - 18.0, 124.0, at::YARN),
    ]
}

/// Round the needle as one knits: from the last stitch behind it and over its top.
pub(super) const KNIT_WRAP: [Knot; 6] = [
    k(176.0, -10.0, at::WRAP),
    k(124.0, 17.0, at::WRAP),
    k(86.0, 34.0, at::WRAP),
    k(70.0, 50.0, at::BEHIND_TAKES),
    k(84.0, 66.0, at::BEHIND_TAKES),
    k(128.0, 98.0, at::YARN_BEHIND),
];

/// Round the needle as one purls: from the last stitch before it, over its top and down behind it.
pub(super) const PURL_WRAP: [Knot; 6] = [
    k(112.0, 190.0, at::YARN),
    k(100.0, 120.0, at::YARN),
    k(90.0, 66.0, at::HEAD),
    k(75.0, 32.0, at::YARN),
    k(76.0, 56.0, at::YARN),
    k(124.0, 112.0, at::YARN),
];

/// The new loop on the needle's point, drawn through to the front.
pub(super) const DRAWN_TO_FRONT: [Knot; 9] = [
    k(176.0, -10.0, at::YARN_BEHIND),
    k(120.0, 14.0, at::YARN_BEHIND),
    k(92.0, 70.0, at::YARN_BEHIND),
    k(99.0, 104.0, at::FOOT),
    k(96.0, 86.0, at::FOOT),
    k(104.0, 72.0, at::NEW_LEG),
    k(112.0, 90.0, at::NEW_LEG),
    k(109.0, 106.0, at::YARN_BEHIND),
    k(130.0, 114.0, at::YARN_BEHIND),
];

/// The new loop on the needle's point, pushed through to the back.
pub(super) const PUSHED_TO_BACK: [Knot; 9] = [
    k(104.0, 190.0, at::YARN),
    k(94.0, 130.0, at::YARN),
    k(99.0, 92.0, at::BEHIND_TAKES),
    k(94.0, 50.0, at::BEHIND_TAKES),
    k(101.0, 27.0, at::WRAP),
    k(110.0, 50.0, at::WRAP),
    k(108.0, 90.0, at::YARN),
    k(116.0, 108.0, at::YARN),
    k(138.0, 116.0, at::YARN),
];

/// Some stitches knitted as one: as they lie, opened by the needle, and off.
fn knitted(
    feet: &[f32],
    lie: &[DrawnStitch],
    open: &[DrawnStitch],
    needle: &[(f32, i8)],
    done: &[DrawnStitch],
) -> [Frame; 5] {
    let before = || fabric(Side::Knit, feet);
    let after: Vec<f32> = done.iter().map(|stitch| stitch.foot_x()).collect();
    let x = if done.len() == 2 { 125.0 } else { 132.0 };
    [
        into(made(before(), &rests_behind(158.0), &[]), lie)
            .holds(HOLDING)
            .takes(0.0, RESTING, OUTSIDE),
        into(made(before(), &rests_behind(158.0), &[]), open)
            .holds(HOLDING)
            .takes(0.0, IN, needle),
        into(made(before(), &KNIT_WRAP, &[]), open)
            .holds(HOLDING)
            .takes(0.0, IN, needle),
        into(made_lower(before(), &DRAWN_TO_FRONT, &[], 16.0), open)
            .holds(HOLDING)
            .takes(16.0, 88.0, OUTSIDE),
        into(
            made(
                fabric(Side::Knit, &after),
                &rests_behind(x),
                &[new(x).foot_y(96.0).ink(Ink::Yarn)],
            ),
            done,
        )
        .holds(92.0)
        .takes(0.0, x - 20.0, OUTSIDE),
    ]
}

/// The same, purled.
fn purled(
    feet: &[f32],
    lie: &[DrawnStitch],
    open: &[DrawnStitch],
    done: &[DrawnStitch],
) -> [Frame; 5] {
    let before = || fabric(Side::Purl, feet);
    let after: Vec<f32> = done.iter().map(|stitch| stitch.foot_x()).collect();
    let x = if done.len() == 2 { 125.0 } else { 132.0 };
    [
        into(made(before(), &rests_in_front(158.0), &[]), lie)
            .holds(HOLDING)
            .takes(0.0, RESTING, OUTSIDE),
        into(made(before(), &rests_in_front(158.0), &[]), open)
            .holds(HOLDING)
            .takes(0.0, IN, AS_TO_PURL),
        into(made(before(), &PURL_WRAP, &[]), open)
            .holds(HOLDING)
            .takes(0.0, IN, AS_TO_PURL),
        into(made_lower(before(), &PUSHED_TO_BACK, &[], -14.0), open)
            .holds(HOLDING)
            .takes(-14.0, 84.0, BEHIND),
        into(
            made(
                fabric(Side::Purl, &after),
                &rests_in_front(x),
                &[new(x).foot_y(96.0).ink(Ink::Yarn)],
            ),
            done,
        )
        .holds(92.0)
        .takes(0.0, x - 20.0, OUTSIDE),
    ]
}

/// Knit.
pub(crate) fn knit() -> [Frame; 5] {
    let x = 104.0;
    knitted(
        &[x],
        &[held(x).subject()],
        &[held(x).wide(13.0).subject()],
        AS_TO_KNIT,
        &[off(132.0).subject()],
    )
}

/// Purl.
pub(crate) fn purl() -> [Frame; 5] {
    let x = 104.0;
    purled(
        &[x],
        &[held(x).subject()],
        &[held(x).wide(13.0).subject()],
        &[off(132.0).subject()],
    )
}

/// Two stitches side by side, and drawn together on the needle.
const PAIR: [f32; 2] = [82.0, 108.0];

fn pair() -> [DrawnStitch; 2] {
    PAIR.map(|x| held(x).subject())
}

pub(super) fn open_pair() -> [DrawnStitch; 2] {
    let [second, first] = pair();
    [second.head(96.0).wide(14.0), first.head(108.0).wide(14.0)]
}

/// The two off the needle below one new stitch: the left one on top, or the right one.
pub(super) fn off_pair(on_top: Front) -> [DrawnStitch; 2] {
    let [second, first] = [
        off(106.0).head(123.0).foot_y(124.0).lower(-6.0).subject(),
        off(140.0).head(127.0).foot_y(124.0).lower(-6.0).subject(),
    ];
    match on_top {
        Front::Left => [second.flat(at::TAKES_IN_LEG), first.flat(at::HEAD)],
        Front::Right => [second.flat(at::HEAD), first.flat(at::TAKES_IN_LEG)],
    }
}

/// Knit two together.
pub(crate) fn k2tog() -> [Frame; 5] {
    knitted(
        &PAIR,
        &pair(),
        &open_pair(),
        AS_TO_KNIT,
        &off_pair(Front::Left),
    )
}

/// Purl two together.
pub(crate) fn p2tog() -> [Frame; 5] {
    purled(&PAIR, &pair(), &open_pair(), &off_pair(Front::Left))
}

/// Slip, slip, knit.
pub(crate) fn ssk() -> [Frame; 7] {
    let [second, first] = pair();
    let start = || made(fabric(Side::Knit, &PAIR), &rests_behind(158.0), &[]);
    let turned = |x: f32| moved(x).turned().subject();
    let open = open_pair().map(|stitch| stitch.turned().behind(at::BEHIND_TAKES));
    let [lie, _, wrapped, _, done] =
        knitted(&PAIR, &pair(), &open, BEHIND, &off_pair(Front::Right));
    let one = [second, first.wide(13.0)];
    let behind = into(start(), &open).holds(HOLDING).takes(0.0, IN, BEHIND);
    [
        lie,
        into(start(), &one)
            .holds(HOLDING)
            .takes(0.0, IN + 10.0, AS_TO_KNIT),
        into(
            made(
                fabric(Side::Knit, &[82.0, 132.0]),
                &rests_behind(158.0),
                &[],
            ),
            &[second, turned(132.0)],
        )
        .holds(104.0)
        .takes(0.0, 112.0, OUTSIDE),
        into(
            made(
                fabric(Side::Knit, &[106.0, 132.0]),
                &rests_behind(158.0),
                &[],
            ),
            &[turned(106.0), turned(132.0)],
        )
        .holds(74.0)
        .takes(0.0, 84.0, OUTSIDE),
        behind,
        wrapped,
        done,
    ]
}

/// Through the back loop.
pub(crate) fn through_the_back_loop() -> [Frame; 5] {
    let x = 104.0;
    knitted(
        &[x],
        &[held(x).subject()],
        &[held(x).wide(13.0).subject().behind(at::BEHIND_TAKES)],
        BEHIND,
        &[off(132.0).subject().crossed(Front::Right)],
    )
}

/// Slip a stitch.
pub(crate) fn slip() -> [Frame; 4] {
    let start = || made(fabric(Side::Knit, &PAIR), &rests_behind(158.0), &[]);
    let [next, slipped] = PAIR.map(held);
    [
        into(start(), &[next, slipped.subject()])
            .holds(HOLDING)
            .takes(0.0, RESTING, OUTSIDE),
        into(start(), &[next, slipped.wide(13.0).subject()])
            .holds(HOLDING)
            .takes(0.0, IN + 14.0, AS_TO_PURL),
        into(
            made(
                fabric(Side::Knit, &[82.0, 132.0]),
                &rests_behind(158.0),
                &[],
            ),
            &[next, moved(132.0).subject()],
        )
        .holds(104.0)
        .takes(0.0, 112.0, OUTSIDE),
        into(
            made(
                fabric(Side::Knit, &[106.0, 132.0]),
                &rests_behind(106.0),
                &[new(106.0).ink(Ink::Yarn).strand(Ink::Yarn)],
            ),
            &[off(106.0), moved(132.0).subject()],
        )
        .holds(74.0)
        .takes(0.0, 84.0, OUTSIDE),
    ]
}

/// What the strand lies between.
fn beside(frame: Frame, strand: &[DrawnStitch], last: Ink) -> Frame {
    let mut row: Vec<DrawnStitch> = [20.0, 46.0].map(held).to_vec();
    row.push(held(72.0).strand(last));
    row.extend(strand);
    row.extend(RIGHT.map(off));
    frame.row(
        &[],
        &row,
        &[k(230.0, 172.0, at::BETWEEN), k(256.0, 184.0, at::BETWEEN)],
    )
}

/// Make one: the strand lifted with that leg in front, and worked so that it twists.
fn made_one(front: Front) -> [Frame; 6] {
    let feet = [20.0, 46.0, 72.0, RIGHT[0], RIGHT[1], RIGHT[2]];
    let start =
        |yarn: &[Knot], lower| made_lower(Frame::new(Side::Knit).below(&feet), yarn, &[], lower);
    let lifted = held(116.0)
        .head(108.0)
        .spread(24.0)
        .wide(9.0)
        .subject()
        .strand(Ink::Subject);
    let (lifted, open, needle) = match front {
        // Through the back leg.
        Front::Right => (lifted, lifted.wide(13.0).behind(at::BEHIND_TAKES), BEHIND),
        // Into the front leg, which is drawn to the right by the needle.
        Front::Left => (
            lifted.turned(),
            lifted.turned().wide(13.0).crossed(Front::Left),
            AS_TO_KNIT,
        ),
    };
    let rests = rests_behind(158.0);
    let x = 128.0;
    let twisted = off(114.0)
        .head(x)
        .spread(22.0)
        .foot_y(112.0)
        .lower(2.0)
        .subject();
    let twisted = twisted.strand(Ink::Subject).crossed(front);
    [
        beside(start(&rests, 0.0), &[], Ink::Subject)
            .holds(98.0)
            .takes(0.0, RESTING, OUTSIDE),
        beside(start(&rests, 0.0), &[lifted], Ink::Subject)
            .holds(HOLDING)
            .takes(0.0, RESTING, OUTSIDE),
        beside(start(&rests, 0.0), &[open], Ink::Subject)
            .holds(HOLDING)
            .takes(0.0, IN, needle),
        beside(start(&KNIT_WRAP, 0.0), &[open], Ink::Subject)
            .holds(HOLDING)
            .takes(0.0, IN, needle),
        beside(start(&DRAWN_TO_FRONT, 16.0), &[open], Ink::Subject)
            .holds(HOLDING)
            .takes(16.0, 88.0, OUTSIDE),
        beside(
            made(
                Frame::new(Side::Knit).below(&feet),
                &rests_behind(x),
                &[new(x).foot_y(96.0).ink(Ink::Yarn)],
            ),
            &[twisted],
            Ink::Subject,
        )
        .holds(98.0)
        .takes(0.0, 108.0, OUTSIDE),
    ]
}

/// Make one, leaning left.
pub(crate) fn make_left() -> [Frame; 6] {
    made_one(Front::Right)
}

/// Make one, leaning right.
pub(crate) fn make_right() -> [Frame; 6] {
    made_one(Front::Left)
}

/// Yarn over.
pub(crate) fn yarn_over() -> [Frame; 4] {
    let x = 104.0;
    let lie = || into(fabric(Side::Knit, &[x]), &[held(x)]);
    let to_front = [
        k(118.0, 190.0, at::YARN),
        k(122.0, 130.0, at::YARN),
        k(131.0, 74.0, at::YARN),
        k(136.0, 66.0, at::YARN_BEHIND),
        k(144.0, 100.0, at::YARN_BEHIND),
    ];
    let over = [
        k(182.0, -10.0, at::YARN_BEHIND),
        k(150.0, 36.0, at::YARN_BEHIND),
        k(141.0, 64.0, at::NEW_LEG),
        k(131.0, 86.0, at::NEW_LEG),
        k(132.0, 96.0, at::YARN_BEHIND),
        k(144.0, 110.0, at::YARN_BEHIND),
    ];
    let loop_over = moved(134.0)
        .foot_y(98.0)
        .spread(14.0)
        .wide(9.0)
        .ink(Ink::Yarn)
        .strand(Ink::Yarn);
    let done = new(104.0).ink(Ink::Yarn).strand(Ink::Yarn);
    [
        made(lie(), &rests_behind(158.0), &[])
            .holds(HOLDING - 6.0)
            .takes(0.0, RESTING, OUTSIDE),
        made(lie(), &to_front, &[])
            .holds(HOLDING - 14.0)
            .takes(0.0, RESTING, OUTSIDE),
        made(lie(), &over, &[])
            .holds(HOLDING - 14.0)
            .takes(0.0, 122.0, OUTSIDE),
        into(
            made(
                fabric(Side::Knit, &[104.0]),
                &rests_behind(104.0),
                &[done, loop_over],
            ),
            &[off(104.0)],
        )
        .holds(74.0)
        .takes(0.0, 84.0, OUTSIDE),
    ]
}

/// A cable of one stitch over one, the first held in front.
pub(crate) fn cable() -> [Frame; 5] {
    let [second, first] = pair();
    let start = || made(fabric(Side::Knit, &PAIR), &rests_behind(158.0), &[]);
    // The cable needle, before everything, with the stitch that waits on it.
    let waits = 88.0;
    let cable_needle = |frame: Frame, x: f32| {
        let at = |x: f32, along: f32| k(x, fallen(x, waits) + along, at::YARN);
        frame.straight(Ink::Sewing, &[at(x + 26.0, 3.0), at(x - 26.0, -3.0)])
    };
    // Feet as they lie, heads as they have crossed: the first one before the second.
    let back = off(106.0).head(134.0).lower(-2.0).flat(at::HEAD).subject();
    let front = off(134.0)
        .head(106.0)
        .lower(-2.0)
        .flat(at::TAKES_IN_LEG)
        .subject();
    let feet = [106.0, 134.0];
    let knitted = |x: f32| new(x).foot_y(98.0).ink(Ink::Yarn).strand(Ink::Yarn);
    [
        into(start(), &[second, first])
            .holds(HOLDING)
            .takes(0.0, RESTING, OUTSIDE),
        cable_needle(into(start(), &[second, first.in_front(waits)]), 108.0)
            .holds(104.0)
            .takes(0.0, RESTING, OUTSIDE),
        cable_needle(
            into(
                made(
                    fabric(Side::Knit, &feet),
                    &rests_behind(134.0),
                    &[knitted(134.0)],
                ),
                &[back, off(134.0).head(110.0).in_front(waits).subject()],
            ),
            110.0,
        )
        .holds(76.0)
        .takes(0.0, 116.0, OUTSIDE),
        into(
            made(
                fabric(Side::Knit, &feet),
                &rests_behind(134.0),
                &[knitted(134.0)],
            ),
            &[
                back,
                held(134.0).head(98.0).behind(at::TAKES_IN_LEG).subject(),
            ],
        )
        .holds(116.0)
        .takes(6.0, 122.0, OUTSIDE),
        into(
            made(
                fabric(Side::Knit, &feet),
                &rests_behind(106.0),
                &[knitted(106.0), knitted(134.0)],
            ),
            &[back, front],
        )
        .holds(76.0)
        .takes(0.0, 86.0, OUTSIDE),
    ]
}
