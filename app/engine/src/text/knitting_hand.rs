//! Which hand knits. Not the hand that holds the phone.

/// The hand whose needle takes the stitches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum KnittingHand {
    /// Stitches go from the left needle to the right one.
    #[default]
    Right,
    /// Stitches go from the right needle to the left one: everything is the mirror image.
    Left,
}
