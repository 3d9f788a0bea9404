//! A step that is folded away until it is wanted. What is in it is made when it is first unfolded.

use leptos::prelude::*;

use crate::parts::{Folded, Words, said};
use crate::screens::measure::entry::Spot;
use crate::screens::measure::form::Form;
use crate::screens::measure::{Desk, copy};

/// The step; folded, it says what it holds.
#[component]
pub(super) fn Fold(
    desk: Desk,
    title: &'static str,
    #[prop(optional)] lead: &'static str,
    /// Whether a spot lies in it.
    holds: fn(Spot) -> bool,
    /// What it holds, in a few words.
    now: fn(&Form) -> String,
    /// Makes what is in it.
    body: fn(Desk) -> AnyView,
) -> impl IntoView {
    let wrong = Memo::new(move |_| desk.said_at(holds));
    let now = Memo::new(move |_| desk.form.with(now));
    let words = Words::here();
    let line = move || match wrong.get() {
        0 => words.say(&now.read()),
        count => copy::to_mend(count),
    };
    let opened = RwSignal::new(false);
    Effect::new(move || {
        if desk.sought.get().is_some_and(holds) {
            opened.set(true);
        }
    });
    let summary = view! {
        <h2>{title}</h2>
        <span class="held" class:wrong=move || wrong.get() != 0>
            {line}
        </span>
    };
    let inside = move || {
        view! {
            <div class="unfolded">
                {(!lead.is_empty()).then(|| view! { <p class="soft">{said(lead)}</p> })}
                {body(desk)}
            </div>
        }
        .into_any()
    };
    view! { <Folded class="step fold" summary=summary.into_any() inside=Box::new(inside) opened /> }
}
