//! A pattern of the knitter's own: pasted, typed or brought as a file, knitted through at every pause, and
//! cast on. The text never leaves the phone.
//!
//! May use the engine with its reader of patterns, the store and the parts; does no sock arithmetic. The one
//! screen that carries the reader.

mod arrival;
mod at_hand;
mod begun;
mod cast_on;
mod change;
mod completion_row;
mod desk;
mod fits;
mod form;
mod found;
mod marked;
mod needles;
mod numbers;
mod outcome;
mod parts_of_sock;
mod step;
mod text_step;

use leptos::prelude::*;
use leptos_router::hooks::use_query_map;

use self::arrival::Arrival;
use self::cast_on::AtHand;
use self::change::ChangeNeedles;
use self::desk::Desk;
use self::fits::FitsStep;
use self::found::FoundStep;
use self::needles::NeedlesStep;
use self::numbers::NumbersStep;
use self::outcome::OutcomePanel;
use self::parts_of_sock::PartsStep;
use self::text_step::TextStep;
use crate::parts::{Notice, PageHead, Tone, pair_name};
use crate::routes::{self, Screen};
use crate::store::{self, NAME_LIMIT};
use crate::text;
use crate::text::measure;

/// The screen.
#[component]
pub fn PatternScreen() -> impl IntoView {
    // Read once: a change of the address within the screen is another visit.
    let change = use_query_map().with_untracked(|query| query.get(routes::CHANGE));
    match change {
        Some(id) => view! { <ChangeNeedles id /> }.into_any(),
        None => view! { <NewPattern /> }.into_any(),
    }
}

/// For a new pair.
#[component]
fn NewPattern() -> impl IntoView {
    let desk = Desk::new();
    let lasts = RwSignal::new(true);
    Effect::new(move || lasts.set(store::lasts()));
    view! {
        <div class="screen measure pattern-screen">
            <PageHead title=Screen::Pattern.name() lead=text::pattern::LEAD />
            <Show when=move || !lasts.get()>
                <Notice tone=Tone::Mind>
                    <p>{measure::WILL_NOT_LAST}</p>
                </Notice>
            </Show>
            <Arrival desk />
            <form
                class="form"
                novalidate
                autocomplete="off"
                on:submit=move |event| event.prevent_default()
            >
                <TextStep desk />
                <FoundStep desk />
                <PartsStep desk />
                <NeedlesStep desk />
                <NumbersStep desk />
                <FitsStep desk />
                <NameStep desk />
            </form>
            <div class="beside">
                <OutcomePanel desk />
                <AtHand desk />
            </div>
        </div>
    }
    .into_any()
}

/// What the pair is called.
#[component]
fn NameStep(desk: Desk) -> impl IntoView {
    view! {
        <section class="step">
            {pair_name(
                u16::try_from(NAME_LIMIT).unwrap_or(u16::MAX),
                Signal::derive(move || desk.form.read().name.clone()),
                Callback::new(move |name| desk.change(|form| form.name = name)),
            )}
        </section>
    }
    .into_any()
}
