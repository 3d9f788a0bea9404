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
    /// Stitches that were cast on are divided over the needles.
    Divide,
    /// A ring of stitches is joined.
    Join,
    /// Stitches are moved between needles, none is worked.
    Seat,
    /// Stitches are picked up along an edge.
    PickUp,
    /// Stitches of two needles are grafted.
    Graft,
    /// The last stitches are drawn closed.
    DrawClosed,
    /// Ends are fastened and woven in.
    FastenOff,
}
