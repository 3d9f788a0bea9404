//! Spoken words in the place of touches, on request, and how the listening goes. Why it does not is said with the
//! other notes.

use leptos::prelude::*;

use super::announce::{Announced, announce};
use super::touches::Touches;
use crate::hands::{self, Act, Contact, Listening, Spoken};
use crate::in_hand::Session;
use crate::preferences::use_preferences;
use crate::text;

/// Listens, and says that it does.
#[component]
pub(super) fn Listens(
    session: Session,
    touches: Touches,
    said: RwSignal<String>,
    /// How the listening goes.
    state: RwSignal<Option<Listening>>,
) -> impl IntoView {
    let preferences = use_preferences();
    let heard = move |spoken| match spoken {
        Spoken::Done => touches.act.run((Act::Done, now())),
        Spoken::Undo => touches.act.run((Act::Undo, now())),
        Spoken::Where => announce(session, said, Announced::Asked, preferences.get_untracked()),
    };
    let language = preferences.get_untracked().style.english.tag();
    Effect::new(move || hands::hear(language, heard, move |now| state.set(now)));
    // The whole screen may be left.
    on_cleanup(move || {
        state.try_set(None);
    });
    move || {
        matches!(state.get(), Some(Listening::OnDevice | Listening::Away))
            .then(|| view! { <p class="listening">{text::now::LISTENING}</p> }.into_any())
    }
}

/// Why the page does not listen, where it should.
pub(super) const fn not_heard(state: Listening) -> Option<&'static str> {
    match state {
        Listening::OnDevice | Listening::Away => None,
        Listening::Refused => Some(text::now::LISTENING_REFUSED),
        Listening::Silent => Some(text::now::LISTENING_SILENT),
    }
}

/// A touch at this moment.
fn now() -> Contact {
    let time = window().performance().map_or(0.0, |clock| clock.now());
    Contact::at_once(time)
}
