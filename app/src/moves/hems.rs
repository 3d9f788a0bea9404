//! Hems folded inside: knitted together with their cast-on edge, or sewn down.

use super::graft;
use super::stitches::{DrawnStitch, Frame, Front, Side, at, fallen, held, new};
use super::strand::{Ink, Knot, k};
use super::worked::{
    AS_TO_KNIT, HOLDING, IN, KNIT_WRAP, OUTSIDE, RESTING, fabric, into, made, off_pair,
    rests_behind,
};

/// Behind all that is knitted.
const BEHIND: i8 = at::YARN_BEHIND - 2;

/// The cast-on edge behind the work: bumps over the needles, but where a loop of it is lifted.
fn edge_behind(frame: Frame, lifted: bool) -> Frame {
    let bumps: Vec<Vec<Knot>> = [2.0, 28.0, 54.0, 80.0, 106.0]
        .into_iter()
        .filter(|x| !(lifted && *x > 100.0))
        .map(|x: f32| {
            let y = fallen(x, 30.0);
            vec![
                k(x - 13.0, y + 12.0, BEHIND),
                k(x - 5.0, y, BEHIND),
                k(x + 5.0, y, BEHIND),
                k(x + 13.0, y + 12.0, BEHIND),
            ]
        })
        .collect();
    frame.lines(Ink::Fabric, &bumps)
}

/// Each stitch knitted together with its loop of the cast-on edge.
pub(crate) fn joined() -> [Frame; 5] {
    let x = 88.0;
    let stitch = held(x).subject();
    let in_edge = held(112.0).foot_y(66.0).wide(8.0).subject();
    let start = |yarn: &[Knot]| made(fabric(Side::Knit, &[x]), yarn, &[]);
    let lifted = || edge_behind(start(&rests_behind(158.0)), true);
    let open: [DrawnStitch; 2] = [stitch.head(96.0).wide(14.0), in_edge.head(108.0).wide(12.0)];
    let [on_top, below] = off_pair(Front::Left);
    [
        edge_behind(into(start(&rests_behind(158.0)), &[stitch]), false)
            .holds(HOLDING - 20.0)
            .takes(0.0, RESTING, OUTSIDE),
        into(lifted(), &[stitch])
            .row(&[], &[in_edge], &[])
            .holds(HOLDING)
            .takes(0.0, RESTING, OUTSIDE),
        into(lifted(), &open[..1])
            .row(&[], &open[1..], &[])
            .holds(HOLDING)
            .takes(0.0, IN, AS_TO_KNIT),
        into(edge_behind(start(&KNIT_WRAP), true), &open[..1])
            .row(&[], &open[1..], &[])
            .holds(HOLDING)
            .takes(0.0, IN, AS_TO_KNIT),
        edge_behind(
            into(
                made(
                    fabric(Side::Knit, &[106.0]),
                    &rests_behind(125.0),
                    &[new(125.0).foot_y(96.0).ink(Ink::Yarn)],
                ),
                &[on_top, below.foot_y(104.0)],
            ),
            true,
        )
        .holds(92.0)
        .takes(0.0, 105.0, OUTSIDE),
    ]
}

/// The hem's stitches, of which so many are off, over the bumps of the leg's inside; the place of a stitch, and of
/// the bump in its column.
const HEM: f32 = 62.0;
const BUMPS: f32 = 112.0;
const STITCHES: u8 = 7;

fn hem(off: u8) -> Frame {
    let mut frame = graft::needle(Frame::new(Side::Knit), STITCHES, off, column, HEM, 1.0);
    for row in [0.0, 30.0, 60.0] {
        let mut bumps = Vec::new();
        for i in (0..=STITCHES).rev() {
            let x = column(i) + 4.0;
            bumps.extend([
                k(x - 13.0, BUMPS + row + 9.0, at::BETWEEN),
                k(x - 9.0, BUMPS + row, at::BETWEEN),
                k(x + 1.0, BUMPS + row - 5.0, at::BETWEEN),
                k(x + 11.0, BUMPS + row, at::BETWEEN),
                k(x + 15.0, BUMPS + row + 9.0, at::BETWEEN),
            ]);
        }
        frame = frame.line(Ink::Fabric, &bumps);
    }
    frame.on_needles = (usize::from(STITCHES - off), 0);
    frame
}

fn column(i: u8) -> f32 {
    graft::back(i) + 57.0
}

/// The thread through so many stitches and bumps, from the right to the left.
fn sewn_so_far(count: u8, to: &[Knot]) -> Vec<Knot> {
    let mut way = vec![k(252.0, HEM - 22.0, at::YARN_BEHIND)];
    for i in 0..count {
        let x = column(i);
        way.extend([
            k(x + 12.0, HEM - 13.0, at::YARN_BEHIND),
            k(x + 4.0, HEM - 13.0, at::YARN),
            k(x - 6.0, HEM + 2.0, at::YARN),
            k(x + 10.0, BUMPS - 10.0, at::YARN),
            k(x + 6.0, BUMPS + 5.0, at::YARN_BEHIND),
            k(x - 6.0, BUMPS - 10.0, at::YARN),
            k(x - 14.0, HEM + 20.0, at::YARN),
        ]);
    }
    way.extend(to);
    way
}

/// The hem's last stitches sewn down.
pub(crate) fn sewn() -> [Frame; 5] {
    let first = column(2);
    let into_stitch = [
        k(first + 44.0, HEM - 21.0, at::YARN_BEHIND),
        k(first + 4.0, HEM - 14.0, at::YARN),
        k(first - 34.0, HEM - 7.0, 0),
    ];
    let into_bump = [
        k(first + 24.0, BUMPS - 34.0, at::YARN),
        k(first + 6.0, BUMPS - 6.0, at::YARN_BEHIND),
        k(first - 2.0, BUMPS + 8.0, at::YARN),
        k(first - 12.0, BUMPS + 26.0, 0),
    ];
    [
        hem(2).line(
            Ink::Yarn,
            &sewn_so_far(2, &[k(column(1) - 10.0, -10.0, at::YARN)]),
        ),
        hem(2)
            .line(
                Ink::Yarn,
                &sewn_so_far(2, &[k(first + 40.0, HEM + 6.0, at::YARN), into_stitch[0]]),
            )
            .straight(Ink::Sewing, &into_stitch),
        hem(3)
            .line(
                Ink::Yarn,
                &sewn_so_far(
                    2,
                    &[
                        k(first + 12.0, HEM - 13.0, at::YARN_BEHIND),
                        k(first + 4.0, HEM - 13.0, at::YARN),
                        k(first - 10.0, HEM + 2.0, at::YARN),
                        into_bump[0],
                    ],
                ),
            )
            .straight(Ink::Sewing, &into_bump),
        hem(3).line(
            Ink::Yarn,
            &sewn_so_far(3, &[k(first - 10.0, -10.0, at::YARN)]),
        ),
        hem(6).line(
            Ink::Yarn,
            &sewn_so_far(6, &[k(column(5) - 10.0, -10.0, at::YARN)]),
        ),
    ]
}
