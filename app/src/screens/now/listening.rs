//! Spoken words in the place of touches, on request, and how the listening goes.

use leptos::prelude::*;

use super::announce::{Announced, announce};
use super::touches::Touches;
use crate::hands::{self, Act, Contact, Listening, Spoken};
use crate::in_hand::Session;
use crate::parts::{Notice, Tone};
use crate::preferences::use_preferences;
use crate::text;

/// Says that the page listens, or why it does not.
#[component]
pub(super) fn Listens(session: Session, touches: Touches, said: RwSignal<String>) -> impl IntoView {
    let preferences = use_preferences();
    let state = RwSignal::new(None::<Listening>);
    let heard = move |spoken| match spoken {
        Spoken::Done => touches.act.run((Act::Done, now())),
        Spoken::Undo => touches.act.run((Act::Undo, now())),
        Spoken::Where => announce(session, said, Announced::Asked, preferences.get_untracked()),
    };
    let language = preferences.get_untracked().style.english.tag();
    Effect::new(move || hands::hear(language, heard, move |now| state.set(now)));
    move || {
        let why = match state.get()? {
            Listening::OnDevice | Listening::Away => {
                return Some(view! { <p class="listening">{text::now::LISTENING}</p> }.into_any());
            }
            Listening::Refused => text::now::LISTENING_REFUSED,
            Listening::Silent => text::now::LISTENING_SILENT,
        };
        Some(
            view! {
                <Notice tone=Tone::Mind>
                    <p>{why}</p>
                </Notice>
            }
            .into_any(),
        )
    }
}

/// A touch at this moment.
fn now() -> Contact {
    let time = window().performance().map_or(0.0, |clock| clock.now());
    Contact::at_once(time)
}
