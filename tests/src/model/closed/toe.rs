//! How a toe (or a heel knitted like one) narrows, round by round.

use evenloop_engine::recipe::{Narrowing, Recipe, Toe};

use super::{nearest, third};

/// Stitches left to graft in all: the fewest of 4, 8, 12, ... that are a quarter of all, but more where a
/// third has room for them, up to 16.
pub(super) fn left_to_graft(around: u32) -> u32 {
    let fours = || (1..).map(|n| 4 * n);
    let quarter = fours().find(|left| 4 * left >= around).unwrap_or(around);
    let within_a_third = fours().take_while(|left| 3 * left <= around && *left <= 16);
    within_a_third.last().unwrap_or(0).max(quarter)
}

/// A toe on so many stitches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tip {
    /// Four decreases in each decrease round.
    Wedge(Wedge),
    /// Eight at a time.
    Round(Wedge),
    /// So many double stitches on each side of the sole, there and back.
    Cup {
        /// Double stitches on each side.
        each_side: u32,
        /// Stitches around.
        around: u32,
    },
    /// One side narrows twice as fast as the other.
    Shaped(Shaped),
}

impl Tip {
    pub(super) fn of(recipe: &Recipe, around: u32) -> Self {
        let wide = if recipe.fit.wide_toes { 8 } else { 0 };
        let left = left_to_graft(around) + wide;
        match recipe.toe {
            Toe::Wedge { narrowing } => Self::Wedge(Wedge {
                around,
                left,
                narrowing,
            }),
            // As long as the usual wedge.
            Toe::Round => Self::Round(Wedge {
                around,
                left: left_to_graft(around),
                narrowing: Narrowing::Rounded,
            }),
            Toe::ShortRow => {
                let sole = around / 2;
                Self::Cup {
                    each_side: (sole - third(sole) - wide / 2) / 2,
                    around,
                }
            }
            Toe::Shaped { .. } => Self::Shaped(Shaped { around, left }),
        }
    }

    /// Stitches where the toe ends.
    pub(super) const fn left(self) -> u32 {
        match self {
            Self::Wedge(Wedge { left, .. }) | Self::Shaped(Shaped { left, .. }) => left,
            Self::Round(_) => 8,
            Self::Cup { around, .. } => around,
        }
    }

    /// Rounds by which it makes the foot longer; those of its rounds and rows that narrow.
    pub(super) fn rounds(self) -> u32 {
        match self {
            Self::Wedge(wedge) | Self::Round(wedge) => wedge.rounds(),
            // In, fold, and the two rounds; what goes out lies on the other side.
            Self::Cup { each_side, .. } => 2 * each_side + 4,
            Self::Shaped(shaped) => shaped.rounds(),
        }
    }

    /// Rounds and rows to be worked, from the toe down.
    pub(super) fn worked(self) -> u32 {
        match self {
            // In, fold, out, two rounds.
            Self::Cup { each_side, .. } => 2 * each_side + 2 + (2 * each_side + 2) + 2,
            other => other.rounds(),
        }
    }

    /// Instep stitches (as many as sole stitches) after so many rounds of a toe knitted down.
    pub(super) fn instep_by(self, round: u32) -> u32 {
        match self {
            Self::Wedge(wedge) => wedge.around / 2 - 2 * wedge.decreases_by(round),
            Self::Round(wedge) => 2 * round_toe_halves_by(wedge, round),
            Self::Cup { around, .. } => around / 2,
            Self::Shaped(shaped) => shaped.instep_by(round),
        }
    }

    /// Instep stitches after so many rounds of a toe knitted up: a plain round, then the rounds of
    /// the toe knitted down the other way round, plain rounds before their shaping round.
    pub(super) fn instep_up_by(self, round: u32) -> u32 {
        self.instep_by(self.rounds() + 1 - round.max(1).min(self.rounds() + 1))
    }
}

/// A wedge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wedge {
    pub(super) around: u32,
    pub(super) left: u32,
    pub(super) narrowing: Narrowing,
}

impl Wedge {
    pub(super) fn rounds(self) -> u32 {
        let (third, second) = self.blocks();
        self.decreases() + second + 2 * third
    }

    const fn decreases(self) -> u32 {
        (self.around - self.left) / 4
    }

    /// Decrease rounds worked in the wedge's first `round` rounds, each block beginning with its
    /// decrease round.
    fn decreases_by(self, round: u32) -> u32 {
        let (third, second) = self.blocks();
        let slow = 3 * third;
        let middle = slow + 2 * second;
        if round <= slow {
            round.div_ceil(3)
        } else if round <= middle {
            third + (round - slow).div_ceil(2)
        } else {
            third + second + (round - middle)
        }
    }

    pub(super) fn instep_by(self, round: u32) -> u32 {
        Tip::Wedge(self).instep_by(round)
    }

    /// Decrease rounds of the wedge followed by two plain rounds, and by one; the rest by none.
    fn blocks(self) -> (u32, u32) {
        let all = self.decreases();
        let (third, second) = match self.narrowing {
            Narrowing::Even => (0, all),
            // The last count not below half of the stitches is around - 4 * floor(around / 8).
            Narrowing::Rounded => (0, self.around / 8),
            Narrowing::Long => (self.around / 16, self.around / 8 - self.around / 16),
        };
        let third = third.min(all);
        (third, second.min(all - third))
    }
}

/// A toe for a left or a right foot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shaped {
    around: u32,
    left: u32,
}

impl Shaped {
    /// Stitches that the little toe's side takes from the instep, and the big toe's.
    const fn sides(self) -> (u32, u32) {
        let all = (self.around - self.left) / 2;
        let outer = (2 * all).div_ceil(3);
        (outer, all - outer)
    }

    /// A plain round after each of the first quarter.
    const fn rounds(self) -> u32 {
        let (outer, _) = self.sides();
        outer + outer / 4
    }

    fn instep_by(self, round: u32) -> u32 {
        let (outer, inner) = self.sides();
        let paired = 2 * (outer / 4);
        let done = if round <= paired {
            round.div_ceil(2)
        } else {
            round - paired / 2
        };
        self.around / 2 - done - done * inner / outer
    }

    /// After which decreases on the little toe's side, counted from 1, the big toe's side has had
    /// one too.
    pub fn both(self, decrease: u32) -> bool {
        let (outer, inner) = self.sides();
        decrease * inner / outer > (decrease - 1) * inner / outer
    }

    /// The how manieth decrease round a round is, from 1; none for a plain one.
    pub fn decrease_in(self, round: u32) -> Option<u32> {
        (self.instep_by(round) < self.instep_by(round - 1)).then(|| {
            let paired = 2 * (self.sides().0 / 4);
            if round <= paired {
                round.div_ceil(2)
            } else {
                round - paired / 2
            }
        })
    }
}

/// Stitches of two of a round toe's eight wedges after so many of its rounds. It is as long as the
/// rounded wedge toe; the plain rounds after each decrease round are in proportion to the width
/// that is left, the sum so far to the nearest whole. Where eight do not divide the stitches, four
/// go in a first round: until then two wedges are one stitch wider.
fn round_toe_halves_by(wedge: Wedge, round: u32) -> u32 {
    let around = wedge.around;
    let evened = u32::from(!around.is_multiple_of(8));
    // a plain round follows it
    let extra = 2 * evened;
    let first = around / 8;
    let decreases = first - 1;
    let plain = wedge.rounds() - extra - decreases;
    if round < evened {
        return 2 * first + 1;
    }
    // Plain rounds after the first i decrease rounds: widths first-1, first-2, ...
    let plain_after = |i: u32| {
        let widths = i * first - i * (i + 1) / 2;
        nearest(plain.into(), widths.into(), (first * decreases / 2).into())
    };
    let begun = |i: u32| extra + i + plain_after(i - 1);
    let done = (1..=decreases).take_while(|&i| begun(i) <= round).count();
    2 * (first - u32::try_from(done).unwrap_or(u32::MAX))
}
