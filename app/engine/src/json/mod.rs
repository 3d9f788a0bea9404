//! Reads the stored and sent forms, which are JSON (RFC 8259), into the types that derive serde's
//! `Deserialize`.
//!
//! The general reader of JSON is compiled once more for every type that is read, with all its messages:
//! with it, reading took a sixth of what a phone loads. This one says only that a text cannot be read, and up
//! to where; it knows no fractions, which no form has; and fields are read from an object, never from
//! a list. What is wrong with a document is said by the room `document`.
//!
//! May use serde's traits; must not know any form.

mod reader;
#[cfg(test)]
mod tests;

use std::fmt;

use serde::de::DeserializeOwned;

use self::reader::Reader;

/// A text is no JSON, or JSON of another form than was asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unreadable {
    /// The line up to which it was read, from 1.
    pub line: usize,
    /// The byte of that line, from 1.
    pub column: usize,
}

impl fmt::Display for Unreadable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { line, column } = self;
        write!(f, "it can be read up to line {line}, byte {column}")
    }
}

impl std::error::Error for Unreadable {}

/// Reads a text that holds one value and nothing else.
///
/// # Errors
/// When it is no JSON, when it is not of the form of `T`, and when lists and objects in it lie more than
/// 128 deep.
pub fn from_json<T: DeserializeOwned>(text: &str) -> Result<T, Unreadable> {
    let mut reader = Reader::of(text);
    match T::deserialize(&mut reader) {
        Ok(value) if reader.is_at_end() => Ok(value),
        _ => Err(place(text, reader.at())),
    }
}

/// Reads the value that a text begins with, whatever comes after it.
///
/// # Errors
/// When it begins with none of the form of `T`; see [`from_json`].
pub fn from_beginning<T: DeserializeOwned>(text: &str) -> Result<T, Unreadable> {
    let mut reader = Reader::of(text);
    T::deserialize(&mut reader).map_err(|_| place(text, reader.at()))
}

/// Line and column of a byte.
fn place(text: &str, at: usize) -> Unreadable {
    let before = &text.as_bytes()[..at.min(text.len())];
    let is_newline = |byte: &u8| *byte == b'\n';
    let in_line = before.rsplit(is_newline).next().map_or(0, <[u8]>::len);
    Unreadable {
        line: before.split(is_newline).count(),
        column: in_line + 1,
    }
}
