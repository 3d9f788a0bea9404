//! What is found in a pattern, as data.
//!
//! Knows places and troubles; must not know how they are found or said.

use super::piece::Spot;
use super::vocabulary::Expected;
use super::work::{Stopped, Trouble};
use crate::needles::Facing;

/// Something found at a place of the pattern. Whoever knits it can go on all the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// Where.
    pub spot: Spot,
    /// What.
    pub what: FindingKind,
}

impl FindingKind {
    /// Whether it says no more than that stitches are too many or too few: what an earlier line of the
    /// pattern may be the cause of.
    pub(super) const fn is_of_counts(&self) -> bool {
        match self {
            Self::StitchesLeft { .. }
            | Self::CountDiffers { .. }
            | Self::NeverReached(_)
            | Self::DoesNotGraft(_) => true,
            Self::Unworkable(trouble) => matches!(
                trouble,
                Trouble::TooFew { .. }
                    | Trouble::RepeatUneven { .. }
                    | Trouble::NothingToPickUp
                    | Trouble::NoMarker
                    | Trouble::NoSuchPlace(_)
                    | Trouble::NeedleLeft(_)
                    | Trouble::Refused(_)
            ),
            _ => false,
        }
    }
}

impl From<Stopped> for Finding {
    fn from(stopped: Stopped) -> Self {
        Self {
            spot: stopped.spot,
            what: FindingKind::Unworkable(stopped.trouble),
        }
    }
}

/// What can be found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FindingKind {
    /// The line could not be read: it is kept as it stands and followed by its own words.
    Unread {
        /// What would have been readable there.
        expected: Expected,
        /// The word that was probably meant.
        nearest: Option<&'static str>,
    },
    /// A piece cannot be worked on these needles.
    Unworkable(Trouble),
    /// The round or row ends before its stitches are all worked.
    StitchesLeft {
        /// Stitches worked.
        worked: u16,
        /// Stitches there were.
        of: u16,
    },
    /// The count that the pattern gives is not what the needles carry.
    CountDiffers {
        /// The pattern's.
        said: u16,
        /// The needles'.
        found: u16,
    },
    /// The text is longer than any pattern: what comes after so many characters is not read.
    TooLong(usize),
    /// A round is referred to that the pattern does not have.
    NoSuchRound(u16),
    /// A round or row has a number that does not come next: the number is misprinted, or a line is missing.
    OutOfOrder {
        /// The pattern's.
        number: u16,
        /// The one that comes next.
        next: u16,
    },
    /// More of the last rounds or rows are repeated than there are before something else is worked.
    RepeatsTooMany {
        /// The pattern's.
        asked: u16,
        /// Those there are.
        there: u16,
    },
    /// A line says a number of stitches, and those after it are worked over another one.
    WorkedOver {
        /// The line's.
        said: u16,
        /// That of the lines after it.
        over: u16,
    },
    /// The first two turns of a heel leave unequal numbers of stitches on its sides, and its rows do not come out.
    TurnsUneven {
        /// Stitches left by the first.
        first: u16,
        /// Stitches left by the second.
        second: u16,
    },
    /// A row is said to be worked on that side, and the other one faces.
    OtherSideFaces(Facing),
    /// Rounds are repeated until a count that they never come to.
    NeverReached(u16),
    /// Grafting needs two equal halves.
    DoesNotGraft(u16),
    /// Rows are worked back and forth, and over how many stitches is not said.
    FlatUnknown,
}
