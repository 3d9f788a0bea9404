//! Reads the stored and sent forms, which are JSON, into the types that derive serde's `Deserialize`.
//!
//! `serde_json` reads a text into a tree, and the tree is read into the type. By itself `serde_json` would be compiled
//! once more for every type that is read, with all its messages: with it, reading took a sixth of what a
//! phone loads. So it is compiled once, for the tree; reading a type from the tree only says that something is of
//! another form than was asked for. Fields are read from an object, never from a list. What is wrong with
//! a document is said by the room `document`.
//!
//! May use serde and `serde_json`; must not know any form.

mod reader;
#[cfg(test)]
mod tests;
mod tree;

use std::fmt;

use serde::Deserialize;
use serde::de::DeserializeOwned;

use self::reader::Value;
pub(crate) use self::tree::Json;

/// A text is no JSON, or JSON of another form than was asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unreadable {
    /// It is no JSON.
    NoJson {
        /// The line up to which it is JSON, from 1.
        line: usize,
        /// The byte of that line, from 1.
        column: usize,
    },
    /// It is of another form than was asked for.
    OtherForm,
}

impl fmt::Display for Unreadable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoJson { line, column } => {
                write!(f, "it is JSON up to line {line}, byte {column}")
            }
            Self::OtherForm => f.write_str("it is of another form"),
        }
    }
}

impl std::error::Error for Unreadable {}

impl From<serde_json::Error> for Unreadable {
    fn from(why: serde_json::Error) -> Self {
        Self::NoJson {
            line: why.line(),
            column: why.column(),
        }
    }
}

/// Reads a text that holds one value and nothing else.
///
/// # Errors
/// When it is no JSON, when it is not of the form of `T`, and when lists and objects in it lie more than
/// 127 deep.
pub fn from_json<T: DeserializeOwned>(text: &str) -> Result<T, Unreadable> {
    read(&tree(text, Rest::Nothing)?)
}

/// Reads the value that a text begins with, whatever comes after it.
///
/// # Errors
/// See [`from_json`].
pub fn from_beginning<T: DeserializeOwned>(text: &str) -> Result<T, Unreadable> {
    read(&tree(text, Rest::Anything)?)
}

fn read<T: DeserializeOwned>(json: &Json) -> Result<T, Unreadable> {
    T::deserialize(Value(json)).map_err(|_| Unreadable::OtherForm)
}

/// What may come after a value.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Rest {
    Nothing,
    Anything,
}

/// The one place where a text is read, whatever is read from it.
#[inline(never)]
fn tree(text: &str, rest: Rest) -> Result<Json, Unreadable> {
    let mut reader = serde_json::Deserializer::from_str(text);
    let json = Json::deserialize(&mut reader)?;
    if rest == Rest::Nothing {
        reader.end()?;
    }
    Ok(json)
}
