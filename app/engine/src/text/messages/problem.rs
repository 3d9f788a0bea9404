//! A problem as it is shown.

/// What is wrong with a field, and what helps.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct ProblemText {
    /// What is wrong, with the value seen and what is possible.
    pub message: String,
    /// What the knitter can do about it; may be empty.
    pub help: String,
}
