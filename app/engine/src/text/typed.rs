//! What a knitter typed.

use std::fmt;

/// A text that somebody typed: a pair's name, a note, what a yarn is called. As an argument of a
/// message it comes through byte for byte; there is no way to search in it or to change it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Typed(String);

impl Typed {
    /// What was typed, as it was typed.
    pub fn new(text: impl Into<String>) -> Self {
        Self(text.into())
    }

    /// What was typed, as it was typed.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Typed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
