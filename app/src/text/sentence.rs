//! The shapes in which a language gives its sentences.

use evenloop_engine::text::Wording;

/// A sentence, or a word: always the same, or made for how its reader wants things said.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Sentence {
    /// Whoever reads it.
    Fixed(&'static str),
    /// With words that differ, or with lengths.
    Worded(fn(Wording) -> String),
}

impl Sentence {
    /// The sentence as this knitter reads it.
    pub(crate) fn say(self, wording: Wording) -> String {
        match self {
            Self::Fixed(text) => text.to_owned(),
            Self::Worded(text) => text(wording),
        }
    }
}

/// One of several things to choose from: its name and a sentence about it, empty where the name
/// says it all.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Named {
    /// Its name.
    pub(crate) name: &'static str,
    /// What it means.
    pub(crate) note: &'static str,
}

/// What is said of a line that takes a number.
#[derive(Debug, Clone, Copy)]
pub(crate) struct NumberText {
    /// What stands before it.
    pub(crate) label: Sentence,
    /// What it asks for; may be empty.
    pub(crate) asks: Sentence,
    /// What helps where it is empty and should not be; may be empty.
    pub(crate) empty: Sentence,
}
