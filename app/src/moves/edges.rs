//! Stitches picked up along an edge.

use super::stitches::{Frame, Side, at};
use super::strand::{Ink, Knot, k};

/// Where the links of the edge end at the right, and how long one is.
const LINKS: [f32; 7] = [36.0, 74.0, 112.0, 150.0, 188.0, 226.0, 264.0];
const LINK: f32 = 38.0;
const EDGE: f32 = 96.0;
/// The link that is worked into.
const AT: usize = 2;

/// How deep the strands between the edge and the next stitches lie.
const RUNG: i8 = -3;

/// A link of a chain that lies on its side: a stitch that comes out of the one at its right.
pub(super) fn link(right: f32, y: f32, length: f32, high: f32) -> Vec<Knot> {
    let left = right - length;
    vec![
        k(right + length * 0.22, y - 2.5, at::FOOT),
        k(right - length * 0.2, y - high * 0.8, at::FOOT),
        k(left + length * 0.24, y - high, at::HEAD),
        k(left + 1.0, y, at::HEAD),
        k(left + length * 0.24, y + high, at::FOOT),
        k(right - length * 0.2, y + high * 0.8, at::FOOT),
        k(right + length * 0.22, y + 2.5, at::FOOT),
    ]
}

/// The edge of a flap, above the columns of its stitches.
fn flap() -> Frame {
    // The strands between the stitches of the edge and those beside them.
    let rungs: Vec<Vec<Knot>> = (0..14_u8)
        .map(|i| {
            let x = f32::from(i) * 19.0 + 2.0;
            vec![
                k(x, EDGE + 8.0, RUNG),
                k(x + 1.0, EDGE + 26.0, RUNG),
                k(x, EDGE + 54.0, RUNG),
            ]
        })
        .collect();
    let mut frame = Frame::new(Side::Knit).lines(Ink::Fabric, &rungs);
    for (shift, y) in [(5.5, 148.0), (-4.0, 171.0)] {
        let column: Vec<Vec<Knot>> = (0..15_u8)
            .map(|i| link(f32::from(i) * 19.0 + shift, y, 19.0, 6.5))
            .collect();
        frame = frame.lines(Ink::Fabric, &column);
    }
    let edge: Vec<Vec<Knot>> = LINKS.map(|right| link(right, EDGE, LINK, 8.5)).to_vec();
    let (before, rest) = edge.split_at(AT);
    let (worked, after) = rest.split_at(1);
    frame
        .lines(Ink::Fabric, before)
        .lines(Ink::Fabric, after)
        .lines(Ink::Subject, worked)
}

/// A stitch that was picked up below a link: from behind, before both strands, over the needle at that height.
fn picked(x: f32, needle: f32) -> [Knot; 7] {
    let hole = EDGE + 17.0;
    [
        k(x - 4.0, hole, at::YARN_BEHIND),
        k(x - 6.5, hole - 8.0, at::LEG),
        k(x - 8.5, needle + 16.0, at::LEG_BEHIND),
        k(x, needle - 9.5, at::NEW_LEG),
        k(x + 8.5, needle + 8.0, at::NEW_LEG),
        k(x + 6.5, hole - 10.0, at::NEW_LEG),
        k(x + 4.0, hole, at::YARN_BEHIND),
    ]
}

/// The middle of the links that have their stitch.
const DONE: [f32; 3] = [131.0, 169.0, 207.0];

/// The yarn through the stitches picked up so far, the one that is picked up last in full colour.
fn yarn(mut frame: Frame, lead: &[Knot], stitches: &[(f32, f32)], fresh: bool) -> Frame {
    let mut line = lead.to_vec();
    for (i, (x, needle)) in stitches.iter().enumerate() {
        let last = fresh && i == 0;
        let own = picked(*x, *needle);
        if i == 0 || (i == 1 && fresh) {
            // Up to here it is the yarn at hand.
            let mut own = own.to_vec();
            if !last {
                own.truncate(1);
            }
            line.extend(own);
            frame = frame.line(Ink::Yarn, &line);
            line.clear();
        }
        if !last {
            line.extend(own);
        }
    }
    line.push(k(262.0, EDGE + 22.0, at::YARN_BEHIND));
    frame.line(Ink::Fabric, &line)
}

/// The height of a needle that dips to its point by so much a step.
fn needle(x: f32, dip: f32) -> f32 {
    46.0 + (250.0 - x) * dip
}

fn pick(
    frame: Frame,
    dip: f32,
    lead: &[Knot],
    depths: &[(f32, i8)],
    point: f32,
    extra: Option<f32>,
) -> Frame {
    let on: Vec<(f32, f32)> = extra
        .into_iter()
        .chain(DONE)
        .map(|x| (x, needle(x, dip)))
        .collect();
    let mut knots: Vec<Knot> = depths
        .iter()
        .map(|(x, depth)| k(*x, needle(*x, dip), *depth))
        .collect();
    knots.push(k(point, needle(point, dip), 0));
    let count = on.len();
    let mut frame = yarn(frame, lead, &on, extra.is_some()).straight(Ink::Needle, &knots);
    frame.on_needles = (0, count);
    frame
}

/// Pick up and knit.
pub(crate) fn pick_up() -> [Frame; 5] {
    let rests = [
        k(150.0, -10.0, at::YARN_BEHIND),
        k(108.0, 20.0, at::YARN_BEHIND),
        k(104.0, 80.0, at::YARN_BEHIND),
        k(116.0, EDGE + 18.0, at::YARN_BEHIND),
    ];
    let x = DONE[0] - 38.0;
    let after = rests.map(|knot| Knot {
        x: knot.x - 38.0,
        ..knot
    });
    let dip = 0.5;
    let inside: &[(f32, i8)] = &[(262.0, at::TAKES), (101.0, at::BETWEEN)];
    let wrap = [
        k(170.0, -10.0, at::YARN_BEHIND),
        k(118.0, 30.0, at::YARN_BEHIND),
        k(84.0, 110.0, at::YARN_BEHIND),
        k(71.0, 126.0, at::BEHIND_TAKES),
        k(84.0, 141.0, at::YARN_BEHIND),
        k(106.0, 130.0, at::YARN_BEHIND),
    ];
    [
        pick(flap(), 0.06, &rests, &[(262.0, at::TAKES)], 96.0, None),
        pick(flap(), dip, &rests, inside, 52.0, None),
        pick(flap(), dip, &wrap, inside, 52.0, None),
        pick(flap(), 0.3, &after, &[(262.0, at::TAKES)], 76.0, Some(x)),
        pick(flap(), 0.06, &after, &[(262.0, at::TAKES)], 62.0, Some(x)),
    ]
}
