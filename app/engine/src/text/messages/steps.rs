//! What the steps of a section are called.

/// What a section's steps are called: each is a round, or some are rows, or all are moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Steps {
    /// There are rounds among them.
    Rounds,
    /// There are rows among them, and no rounds.
    Rows,
    /// Neither.
    Moves,
}
