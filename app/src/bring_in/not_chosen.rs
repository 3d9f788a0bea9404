//! Pairs that went another way on another device and were not chosen: the way into the basket, and the way to let
//! them go. Loaded only where there are some.
//!
//! May use the store and the parts; must not know any screen.

// The attribute that marks where to split writes foreign functions, which the tool puts in; what it
// marks has to have a result.
#![allow(unsafe_code, clippy::unnecessary_wraps)]

use leptos::prelude::*;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use crate::pair_place;
use crate::parts::plain::{button, group, paragraph};
use crate::parts::{Folded, ShownText, later};
use crate::store::{self, NotChosen, OtherWindows, PairId, StoreError};
use crate::text;

/// The fold with all of them; nothing where there are none.
#[component]
pub fn NotChosenPairs() -> impl IntoView {
    let any = RwSignal::new(false);
    let said = RwSignal::new(None::<&'static str>);
    let follow = use_context::<OtherWindows>();
    Effect::new(move || {
        if let Some(follow) = follow {
            follow.follow();
        }
        any.set(store::here().any_not_chosen().unwrap_or(false));
    });
    let inside = move || {
        later(
            || Box::pin(load_pairs()),
            move || Box::pin(pairs(any, said)),
        )
    };
    view! {
        <Show when=move || any.get()>
            <Folded
                class="more not-chosen"
                summary=text::bring_in::NOT_CHOSEN.into_any()
                inside=Box::new(inside)
            />
        </Show>
        <div aria-live="polite">
            {move || said.get().map(|line| paragraph("soft small", line))}
        </div>
    }
    .into_any()
}

#[wasm_split(pairs, wasm_split_path = ::leptos::wasm_split, preload(load_pairs), fallible)]
fn pairs(
    any: RwSignal<bool>,
    said: RwSignal<Option<&'static str>>,
) -> Result<AnyView, SplitLoaderError> {
    let all = RwSignal::new(store::here().not_chosen().unwrap_or_default());
    let follow = use_context::<OtherWindows>();
    let done = Callback::new(
        move |(result, well): (Result<(), StoreError>, &'static str)| {
            said.set(Some(match result {
                // Another window was quicker.
                Ok(()) | Err(StoreError::NotThere) => well,
                Err(StoreError::Full) => text::bring_in::NO_ROOM,
                Err(_) => text::bring_in::NOT_DONE,
            }));
            all.set(store::here().not_chosen().unwrap_or_default());
            any.set(store::here().any_not_chosen().unwrap_or(false));
            if let Some(follow) = follow {
                follow.touch();
            }
        },
    );
    let list = move || {
        let pairs = all.get().into_iter();
        pairs.map(|pair| one(pair, done)).collect_view()
    };
    Ok(view! {
        {paragraph("", text::bring_in::NOT_CHOSEN_TEXT)}
        <ul class="aside">{list}</ul>
    }
    .into_any())
}

/// A pair that was not chosen, with what can be done with it.
fn one(pair: NotChosen, done: Callback<(Result<(), StoreError>, &'static str)>) -> AnyView {
    let NotChosen {
        id, name, progress, ..
    } = pair;
    let place = ShownText::from(move |wording| pair_place::words(&progress, wording));
    view! {
        <li>
            <strong>{name}</strong>
            {paragraph("soft small", place)}
            {buttons(id, done)}
        </li>
    }
    .into_any()
}

fn buttons(id: PairId, done: Callback<(Result<(), StoreError>, &'static str)>) -> AnyView {
    let id = StoredValue::new(id);
    let asked = RwSignal::new(false);
    let put = Callback::new(move |()| {
        let put = id.with_value(|id| store::here().put_in_basket(id));
        done.run((put, text::bring_in::IN_BASKET));
    });
    let ask = move |sure: bool| Callback::new(move |()| asked.set(sure));
    let let_go = Callback::new(move |()| {
        let gone = id.with_value(|id| store::here().let_not_chosen_go(id));
        done.run((gone, text::bring_in::GONE));
    });
    let shown = move || {
        if asked.get() {
            let yes = button("button wrong", text::bring_in::LET_GO_YES, None, let_go);
            let no = button("button", text::bring_in::LET_GO_NO, None, ask(false));
            vec![
                paragraph("", text::bring_in::LET_GO_SURE),
                group("buttons", vec![no, yes]),
            ]
        } else {
            let put = button("button put-in", text::bring_in::PUT_IN_BASKET, None, put);
            let go = button("button bare", text::bring_in::LET_GO, None, ask(true));
            vec![group("buttons", vec![put, go])]
        }
    };
    shown.into_any()
}
