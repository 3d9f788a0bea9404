//! What is wrong with a recipe, as data: the field, and a [`Problem`] with its arguments.
//!
//! Used by everything that checks what a person typed. Knows the numbers of a recipe, lengths and gauges;
//! must not know a sentence: [`crate::text::problem`] says a problem in a language, [`crate::refused`]
//! sends it.

mod code;
mod document;
mod problem;

use std::borrow::Cow;

pub use document::{Found, Wanted};
pub use problem::{Problem, SwatchCount};

/// One thing wrong with one field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FieldError {
    /// Dotted path of the field in the recipe, such as `foot.length`.
    pub field: Cow<'static, str>,
    /// What is wrong with it.
    pub problem: Problem,
}

impl FieldError {
    /// A problem of `field`.
    pub fn new(field: impl Into<Cow<'static, str>>, problem: Problem) -> Self {
        Self {
            field: field.into(),
            problem,
        }
    }
}
