//! The sock after its heel, seen from above: how it becomes a ring again while the gusset is picked up.

use super::edges::link;
use super::stitches::{Frame, Side, at};
use super::strand::{Ink, Knot, k};

/// Where heel and instep lie, and the flap's edges between them.
const HEEL_Y: f32 = 146.0;
const INSTEP_Y: f32 = 32.0;
const LEFT_X: f32 = 46.0;
const RIGHT_X: f32 = 194.0;
/// Stitches of heel and instep, and chains of an edge.
const ACROSS: u8 = 8;
const CHAINS: u8 = 4;

/// Stitches seen from above, across their needle; `along` is the needle's direction.
fn from_above(frame: Frame, places: &[(f32, f32)], upright: bool, ink: Ink) -> Frame {
    let loops: Vec<Vec<Knot>> = places
        .iter()
        .map(|(x, y)| {
            let (ax, ay) = if upright { (9.0, 2.0) } else { (2.0, 9.0) };
            vec![
                k(x - ax, y - ay, at::LEG),
                k(*x, *y, at::LEG),
                k(x + ax, y + ay, at::LEG),
            ]
        })
        .collect();
    frame.lines(ink, &loops)
}

/// Picking up the gusset; so many of its five parts are done: half the heel, an edge, the instep, the other edge, the
/// other half.
fn round_heel(parts: u8) -> Frame {
    let across = |y: f32, from: u8, to: u8| -> Vec<(f32, f32)> {
        (from..to)
            .map(|i| (f32::from(i).mul_add(-15.5, 174.0), y))
            .collect()
    };
    let beside = |x: f32| -> Vec<(f32, f32)> {
        (0..CHAINS)
            .map(|i| (x, f32::from(i).mul_add(22.0, 56.0)))
            .collect()
    };
    let ink = |part: u8, else_in: Ink| if parts >= part { Ink::Yarn } else { else_in };
    let mut frame = Frame::new(Side::Knit);
    // The chains of both edges stand upright here.
    for x in [LEFT_X, RIGHT_X] {
        let edge: Vec<Vec<Knot>> = (0..CHAINS)
            .map(|i| {
                link(0.0, 0.0, 22.0, 6.5)
                    .into_iter()
                    .map(|knot| {
                        k(
                            x + knot.y,
                            f32::from(i).mul_add(22.0, 66.0) + knot.x,
                            knot.depth - 4,
                        )
                    })
                    .collect()
            })
            .collect();
        frame = frame.lines(Ink::Fabric, &edge);
    }
    // What is held: heel and instep from the start, the edges as they are picked up.
    let shaft = |frame: Frame, from: (f32, f32), to: (f32, f32), part: u8| {
        let knots = [k(from.0, from.1, at::HOLDS), k(to.0, to.1, at::HOLDS)];
        if parts == part {
            frame.straight(Ink::Needle, &knots)
        } else {
            frame.line(Ink::Cable, &knots)
        }
    };
    let half = (ACROSS / 2, 120.0);
    frame = shaft(frame, (190.0, INSTEP_Y), (50.0, INSTEP_Y), 9);
    if parts >= 2 {
        frame = shaft(frame, (LEFT_X, 142.0), (LEFT_X, 38.0), 2);
    }
    if parts >= 4 {
        frame = shaft(frame, (RIGHT_X, 36.0), (RIGHT_X, 140.0), 4);
    }
    if parts == 3 {
        frame = shaft(frame, (50.0, INSTEP_Y), (192.0, INSTEP_Y), 3);
    }
    frame = shaft(
        frame,
        (half.1 + 70.0, HEEL_Y),
        (half.1 - 70.0, HEEL_Y),
        parts.min(1),
    );
    if parts == 5 {
        frame = shaft(frame, (190.0, HEEL_Y), (half.1 - 2.0, HEEL_Y), 5);
    }
    frame = from_above(
        frame,
        &across(INSTEP_Y, 0, ACROSS),
        false,
        ink(3, Ink::Fabric),
    );
    frame = from_above(
        frame,
        &across(HEEL_Y, 0, half.0),
        false,
        ink(5, Ink::Fabric),
    );
    frame = from_above(
        frame,
        &across(HEEL_Y, half.0, ACROSS),
        false,
        ink(1, Ink::Subject),
    );
    if parts >= 2 {
        frame = from_above(frame, &beside(LEFT_X), true, Ink::Yarn);
    }
    if parts >= 4 {
        frame = from_above(frame, &beside(RIGHT_X), true, Ink::Yarn);
    }
    let end = match parts {
        0 => [(112.0, HEEL_Y), (112.0, 176.0)],
        1 => [(56.0, HEEL_Y), (44.0, 176.0)],
        2 => [(LEFT_X, 50.0), (12.0, 24.0)],
        3 => [(184.0, INSTEP_Y), (214.0, -4.0)],
        4 => [(RIGHT_X, 132.0), (228.0, 152.0)],
        _ => [(122.0, HEEL_Y), (116.0, 180.0)],
    };
    frame = frame.line(Ink::Yarn, &end.map(|(x, y)| k(x, y, at::BETWEEN)));
    let taken = usize::from(ACROSS / 2 * u8::from(parts >= 1))
        + usize::from(CHAINS * u8::from(parts >= 2))
        + usize::from(ACROSS * u8::from(parts >= 3))
        + usize::from(CHAINS * u8::from(parts >= 4))
        + usize::from(ACROSS / 2 * u8::from(parts >= 5));
    frame.on_needles = (0, taken);
    frame
}

/// Picking up the gusset.
pub(crate) fn pick_up_gusset() -> [Frame; 6] {
    [0, 1, 2, 3, 4, 5].map(round_heel)
}
