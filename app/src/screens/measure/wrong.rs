//! What is wrong with the form: what the engine finds in it, and lines that cannot be read.

use std::borrow::Cow;

use evenloop_engine::error::{FieldError, Problem};
use evenloop_engine::text::{self, ProblemText, Wording};

/// One thing wrong with one line or choice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Wrong {
    /// Dotted path of the field in the recipe.
    pub(super) field: Cow<'static, str>,
    what: What,
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum What {
    /// Found by the engine.
    Found(Problem),
    /// A line could not be read.
    Unread(ProblemText),
}

impl Wrong {
    /// A line that cannot be read.
    pub(super) fn unread(
        field: impl Into<Cow<'static, str>>,
        (message, help): (String, String),
    ) -> Self {
        Self {
            field: field.into(),
            what: What::Unread(ProblemText { message, help }),
        }
    }

    /// What is said about it.
    pub(super) fn text(&self, wording: Wording) -> ProblemText {
        match &self.what {
            What::Found(problem) => text::problem(problem, wording),
            What::Unread(text) => text.clone(),
        }
    }
}

impl From<FieldError> for Wrong {
    fn from(error: FieldError) -> Self {
        Self {
            field: error.field,
            what: What::Found(error.problem),
        }
    }
}

/// All that the engine finds wrong.
pub(super) fn found(errors: Vec<FieldError>) -> Vec<Wrong> {
    errors.into_iter().map(Wrong::from).collect()
}
