//! Places in the sock, and what lies between them.

use crate::plan::SectionKind;

/// A place in the sock; its number counts from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum NamedPlace {
    /// A round of a section.
    Round(usize, SectionKind),
    /// A row of a section.
    Row(usize, SectionKind),
    /// A move of a section.
    Move(usize, SectionKind),
    /// Past the last move.
    End,
}

/// What lies between two places.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Between {
    /// Rounds.
    pub(in crate::text) rounds: usize,
    /// Rows.
    pub(in crate::text) rows: usize,
    /// Single moves.
    pub(in crate::text) moves: usize,
}
