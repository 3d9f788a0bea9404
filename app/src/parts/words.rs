//! The search for words in finished sentences that [`super::wording`] takes the place of, until its
//! last caller is gone.

use std::borrow::Cow;

use evenloop_engine::text::Wording;
use leptos::prelude::*;

use super::reword::{in_unit, say};
use super::wording::use_wording;

/// A text in a wording.
fn reword(text: &str, wording: Wording) -> String {
    let text = in_unit(text, wording.unit);
    say(wording.english, &text).into_owned()
}

/// Whose words and which unit, for all below the place where it was provided.
#[derive(Debug, Clone, Copy)]
pub struct Words(Signal<Wording>);

impl Words {
    /// Those that hold here; as everything is written where nobody has chosen.
    pub fn here() -> Self {
        Self(use_wording())
    }

    /// A text in these words; follows them inside an effect or a view.
    pub fn say(self, text: &str) -> String {
        reword(text, self.0.get())
    }
}

/// A text in the words that hold here.
pub(super) fn reworded(text: Cow<'static, str>) -> Signal<String> {
    let words = Words::here();
    Signal::derive(move || words.say(&text))
}
