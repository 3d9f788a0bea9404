//! Map: the whole sock, drawn to scale and filled as far as it is knitted, and its sections with
//! their rounds. Nothing counts in here; choosing a round only asks.
//!
//! May use the store, the parts and what Now shares; must not know how a round is worked.

mod course;
mod drawing;
mod sections;
mod view;
mod wool;

use leptos::prelude::*;

use self::sections::Sections;
use self::view::SockDrawing;
use super::now::session::Session;
use super::now::{self, Hand, Without};
use crate::base::to;
use crate::parts::plain::{link, paragraph};
use crate::parts::{Notice, PageHead};
use crate::routes::Screen;
use crate::text;

/// The screen.
#[component]
pub fn MapScreen() -> impl IntoView {
    let hand = now::hand();
    move || match hand.get() {
        Hand::Holds(session) => view! { <Whole session /> }.into_any(),
        other => view! { <Without hand=other title=Screen::Map.name() /> }.into_any(),
    }
}

#[component]
fn Whole(session: Session) -> impl IntoView {
    let name = session.with(|pair| pair.head.name.clone());
    let opened = RwSignal::new(None::<usize>);
    let moved = RwSignal::new(false);
    let undo = move |_| {
        session.undo();
        moved.set(false);
    };
    view! {
        <div class="screen map">
            <PageHead title=Screen::Map.name() />
            <p class="whose">
                <span class="name">{name}</span>
                <span class="sock">{move || now::whose(session)}</span>
            </p>
            {move || {
                moved
                    .get()
                    .then(|| {
                        view! {
                            <Notice>
                                <p>{text::map::MOVED}</p>
                                <div class="buttons">
                                    <button type="button" class="button" on:click=undo>
                                        {text::map::UNDO}
                                    </button>
                                    {link("button", to(Screen::Now.path()), text::map::TO_NOW)}
                                </div>
                            </Notice>
                        }
                    })
            }}
            <SockDrawing session on_touch=Callback::new(move |section| opened.set(Some(section))) />
            {session
                .with(|pair| pair.plan.recipe.swatch.needle)
                .map(|needle| paragraph("soft small", text::now::needles(needle)))}
            {course::time(session)}
            <Sections session opened on_jump=Callback::new(move |()| moved.set(true)) />
            {course::otherwise(session)}
        </div>
    }
    .into_any()
}
