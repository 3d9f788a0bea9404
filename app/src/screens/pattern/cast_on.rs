//! Always at hand: what the pattern comes to in one line, and the button that begins the pair.

use evenloop_engine::wire;
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::NavigateOptions;

use super::at_hand::at_hand;
use super::desk::Desk;
use super::form::PatternForm;
use super::text_step::TEXT;
use crate::base::use_go;
use crate::routes::Screen;
use crate::store::{self, StoreError};
use crate::text::{measure, pattern as text};

#[component]
pub(super) fn AtHand(desk: Desk) -> impl IntoView {
    let failed = RwSignal::new(None::<&'static str>);
    let go = use_go();
    let cast_on = move |_| {
        // What was typed a moment ago counts.
        desk.look();
        failed.set(None);
        let checked = desk.checked.get_untracked();
        let Some(checked) = checked else {
            return focus(TEXT);
        };
        let Ok(plan) = &checked.plan else {
            return focus("plan");
        };
        let name = desk.form.with_untracked(|form| form.name.clone());
        match store::here().create(&name, &wire::write_plan(plan), None, store::now()) {
            Ok(_) => {
                // Whatever the browser answers, the pair is cast on; Settings looks the answer up.
                spawn_local(async {
                    store::ask_to_stay().await;
                });
                // The text stands with its pair: the screen is for another one.
                let unit = desk.form.with_untracked(|form| form.unit);
                desk.change(|form| *form = PatternForm::in_unit(unit));
                desk.look();
                go(Screen::Now.path(), NavigateOptions::default());
            }
            Err(StoreError::Full) => failed.set(Some(measure::FULL)),
            Err(_) => failed.set(Some(measure::REFUSED)),
        }
    };
    let line = move || match &*desk.checked.read() {
        None => view! { <strong>{text::PASTE_FIRST}</strong> }.into_any(),
        Some(checked) => match &checked.plan {
            Ok(plan) => {
                let found = checked.findings.len();
                view! {
                    <strong>{measure::stitches(plan.outcome.stitches)}</strong>
                    <span>{(found > 0).then(|| text::found(found))}</span>
                }
                .into_any()
            }
            Err(_) => view! { <strong>{measure::NO_PLAN}</strong> }.into_any(),
        },
    };
    // Touched nevertheless, it leads to what is missing.
    let cannot = move || {
        let can = desk
            .checked
            .with(|checked| checked.as_ref().is_some_and(|checked| checked.plan.is_ok()));
        (!can).then_some("true")
    };
    let sum = view! {
        <a class="sum" href="#plan" rel="external">
            <span class="unseen">{measure::SEE_PLAN}</span>
            {line}
        </a>
    };
    let begin = view! {
        <button type="button" class="button lead" aria-disabled=cannot on:click=cast_on>
            {measure::CAST_ON}
        </button>
    };
    at_hand(failed, vec![sum.into_any(), begin.into_any()])
}

/// Gives something on the page the focus, which brings it into sight.
fn focus(id: &str) {
    use wasm_bindgen::JsCast as _;

    let Some(element) = document().get_element_by_id(id) else {
        return;
    };
    if let Ok(element) = element.dyn_into::<web_sys::HtmlElement>() {
        // Where it will not take it, it is still there to be found.
        let _ = element.focus();
    }
}
