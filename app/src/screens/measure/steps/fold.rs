//! A step that is folded away until it is wanted. What is in it is made when it is first unfolded.

use evenloop_engine::text::Wording;
use leptos::prelude::*;

use crate::parts::{Folded, ShownText};
use crate::screens::measure::desk::Desk;
use crate::screens::measure::form::MeasureForm;
use crate::screens::measure::form::MeasureStep;
use crate::text::measure as text;

/// The step; folded, it says what it holds.
#[component]
pub(super) fn Fold(
    desk: Desk,
    step: MeasureStep,
    title: &'static str,
    #[prop(optional, into)] lead: ShownText,
    /// What it holds, in a few words.
    now: fn(&MeasureForm, Wording) -> String,
    /// Makes what is in it.
    body: fn(Desk) -> AnyView,
) -> impl IntoView {
    let wrong = Memo::new(move |_| desk.said_in(step));
    let now = Memo::new(move |_| {
        let wording = desk.wording();
        desk.form.with(|form| now(form, wording))
    });
    let line = move || match wrong.get() {
        0 => now.get(),
        count => text::to_mend(count),
    };
    let opened = RwSignal::new(false);
    Effect::new(move || {
        if desk
            .sought
            .get()
            .is_some_and(|field| field.step() == Some(step))
        {
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
                {(!lead.is_empty()).then(|| view! { <p class="soft">{lead.clone().shown()}</p> })}
                {body(desk)}
            </div>
        }
        .into_any()
    };
    view! { <Folded class="step fold" summary=summary.into_any() inside=Box::new(inside) opened /> }
}
