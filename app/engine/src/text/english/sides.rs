//! Left and right. What is said of a sock by its plan is said as for a right-handed knitter; one who knits
//! left-handed works the mirror image, and each side is the other one (common practice, no source). Names
//! of moves follow the fabric: what leans to the right there is called so, whichever hand makes it.

use crate::recipe::LeftRight;
use crate::stitch::Lean;
use crate::text::knitting_hand::KnittingHand;

impl KnittingHand {
    /// The side that is the right one for a right-handed knitter: of the needle that takes the stitches.
    pub const fn right(self) -> &'static str {
        match self {
            Self::Right => "right",
            Self::Left => "left",
        }
    }

    /// The side of the needle from which stitches are worked.
    pub const fn left(self) -> &'static str {
        match self {
            Self::Right => "left",
            Self::Left => "right",
        }
    }

    /// For which foot a toe comes out that is planned for this one.
    pub(super) const fn foot(self, foot: LeftRight) -> &'static str {
        match self.makes_for(foot) {
            LeftRight::Left => "left",
            LeftRight::Right => "right",
        }
    }

    /// The way a cross leans in the fabric.
    pub(super) const fn lean(self, lean: Lean) -> Lean {
        match (self, lean) {
            (Self::Right, lean) => lean,
            (Self::Left, Lean::Left) => Lean::Right,
            (Self::Left, Lean::Right) => Lean::Left,
        }
    }
}
