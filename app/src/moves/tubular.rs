//! The two rounds of a tubular edge: of a rib of one and one, each kind of stitch is worked by itself.

use super::stitches::{DrawnStitch, Frame, Side, at, held, moved, new, off};
use super::strand::{Ink, Knot, k};
use super::worked::{AS_TO_PURL, HOLDING, IN, OUTSIDE, RESTING, rests_behind, rests_in_front};

/// The stitches in the row that is worked into, from the left to the right, above their fabric.
fn row(stitches: &[DrawnStitch]) -> Frame {
    let below: Vec<f32> = stitches.iter().map(|stitch| stitch.foot_x()).collect();
    Frame::new(Side::Knit).below(&below).row(&[], stitches, &[])
}

/// A knit stitch that is knitted: off the needle, and its new one on the other.
fn knitted(frame: Frame, yarn: &[Knot], x: f32, ink: Ink) -> Frame {
    frame.row(yarn, &[new(x).foot_y(98.0).ink(ink)], &[])
}

/// The yarn before a slipped stitch, from the foot of the stitch after it to that of the one before.
fn before_slipped(frame: Frame, from: (f32, f32), to: (f32, f32), ink: Ink) -> Frame {
    let (x, y) = (
        f32::midpoint(from.0, to.0),
        f32::midpoint(from.1, to.1) + 5.0,
    );
    frame.line(
        ink,
        &[
            k(from.0, from.1, at::YARN),
            k(x, y, at::YARN),
            k(to.0, to.1, at::YARN),
        ],
    )
}

/// First the knit stitches alone, then the purl ones.
#[allow(clippy::too_many_lines)] // a line for each knot
pub(crate) fn rounds() -> [Frame; 6] {
    let left = [held(2.0), held(28.0).purl(), held(54.0)];
    let right = [moved(158.0).purl(), off(184.0), moved(210.0).purl()];
    let all = |subjects: &[DrawnStitch]| {
        let stitches = [&left[..], subjects, &right].concat();
        knitted(row(&stitches), &[], 184.0, Ink::Fabric)
    };
    // Where the yarn comes from the last knit stitch, before the purl one, and to the back.
    let last = (181.0, 132.0);
    let done = |frame: Frame, yarn: &[Knot]| {
        before_slipped(
            knitted(frame, yarn, 132.0, Ink::Yarn),
            (135.0, 106.0),
            last,
            Ink::Yarn,
        )
    };
    let purl = held(82.0).purl().subject();
    let foot = (129.0, 105.0);
    let tail_of_slipped = |x: f32| {
        [
            k(x + 28.0, -10.0, at::YARN_BEHIND),
            k(x - 16.0, 50.0, at::YARN_BEHIND),
            k(x - 20.0, 104.0, at::YARN),
            k(x, 113.0, at::YARN),
            k(foot.0, foot.1, at::YARN),
        ]
    };
    let slipped = [
        held(2.0),
        held(28.0).purl(),
        held(54.0).subject(),
        moved(106.0).purl().subject(),
        off(132.0),
        right[0],
        right[1],
        right[2],
    ];
    [
        all(&[held(82.0).purl(), held(108.0).subject()])
            .line(
                Ink::Yarn,
                &[
                    k(180.0, -10.0, at::YARN_BEHIND),
                    k(140.0, 50.0, at::YARN_BEHIND),
                    k(140.0, 108.0, at::YARN),
                    k(158.0, 128.0, at::YARN),
                    k(last.0, last.1, at::YARN),
                ],
            )
            .holds(HOLDING)
            .takes(0.0, RESTING, OUTSIDE),
        done(all(&[purl, off(132.0)]), &rests_behind(132.0))
            .holds(104.0)
            .takes(0.0, 112.0, OUTSIDE),
        done(
            all(&[purl.wide(13.0), off(132.0)]),
            &[
                k(98.0, 190.0, at::YARN),
                k(104.0, 140.0, at::YARN),
                k(120.0, 106.0, at::YARN),
            ],
        )
        .holds(104.0)
        .takes(0.0, IN - 6.0, AS_TO_PURL),
        knitted(
            before_slipped(
                knitted(row(&slipped), &[], 132.0, Ink::Yarn),
                (135.0, 106.0),
                last,
                Ink::Yarn,
            )
            .line(Ink::Yarn, &tail_of_slipped(106.0)),
            &[],
            184.0,
            Ink::Fabric,
        )
        .holds(78.0)
        .takes(0.0, 86.0, OUTSIDE),
        {
            let mut stitches = slipped;
            stitches[2] = off(80.0);
            let frame = knitted(row(&stitches), &rests_behind(80.0), 80.0, Ink::Yarn);
            let frame = knitted(frame, &[], 132.0, Ink::Fabric);
            let frame = before_slipped(frame, (135.0, 106.0), last, Ink::Fabric);
            before_slipped(
                knitted(frame, &[], 184.0, Ink::Fabric),
                (83.0, 101.0),
                foot,
                Ink::Yarn,
            )
            .holds(52.0)
            .takes(0.0, 60.0, OUTSIDE)
        },
        row(&[
            held(2.0),
            held(28.0).purl(),
            held(54.0),
            off(106.0).purl(),
            moved(132.0).subject(),
            off(158.0).purl(),
            moved(184.0),
            off(210.0).purl(),
        ])
        .row(
            &rests_in_front(106.0),
            &[
                new(106.0)
                    .foot_y(100.0)
                    .purl()
                    .ink(Ink::Yarn)
                    .strand(Ink::Yarn),
                new(158.0).purl(),
                new(210.0).purl(),
            ],
            &[],
        )
        .holds(78.0)
        .takes(0.0, 86.0, OUTSIDE),
    ]
}
