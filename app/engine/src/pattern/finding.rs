//! What is found in a pattern, as data.
//!
//! Knows places and troubles; must not know how they are found or said.

use super::piece::Spot;
use super::vocabulary::Expected;
use super::work::Trouble;

/// Something found at a place of the pattern. Whoever knits it can go on all the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// Where.
    pub spot: Spot,
    /// What.
    pub what: Found,
}

/// What can be found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Found {
    /// The line could not be read: it is kept as it stands.
    Unread {
        /// What would have been readable there.
        expected: Expected,
        /// The word that was probably meant.
        nearest: Option<&'static str>,
        /// The line.
        text: String,
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
    /// Rounds are repeated until a count that they never come to.
    NeverReached(u16),
    /// Grafting needs two equal halves.
    DoesNotGraft(u16),
    /// Rows are worked back and forth, and over how many stitches is not said.
    FlatUnknown,
}
