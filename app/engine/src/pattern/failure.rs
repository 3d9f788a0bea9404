//! Where reading a line stops, and what would have been readable there.
//!
//! Knows how far reading came; must not know what is read.

use winnow::ModalResult;
use winnow::error::{ErrMode, ParserError};

use super::vocabulary::Expected;

/// Where reading stopped, and what would have been readable there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Failure {
    /// Bytes of the text that were left.
    left: usize,
    pub(super) expected: Expected,
}

impl Failure {
    /// Nothing was left, and something to do was expected.
    pub(super) const fn at_end() -> Self {
        Self {
            left: 0,
            expected: Expected::Instruction,
        }
    }

    /// The byte of the text at which it is.
    pub(super) const fn at(self, text: &str) -> usize {
        text.len().saturating_sub(self.left)
    }
}

impl ParserError<&str> for Failure {
    type Inner = Self;

    fn from_input(input: &&str) -> Self {
        Self {
            left: input.len(),
            expected: Expected::Instruction,
        }
    }

    fn into_inner(self) -> Result<Self, Self> {
        Ok(self)
    }

    /// Of two ways that fail, the one that came further.
    fn or(self, other: Self) -> Self {
        if other.left <= self.left { other } else { self }
    }
}

pub(super) type Parsed<T> = ModalResult<T, Failure>;

pub(super) const fn failed(input: &str, expected: Expected) -> ErrMode<Failure> {
    ErrMode::Cut(Failure {
        left: input.len(),
        expected,
    })
}
