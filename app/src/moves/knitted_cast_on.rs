//! The knitted cast-on: each loop is knitted out of the one before.

use super::stitches::{DrawnStitch, Frame, Side, at, held};
use super::strand::{Ink, Knot, k};
use super::worked::{AS_TO_KNIT, HOLDING, IN, OUTSIDE, RESTING};

/// A loop knitted out of the one before, and put beside it.
pub(crate) fn knitted_on() -> [Frame; 6] {
    let cast = [2.0, 28.0, 54.0, 80.0];
    let row = |yarn: &[Knot], last: &[DrawnStitch]| {
        let mut all: Vec<DrawnStitch> = cast.map(|x| held(x).foot_y(98.0)).to_vec();
        all.extend(last);
        Frame::new(Side::Knit).row(yarn, &all, &[])
    };
    let last = held(106.0).foot_y(98.0);
    let open = last.wide(13.0).subject();
    let hangs = [
        k(172.0, -10.0, at::YARN_BEHIND),
        k(130.0, 40.0, at::YARN_BEHIND),
        k(109.0, 98.0, at::YARN_BEHIND),
    ];
    let wrap = [
        k(176.0, -10.0, at::WRAP),
        k(124.0, 17.0, at::WRAP),
        k(86.0, 34.0, at::WRAP),
        k(70.0, 50.0, at::BEHIND_TAKES),
        k(84.0, 66.0, at::BEHIND_TAKES),
        k(109.0, 98.0, at::YARN_BEHIND),
    ];
    let through = [
        k(176.0, -10.0, at::YARN_BEHIND),
        k(126.0, 14.0, at::YARN_BEHIND),
        k(96.0, 60.0, at::YARN_BEHIND),
        k(99.0, 96.0, at::FOOT),
        k(97.0, 84.0, at::FOOT),
        k(104.0, 70.0, at::NEW_LEG),
        k(112.0, 88.0, at::NEW_LEG),
        k(109.0, 98.0, at::YARN_BEHIND),
    ];
    let put = [
        k(182.0, -10.0, at::YARN_BEHIND),
        k(146.0, 40.0, at::YARN_BEHIND),
        k(112.0, 92.0, at::YARN_BEHIND),
        k(116.0, 70.0, at::LEG_BEHIND),
        k(121.0, 42.0, at::LEG_BEHIND),
        k(130.0, 36.0, at::NEW_LEG),
        k(142.0, 58.0, at::NEW_LEG),
        k(140.0, 84.0, at::YARN),
        k(122.0, 94.0, at::YARN_BEHIND),
        k(109.0, 98.0, at::YARN_BEHIND),
    ];
    [
        row(&[], &[last.subject()])
            .line(Ink::Yarn, &hangs)
            .holds(HOLDING)
            .takes(0.0, RESTING, OUTSIDE),
        row(&[], &[open])
            .line(Ink::Yarn, &hangs)
            .holds(HOLDING)
            .takes(0.0, IN, AS_TO_KNIT),
        row(&[], &[open])
            .line(Ink::Yarn, &wrap)
            .holds(HOLDING)
            .takes(0.0, IN, AS_TO_KNIT),
        row(&[], &[open])
            .line(Ink::Yarn, &through)
            .holds(HOLDING)
            .takes(16.0, 88.0, OUTSIDE),
        row(&[], &[last])
            .line(Ink::Yarn, &put)
            .holds(HOLDING + 10.0)
            .takes(0.0, 122.0, &[(256.0, at::TAKES)]),
        row(&[], &[last, held(132.0).foot_y(92.0).ink(Ink::Yarn)])
            .line(
                Ink::Yarn,
                &[
                    k(190.0, -10.0, at::YARN_BEHIND),
                    k(154.0, 40.0, at::YARN_BEHIND),
                    k(135.0, 98.0, at::YARN_BEHIND),
                ],
            )
            .holds(HOLDING + 20.0)
            .takes(0.0, RESTING + 24.0, OUTSIDE),
    ]
}
