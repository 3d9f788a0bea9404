//! What is wrong with which field, kindly. Used by everything that checks what a person typed.

use serde::{Deserialize, Serialize};

/// One thing wrong with one field: its name, what range is possible, and what would help.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct FieldError {
    /// Dotted path of the field in the recipe, such as `foot.length`.
    pub field: String,
    /// What is wrong, with the value seen and the range that is possible.
    pub message: String,
    /// What the knitter can do about it; may be empty.
    pub help: String,
}

impl FieldError {
    /// An error on `field`, saying `message`, with the remedy `help`.
    pub fn new(
        field: impl Into<String>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        Self {
            field: field.into(),
            message: message.into(),
            help: help.into(),
        }
    }
}

impl std::fmt::Display for FieldError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.field, self.message)?;
        if self.help.is_empty() {
            Ok(())
        } else {
            write!(f, " {}", self.help)
        }
    }
}

impl std::error::Error for FieldError {}
