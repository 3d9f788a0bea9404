//! What is wrong with the form: what the engine finds in it, and lines that cannot be read. Data until
//! it is shown.

use evenloop_engine::error::{FieldError, Problem};
use evenloop_engine::recipe::{NumberField, Unit};
use evenloop_engine::text::{self, ProblemText, Typed, Wording};
use evenloop_engine::units::NotALength;

use super::fields::{Field, line};
use crate::text::{Sentence, measure};

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Wrong {
    /// Where in the form, if it stands there.
    pub(super) field: Option<Field>,
    what: What,
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum What {
    /// Found by the engine.
    Found(Problem),
    /// A line may not stay empty.
    Empty(NumberField),
    /// A line cannot be read: what was typed, and what is expected.
    Unread(Typed, Expected),
}

/// What is expected of a line that cannot be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Expected {
    /// A length.
    Length(NotALength),
    /// A whole number.
    Whole(Unit),
    /// A smaller number.
    Smaller,
}

impl Wrong {
    /// A line that may not stay empty.
    pub(super) const fn empty(field: NumberField) -> Self {
        Self {
            field: Some(Field::Number(field)),
            what: What::Empty(field),
        }
    }

    /// A line that cannot be read.
    pub(super) fn unread(field: NumberField, typed: &str, expected: Expected) -> Self {
        // Whatever was pasted in, the sentence stays a sentence.
        let short: String = typed.trim().chars().take(20).collect();
        Self {
            field: Some(Field::Number(field)),
            what: What::Unread(Typed::new(short), expected),
        }
    }

    /// What is said about it.
    pub(super) fn text(&self, wording: Wording) -> ProblemText {
        match &self.what {
            What::Found(problem) => text::problem(problem, wording),
            What::Empty(field) => {
                let help = line(*field).map_or(Sentence::Fixed(""), |line| line.text.empty);
                measure::empty(help, wording)
            }
            What::Unread(typed, expected) => {
                let expected = match expected {
                    Expected::Length(why) => text::length_expected(*why).to_owned(),
                    Expected::Whole(unit) => measure::whole_number(*unit, wording),
                    Expected::Smaller => measure::SMALLER.to_owned(),
                };
                measure::unreadable(typed, &expected)
            }
        }
    }
}

impl From<FieldError> for Wrong {
    fn from(error: FieldError) -> Self {
        Self {
            field: Field::at(&error.field),
            what: What::Found(error.problem),
        }
    }
}

/// All that the engine finds wrong.
pub(super) fn found(errors: Vec<FieldError>) -> Vec<Wrong> {
    errors.into_iter().map(Wrong::from).collect()
}
