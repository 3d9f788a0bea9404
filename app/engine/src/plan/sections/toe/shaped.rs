//! The toe of a left or right sock: it narrows twice as fast on the side of the little toe
//! (proportions from memory). The socks of a pair mirror each other.

use crate::plan::rounds::{Borders, Shaping};
use crate::plan::schedule::{Schedule, spaced};
use crate::recipe::{Direction, LeftRight};

/// Shaping rounds of a left or right toe.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) struct ShapedToe {
    /// Rounds that shape the side of the little toe: all of them.
    outer: u16,
    /// Rounds that shape the side of the big toe too, spread evenly among them.
    inner: u16,
    /// Which border lies on the side of the little toe.
    little: Borders,
}

impl ShapedToe {
    pub(in crate::plan) fn new(
        around: u16,
        left: u16,
        foot: LeftRight,
        direction: Direction,
    ) -> Self {
        let all = around.saturating_sub(left) / 2;
        let outer = (2 * all).div_ceil(3);
        // The right side facing and the toe away from the body, a left foot's big toe is on the
        // right, where the instep begins; with the toe towards the body it is where it ends.
        let little = match (foot, direction) {
            (LeftRight::Left, Direction::CuffDown) | (LeftRight::Right, Direction::ToeUp) => {
                Borders::End
            }
            (LeftRight::Right, Direction::CuffDown) | (LeftRight::Left, Direction::ToeUp) => {
                Borders::Start
            }
        };
        Self {
            outer,
            inner: all - outer,
            little,
        }
    }

    /// How many of the first shaping rounds have a plain round beside them.
    const fn slow(self) -> u16 {
        self.outer / 4
    }

    pub(in crate::plan) const fn rounds(self) -> u16 {
        self.outer + self.slow()
    }

    /// What the shaping round of that number, from 1, shapes.
    fn shaping(self, number: u16) -> Shaping {
        let inner_up_to = |n: u16| n * self.inner / self.outer.max(1);
        Shaping::BothSides(if inner_up_to(number) > inner_up_to(number - 1) {
            Borders::Both
        } else {
            self.little
        })
    }

    /// From wide to narrow.
    pub(in crate::plan) fn schedule(self) -> Schedule {
        (1..=self.outer)
            .flat_map(|number| {
                let plain = u16::from(number <= self.slow());
                spaced(self.shaping(number), 1, plain)
            })
            .collect()
    }
}
