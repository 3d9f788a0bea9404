//! The provisional cast-on: a chain of waste yarn, crocheted over the needle and undone later. The needle is in the left
//! hand, its point to the right, the hook in the right one.

use super::edges::link;
use super::stitches::{DrawnStitch, Frame, Side, at, held, off};
use super::strand::{Ink, Knot, k};

/// The needle, and the chain before it.
const NEEDLE: f32 = 66.0;
const CHAIN: f32 = 104.0;
const PITCH: f32 = 26.0;
const FIRST: f32 = 16.0;

fn place(i: u8) -> f32 {
    f32::from(i).mul_add(PITCH, FIRST)
}

/// A link of the chain, its head at the right.
fn forward(left: f32, length: f32) -> Vec<Knot> {
    link(0.0, CHAIN, length, 7.0)
        .into_iter()
        .map(|knot| Knot {
            x: left - knot.x,
            ..knot
        })
        .collect()
}

/// So many loops over the needle, the links below them; the last link is on the hook, as wide as it says.
fn chained(loops: u8, beside: u8, ink: Ink) -> Frame {
    let mut frame = Frame::new(Side::Knit);
    let links: Vec<Vec<Knot>> = (0..loops + beside)
        .map(|i| forward(place(i) - 4.0, PITCH + 2.0))
        .collect();
    // Each goes under the needle to the back, and over it to the front.
    let over: Vec<Vec<Knot>> = (0..loops)
        .map(|i| {
            let x = place(i) + 8.0;
            vec![
                k(x - 10.0, CHAIN - 4.0, at::LEG_BEHIND),
                k(x - 8.0, NEEDLE + 6.0, at::LEG_BEHIND),
                k(x, NEEDLE - 9.0, at::LEG),
                k(x + 8.0, NEEDLE + 6.0, at::LEG),
                k(x + 10.0, CHAIN - 6.0, at::LEG),
            ]
        })
        .collect();
    frame = frame.lines(ink, &over).lines(ink, &links);
    frame.on_needles = (usize::from(loops), 0);
    frame
}

fn needle(frame: Frame) -> Frame {
    frame.straight(
        Ink::Needle,
        &[k(-12.0, NEEDLE, at::HOLDS), k(204.0, NEEDLE, at::HOLDS)],
    )
}

/// The crochet hook: its head at one place, its shaft through another and on.
fn hook(frame: Frame, head: (f32, f32), through: (f32, f32), depth: i8) -> Frame {
    let (x, y) = (through.0 - head.0, through.1 - head.1);
    let length = (x * x + y * y).sqrt();
    let (x, y) = (x / length, y / length);
    let at = |along: f32, aside: f32| {
        k(
            head.0 + x * along - y * aside,
            head.1 + y * along + x * aside,
            depth,
        )
    };
    frame.line(
        Ink::Cable,
        &[
            at(150.0, 0.0),
            at(40.0, 0.0),
            at(7.0, 0.0),
            at(0.0, 1.0),
            at(0.0, 6.0),
            at(6.0, 8.0),
        ],
    )
}

/// The chain cast on, and undone.
#[allow(clippy::too_many_lines)] // a line for each knot
pub(crate) fn chain() -> [Frame; 8] {
    let done = 4;
    let x = place(done);
    let link_on_hook = |frame: Frame| frame.lines(Ink::Waste, &[forward(x - 4.0, 34.0)]);
    let under_way = || needle(chained(done, 0, Ink::Waste));
    let behind = [
        k(x - 4.0, CHAIN - 4.0, at::YARN_BEHIND),
        k(x + 4.0, NEEDLE + 10.0, at::YARN_BEHIND),
        k(x + 16.0, 30.0, at::YARN_BEHIND),
        k(x + 60.0, -10.0, at::YARN_BEHIND),
    ];
    let caught = [
        k(x - 4.0, CHAIN - 4.0, at::YARN_BEHIND),
        k(x + 2.0, NEEDLE, at::YARN_BEHIND),
        k(x + 14.0, 42.0, at::YARN_BEHIND),
        k(x + 30.0, 40.0, at::YARN_BEHIND),
        k(x + 70.0, -10.0, at::YARN_BEHIND),
    ];
    let drawn = [
        k(x - 2.0, CHAIN - 4.0, at::LEG_BEHIND),
        k(x, NEEDLE + 6.0, at::LEG_BEHIND),
        k(x + 8.0, NEEDLE - 9.0, at::LEG),
        k(x + 18.0, NEEDLE + 12.0, at::LEG),
        k(x + 34.0, CHAIN + 2.0, at::YARN + 1),
        k(x + 50.0, CHAIN + 8.0, at::YARN + 1),
        k(x + 42.0, CHAIN - 10.0, at::LEG),
        k(x + 26.0, NEEDLE + 4.0, at::LEG),
        k(x + 24.0, NEEDLE - 9.0, at::YARN_BEHIND),
        k(x + 36.0, 30.0, at::YARN_BEHIND),
        k(x + 70.0, -10.0, at::YARN_BEHIND),
    ];
    let next = place(done + 1);
    [
        hook(
            needle(Frame::new(Side::Knit))
                .lines(Ink::Waste, &[forward(12.0, 34.0)])
                .line(
                    Ink::Waste,
                    &[
                        k(14.0, CHAIN - 2.0, at::YARN_BEHIND),
                        k(22.0, NEEDLE, at::YARN_BEHIND),
                        k(40.0, 20.0, at::YARN_BEHIND),
                        k(60.0, -10.0, at::YARN_BEHIND),
                    ],
                )
                .line(
                    Ink::Waste,
                    &[
                        k(12.0, CHAIN, at::FOOT),
                        k(4.0, CHAIN + 20.0, at::FOOT),
                        k(10.0, 190.0, at::FOOT),
                    ],
                ),
            (38.0, CHAIN - 6.0),
            (60.0, CHAIN + 24.0),
            at::HEAD + 1,
        ),
        hook(
            link_on_hook(under_way()).line(Ink::Waste, &behind),
            (x + 20.0, CHAIN - 6.0),
            (x + 42.0, CHAIN + 24.0),
            at::HEAD + 1,
        ),
        hook(
            link_on_hook(under_way()).line(Ink::Waste, &caught),
            (x + 12.0, 42.0),
            (x + 25.0, CHAIN),
            at::NEW_LEG,
        ),
        hook(
            link_on_hook(under_way()).line(Ink::Waste, &drawn),
            (x + 44.0, CHAIN - 2.0),
            (x + 66.0, CHAIN + 28.0),
            at::YARN + 2,
        ),
        hook(
            needle(chained(done + 1, 0, Ink::Waste))
                .lines(Ink::Waste, &[forward(next - 4.0, 34.0)])
                .line(
                    Ink::Waste,
                    &behind.map(|knot| Knot {
                        x: knot.x + PITCH,
                        ..knot
                    }),
                ),
            (next + 20.0, CHAIN - 6.0),
            (next + 42.0, CHAIN + 24.0),
            at::HEAD + 1,
        ),
        needle(chained(6, 2, Ink::Waste)).line(
            Ink::Waste,
            &[
                k(place(8) - 2.0, CHAIN - 3.0, at::FOOT),
                k(place(8) + 12.0, CHAIN + 8.0, at::FOOT),
                k(place(8) + 4.0, CHAIN + 20.0, at::HEAD),
                k(place(8) + 2.0, CHAIN + 8.0, at::LEG),
                k(place(8) + 14.0, CHAIN + 20.0, at::FOOT),
                k(place(8) + 8.0, 190.0, at::FOOT),
            ],
        ),
        undone(2),
        undone(9),
    ]
}

/// The sock turned upside down, the chain on top: so many loops of its own yarn are free and on a needle.
fn undone(free: usize) -> Frame {
    let xs = [2.0, 28.0, 54.0, 80.0, 106.0, 132.0, 158.0, 184.0, 210.0];
    let loops: Vec<DrawnStitch> = xs
        .iter()
        .enumerate()
        .map(|(i, x)| {
            if i < free {
                held(*x).ink(Ink::Yarn)
            } else {
                off(*x).ink(Ink::Subject)
            }
        })
        .collect();
    let links: Vec<Vec<Knot>> = xs
        .iter()
        .skip(free)
        .map(|x| {
            link(x + 13.0, 0.0, 28.0, 6.5)
                .into_iter()
                .map(|knot| {
                    let y = super::stitches::fallen(knot.x, 88.0) + knot.y;
                    k(knot.x, y, knot.depth + 2)
                })
                .collect()
        })
        .collect();
    let frame = Frame::new(Side::Knit).below(&xs).row(&[], &loops, &[]);
    if free == xs.len() {
        return frame.holds(230.0);
    }
    let at_end = xs.get(free).copied().unwrap_or(240.0) - 15.0;
    let y = super::stitches::fallen(at_end, 88.0);
    let point = xs.get(free).map_or(230.0, |x| x - 8.0);
    frame
        .lines(Ink::Waste, &links)
        .line(
            Ink::Waste,
            &[
                k(at_end, y, at::YARN),
                k(at_end - 10.0, y - 30.0, at::YARN),
                k(at_end + 30.0, -10.0, at::YARN),
            ],
        )
        .holds(point)
}
