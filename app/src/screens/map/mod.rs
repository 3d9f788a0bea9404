//! Map: the whole sock, drawn to scale and filled as far as it is knitted, and its sections with
//! their rounds. Nothing counts in here; choosing a round only asks.
//!
//! May use the pair in hand and the parts; must not know how a round is worked, nor any other screen.

mod course;
mod sections;
mod view;

use leptos::prelude::*;

use self::sections::Sections;
use self::view::SockDrawing;
use crate::base::to;
use crate::in_hand::{PairInHand, Session, WithoutPair, use_pair_in_hand, whose_sock};
use crate::parts::plain::{link, paragraph};
use crate::parts::{Notice, PageHead};
use crate::routes::Screen;
use crate::text;

/// The screen.
#[component]
pub fn MapScreen() -> impl IntoView {
    let pair = use_pair_in_hand();
    move || match pair.get() {
        PairInHand::Open(session) => view! { <Whole session /> }.into_any(),
        other => view! { <WithoutPair pair=other title=Screen::Map.name() /> }.into_any(),
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
                <span class="sock">{move || whose_sock(session)}</span>
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
