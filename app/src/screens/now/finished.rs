//! A sock is off the needles.

use std::sync::Arc;

use evenloop_engine::together::Sock;
use leptos::prelude::*;
use leptos::task::spawn_local;

use super::came_to::came_to;
use super::pad::UndoButton;
use super::touches::Touches;
use crate::base::to;
use crate::fabric::FabricPicture;
use crate::in_hand::Session;
use crate::lazy_pictures;
use crate::parts::FabricFigure;
use crate::parts::plain::link;
use crate::preferences::use_preferences;
use crate::routes::Screen;
use crate::text;

/// The sock that is shown, drawn when what draws it has come; nothing while it is not asked for.
pub(super) fn picture_of_sock(
    session: Session,
    asked: Signal<bool>,
) -> Signal<Option<FabricPicture>> {
    let preferences = use_preferences();
    let picture = RwSignal::new(None);
    Effect::new(move || {
        session.sock();
        let hues = preferences.get().hues;
        if !asked.get() {
            return picture.set(None);
        }
        let plan = session.with(|pair| Arc::new(pair.plan.clone()));
        spawn_local(async move {
            let drawn = lazy_pictures::of_plan(plan, hues).await.ok();
            // The screen may have been left meanwhile, or the last move taken back.
            if asked.try_get_untracked() == Some(true) {
                picture.try_set(drawn);
            }
        });
    });
    picture.into()
}

#[component]
pub(super) fn Finished(session: Session, touches: Touches) -> impl IntoView {
    let first = move || session.sock() == Sock::First;
    let picture = picture_of_sock(session, Signal::stored(true));
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
                {came_to(session)}
                {link("button", to(Screen::Map.path()), text::now::TO_MAP)}
            </div>
            <div class="small-buttons">
                <UndoButton session touches />
            </div>
        </div>
    }
    .into_any()
}
