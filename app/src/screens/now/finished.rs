//! A sock is off the needles.

use evenloop_engine::together::Sock;
use leptos::prelude::*;

use super::pad::UndoButton;
use super::touches::Touches;
use crate::base::to;
use crate::fabric::{Detail, Drawing, FabricPicture};
use crate::in_hand::Session;
use crate::parts::FabricFigure;
use crate::parts::plain::link;
use crate::preferences::use_preferences;
use crate::routes::Screen;
use crate::text;

#[component]
pub(super) fn Finished(session: Session, touches: Touches) -> impl IntoView {
    let first = move || session.sock() == Sock::First;
    let preferences = use_preferences();
    let picture = Signal::derive(move || {
        session.sock();
        let drawing = Drawing {
            detail: Detail::Legs,
            hues: preferences.get().hues,
            at: None,
            mirrored: false,
            name: "finished",
        };
        session.with(|pair| FabricPicture::of(pair.plan, pair.trace, &drawing))
    });
    view! {
        <div class="finished">
            <div class="sheet">
                <FabricFigure class="of-finished" picture />
                <h1>{move || text::now::finished(session.sock())}</h1>
                <p>{move || if first() { text::now::FIRST_DONE_TEXT } else { text::now::PAIR_DONE_TEXT }}</p>
                <Show when=first>
                    <button
                        type="button"
                        class="button lead"
                        on:click=move |_| session.second_sock()
                    >
                        {text::now::SECOND}
                    </button>
                </Show>
                {link("button", to(Screen::Map.path()), text::now::TO_MAP)}
            </div>
            <div class="small-buttons">
                <UndoButton session touches />
            </div>
        </div>
    }
    .into_any()
}
