//! Texts in the knitter's words and unit. A text is written once, with lengths as the engine writes
//! them into sentences; here it becomes what this knitter reads, and follows when that changes.

use std::borrow::Cow;

use evenloop_engine::text::English;
use evenloop_engine::units::LengthUnit;
use leptos::prelude::*;

use super::reword::{in_unit, say};

/// Whose words and which unit, for all below the place where it was provided.
#[derive(Debug, Clone, Copy)]
pub struct Words(Signal<(English, LengthUnit)>);

impl Words {
    /// Gives all pieces below this place their words.
    pub fn provide(chosen: impl Fn() -> (English, LengthUnit) + Send + Sync + 'static) {
        provide_context(Self(Signal::derive(chosen)));
    }

    /// Those that hold here; as everything is written where nobody has chosen.
    pub fn here() -> Self {
        use_context().unwrap_or(Self(Signal::stored(Default::default())))
    }

    /// A text in these words; follows them inside an effect or a view.
    pub fn say(self, text: &str) -> String {
        let (english, unit) = self.0.get();
        say(english, &in_unit(text, unit)).into_owned()
    }
}

/// A text in the words that hold here.
pub fn said(text: impl Into<Cow<'static, str>>) -> Signal<String> {
    let (words, text) = (Words::here(), text.into());
    Signal::derive(move || words.say(&text))
}
