//! Lines of a plan that is written down as a pattern.

use super::piece::Piece;
use crate::needles::Facing;
use crate::text::typed::Typed;

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
        pieces: Vec<Piece>,
        /// Stitches on all needles when it is done.
        after: u16,
    },
    /// A row, back or forth.
    Row {
        /// Its number in its section, from 1.
        number: usize,
        /// Which side faces the knitter.
        facing: Facing,
        /// What is done.
        pieces: Vec<Piece>,
    },
    /// So many stitches are worked back and forth from here.
    Flat(u16),
    /// Outside any round.
    Walk(Vec<Piece>),
    /// The edge, and whether it is joined into a round.
    CastOn(Vec<Piece>, bool),
    /// The chain of a provisional cast-on is undone, so many loops.
    UndoChain(u16),
    /// The waste yarn that keeps the place of so many stitches is taken out.
    OpenWaste(u16),
    /// The row over so many stitches is snipped.
    SnipRow(u16),
    /// Words of the pattern's own that say how the next line is worked.
    Note(Typed),
    /// Sole and instep are grafted.
    Graft,
    /// The yarn is drawn through what is left.
    Draw,
}
