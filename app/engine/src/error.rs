//! What is wrong with which field, kindly. Used by everything that checks what a person typed.

use serde::{Deserialize, Serialize};

use crate::told::shown;
use crate::units::LengthUnit;

/// One thing wrong with one field: its name, what range is possible, and what would help.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct FieldError {
    /// Dotted path of the field in the recipe, such as `foot.length`.
    pub field: String,
    /// What is wrong, with the value seen and the range that is possible. Lengths are in cm.
    pub message: String,
    /// What the knitter can do about it; may be empty. Lengths are in cm.
    pub help: String,
    /// Both as they were written, where there are lengths in them.
    #[serde(skip)]
    told: Option<Box<[String; 2]>>,
}

impl FieldError {
    /// An error on `field`, saying `message`, with the remedy `help`. Lengths in them may be written
    /// as [`crate::told`] has it.
    pub fn new(
        field: impl Into<String>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        let told = [message.into(), help.into()];
        let [message, help] = told.each_ref().map(|one| shown(one, LengthUnit::Cm));
        let (message, help) = (message.into_owned(), help.into_owned());
        Self {
            field: field.into(),
            told: (told != [message.as_str(), help.as_str()]).then(|| Box::new(told)),
            message,
            help,
        }
    }

    /// The same with its lengths in a unit. An error that has travelled as JSON stays in cm.
    #[must_use]
    pub fn in_unit(mut self, unit: LengthUnit) -> Self {
        if let Some(told) = &self.told {
            let [message, help] = told.each_ref().map(|one| shown(one, unit).into_owned());
            (self.message, self.help) = (message, help);
        }
        self
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
