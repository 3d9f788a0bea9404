//! The search for words in finished sentences that [`super::wording`] takes the place of, until its
//! last caller is gone.

use evenloop_engine::text::Wording;
use evenloop_engine::words::in_unit;

/// A text in a wording.
pub fn reword(text: &str, wording: Wording) -> String {
    let text = in_unit(text, wording.unit);
    wording.english.say(&text).into_owned()
}
