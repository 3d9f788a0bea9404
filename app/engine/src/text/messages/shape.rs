//! Kinds of rounds, rows and moves.

/// What kind of round, row or move it is, where that matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum StepShape {
    /// A row with the right side facing.
    RightSide,
    /// A row with the wrong side facing.
    WrongSide,
    /// A round that makes stitches.
    Increase,
    /// A round that takes stitches away.
    Decrease,
    /// A round that does neither, among some that do.
    Plain,
    /// A move in which stitches of two needles are grafted.
    Graft,
}
