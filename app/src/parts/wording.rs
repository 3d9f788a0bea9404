//! The wording that holds where something is shown: whose words, in which unit, long or short. What is
//! said differently in one than in another is a function of it, called where it is shown and again
//! whenever the knitter chooses otherwise. What is the same in all of them, and what the knitter
//! typed, is shown as it is.

use std::borrow::Cow;

use evenloop_engine::error::Problem;
use evenloop_engine::text::{self, ProblemText, Typed, Wording};
use leptos::prelude::*;

use crate::text::Sentence;

/// The wording of all pieces below the place where it was provided.
#[derive(Clone, Copy)]
struct Provided(Signal<Wording>);

/// Gives all pieces below this place their wording.
pub fn provide_wording(chosen: impl Fn() -> Wording + Send + Sync + 'static) {
    provide_context(Provided(Signal::derive(chosen)));
}

/// The wording that holds here; the usual one where none was chosen.
pub fn use_wording() -> Signal<Wording> {
    use_context().map_or_else(
        || Signal::stored(Wording::default()),
        |Provided(wording)| wording,
    )
}

/// A text to be shown.
#[derive(Debug, Clone)]
pub enum ShownText {
    /// The same in every wording.
    Same(Cow<'static, str>),
    /// Follows the wording, or whatever else it is made of.
    Follows(Signal<String>),
}

impl ShownText {
    /// Whether there is nothing to be shown, now and ever.
    pub fn is_empty(&self) -> bool {
        matches!(self, Self::Same(text) if text.is_empty())
    }

    /// The text on the page.
    pub fn shown(self) -> AnyView {
        match self {
            Self::Same(Cow::Borrowed(text)) => text.into_any(),
            Self::Same(Cow::Owned(text)) => text.into_any(),
            Self::Follows(text) => text.into_any(),
        }
    }
}

impl Default for ShownText {
    fn default() -> Self {
        Self::Same(Cow::Borrowed(""))
    }
}

impl From<&'static str> for ShownText {
    fn from(text: &'static str) -> Self {
        Self::Same(Cow::Borrowed(text))
    }
}

impl From<String> for ShownText {
    fn from(text: String) -> Self {
        Self::Same(Cow::Owned(text))
    }
}

impl From<Typed> for ShownText {
    fn from(text: Typed) -> Self {
        Self::Same(Cow::Owned(text.as_str().to_owned()))
    }
}

impl From<Sentence> for ShownText {
    fn from(sentence: Sentence) -> Self {
        match sentence {
            Sentence::Fixed(text) => text.into(),
            Sentence::Worded(render) => render.into(),
        }
    }
}

impl From<Signal<String>> for ShownText {
    fn from(text: Signal<String>) -> Self {
        Self::Follows(text)
    }
}

impl<F> From<F> for ShownText
where
    F: Fn(Wording) -> String + Send + Sync + 'static,
{
    fn from(render: F) -> Self {
        Self::Follows(rendered(Box::new(render)))
    }
}

/// A sentence in the wording that holds here, followed.
pub fn said(text: impl Into<ShownText>) -> Signal<String> {
    match text.into() {
        ShownText::Same(text) => Signal::stored(text.into_owned()),
        ShownText::Follows(text) => text,
    }
}

fn rendered(render: Box<dyn Fn(Wording) -> String + Send + Sync>) -> Signal<String> {
    let wording = use_wording();
    Signal::derive(move || render(wording.get()))
}

/// What is wrong, and what would help, in one paragraph.
pub fn problem(wrong: &Problem, wording: Wording) -> String {
    let ProblemText { message, help } = text::problem(wrong, wording);
    format!("{message} {help}")
}
