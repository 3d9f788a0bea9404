//! Lines of a plan that is written down as a pattern.

use super::piece::LinePiece;
use crate::needles::Facing;

/// A line of a written pattern.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum PatternLine {
    /// A round, or the same several times.
    Rounds {
        /// Its number in its section, from 1.
        from: usize,
        /// How many there are of it.
        times: usize,
        /// What is done.
        pieces: Vec<LinePiece>,
        /// Stitches on all needles when it is done.
        after: u16,
    },
    /// Rounds that are worked as earlier ones of their section.
    Again {
        /// The number of the first, in its section, from 1.
        from: usize,
        /// The number of the last.
        to: usize,
        /// The number of the one that the first is worked as.
        as_from: usize,
        /// Stitches on all needles when they are done.
        after: u16,
    },
    /// A row, back or forth.
    Row {
        /// Its number in its section, from 1.
        number: usize,
        /// Which side faces the knitter.
        facing: Facing,
        /// What is done.
        pieces: Vec<LinePiece>,
    },
    /// So many stitches are worked back and forth from here.
    Flat(u16),
    /// Outside any round.
    Walk(Vec<LinePiece>),
    /// The edge, and whether it is joined into a round.
    CastOn(Vec<LinePiece>, bool),
    /// The chain of a provisional cast-on is undone, so many loops.
    UndoChain(u16),
    /// The waste yarn that keeps the place of so many stitches is taken out.
    OpenWaste(u16),
    /// The row over so many stitches is snipped.
    SnipRow(u16),
    /// Sole and instep are grafted.
    Graft,
    /// The yarn is drawn through what is left.
    Draw,
}

impl PatternLine {
    /// Whether it tells rounds that are worked as others, and as many of them.
    pub(crate) fn is_again(&self, other: &Self) -> bool {
        match (self, other) {
            (
                Self::Rounds {
                    times,
                    pieces,
                    after,
                    ..
                },
                Self::Rounds {
                    times: other_times,
                    pieces: other_pieces,
                    after: other_after,
                    ..
                },
            ) => (times, after, pieces) == (other_times, other_after, other_pieces),
            _ => false,
        }
    }

    /// Whether the rounds of another line come right after its own.
    pub(crate) fn goes_on(&self, next: &Self) -> bool {
        match (self, next) {
            (Self::Rounds { from, times, .. }, Self::Rounds { from: next, .. }) => {
                from + times == *next
            }
            _ => false,
        }
    }
}
