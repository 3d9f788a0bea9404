//! Whose hands they are. The model's hands work from a needle in the left hand to one in the right; a
//! left-handed knitter is seen in a mirror by it: what she has on her right lies on the left there.
//! Knows hands and needles, no words of the engine.

use evenloop_engine::text::{KnittingHand, Wording};
use evenloop_tests::model::page::Do;

/// A side, as it is seen by who looks at the knitting.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    Left,
    Right,
}

impl Side {
    pub(crate) const fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    pub(crate) fn read(word: &str) -> Option<Self> {
        match word {
            "left" => Some(Self::Left),
            "right" => Some(Self::Right),
            _ => None,
        }
    }
}

/// A knitter's body.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Body {
    /// The hand whose needle takes the stitches.
    pub(crate) takes: Side,
}

impl Body {
    pub(crate) const fn of(style: Wording) -> Self {
        Self {
            takes: match style.hand {
                KnittingHand::Right => Side::Right,
                KnittingHand::Left => Side::Left,
            },
        }
    }

    /// The hand whose needle holds what is still to be worked.
    pub(crate) const fn gives(self) -> Side {
        self.takes.other()
    }

    /// A stitch made between two, that leans to a side of the fabric.
    pub(crate) fn make(self, lean: Side) -> Do {
        // Made of the strand, so that it leans towards what is still to be worked, or away from it.
        if lean == self.gives() {
            Do::MakeLeft
        } else {
            Do::MakeRight
        }
    }

    /// To which side something leans in the fabric that was worked with the right side facing; `None` for
    /// what leans nowhere. Common practice, no source: of two stitches knitted together the one further
    /// from the points lies on top, and leans back to what was worked; slipped and knitted from the
    /// front it is the other one; what is held in front of a cross passes over what comes after it.
    pub(crate) fn lean(self, done: &Do) -> Option<Side> {
        match done {
            Do::K2tog | Do::P2tog | Do::MakeRight => Some(self.takes),
            Do::Ssk | Do::MakeLeft => Some(self.gives()),
            Do::Cross { to_the_right, .. } => Some(if *to_the_right {
                self.takes
            } else {
                self.gives()
            }),
            _ => None,
        }
    }
}
