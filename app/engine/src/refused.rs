//! Refused fields as they are sent. Apart from [`crate::wire`], which knows no sentences.

use std::borrow::Cow;

use serde::Serialize;

use crate::error::FieldError;
use crate::text::{self, ProblemText, Wording};

/// A refused field as it is sent: the sentences for people, in English with lengths in cm; code and
/// arguments ([`crate::error::Problem`]) for programs.
#[derive(Debug, Clone, Serialize)]
pub struct RefusedField {
    field: Cow<'static, str>,
    code: &'static str,
    arguments: serde_json::Value,
    message: String,
    help: String,
}

/// A field's problem in the form in which it is sent.
pub fn refused_field(error: &FieldError) -> RefusedField {
    let ProblemText { message, help } = text::problem(&error.problem, Wording::default());
    RefusedField {
        field: error.field.clone(),
        code: error.problem.code(),
        arguments: error.problem.arguments(),
        message,
        help,
    }
}
