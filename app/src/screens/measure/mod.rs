//! Measure: foot, swatch and choices, with the plan's outcome beside them at every change.
//!
//! May use the engine, the store and the parts; does no sock arithmetic. What was typed is kept as
//! it was typed (`form`); whether it makes a sock, and what that comes to, the engine says.

mod arrival;
mod begun;
mod begun_step;
mod cast_on;
mod desk;
mod drawings;
mod fields;
mod form;
mod on_needles;
mod outcome;
mod steps;
mod wrong;

use std::sync::Arc;

use evenloop_engine::json::from_json;
use leptos::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_query_map;

use self::arrival::Arrival;
use self::begun::{Begun, ChangeRefused};
use self::begun_step::{BegunStep, Differences, NotOpened};
use self::desk::{Desk, show_errors};
use self::fields::FormPlace;
use self::form::{MeasureForm, MeasureStep};
use self::on_needles::OnNeedles;
use self::outcome::OutcomePanel;
use self::steps::Steps;
use self::wrong::Wrong;
use crate::base::{instead, to, use_go};
use crate::parts::plain::link;
use crate::parts::{Notice, PageHead, Tone, failure};
use crate::preferences::use_preferences;
use crate::routes::{self, Screen};
use crate::store::{self, StoreError};
use crate::text::measure as text;
use crate::text::mistake::MISTAKE;

/// The screen.
#[component]
pub fn MeasureScreen() -> impl IntoView {
    let desk = Desk::new();
    let failed = RwSignal::new(false);
    let ready = RwSignal::new(false);
    let asked = use_query_map();
    // Read once: a change of the address within the screen is another visit.
    let change = asked.with_untracked(|query| query.get(routes::CHANGE));
    match change.clone() {
        Some(id) => take_up_begun(desk, id, failed),
        None => keep_draft(desk, ready),
    }
    let lasts = RwSignal::new(true);
    Effect::new(move || lasts.set(store::lasts()));
    view! {
        <div class="screen measure">
            {move || {
                let (title, lead) = match &*desk.begun.read() {
                    Some(_) => (text::BEGUN_TITLE, text::BEGUN_HEAD),
                    None => (text::TITLE, text::LEAD),
                };
                view! { <PageHead title lead /> }
            }}
            {move || failed.get().then(|| view! { <NotOpened /> })}
            <Show when=move || !lasts.get()>
                <Notice tone=Tone::Mind>
                    <p>{text::WILL_NOT_LAST}</p>
                </Notice>
            </Show>
            <OnNeedles desk ready />
            <Arrival desk ready />
            <Show when=move || desk.begun.read().is_none()>
                <p class="to-pattern">{link("", to(Screen::Pattern.path()), text::TO_PATTERN)}</p>
            </Show>
            <form
                class="form"
                novalidate
                autocomplete="off"
                on:submit=move |event| event.prevent_default()
            >
                {move || desk.begun.get().map(|begun| view! { <BegunStep desk begun /> })}
                <Steps desk />
            </form>
            <div class="beside">
                {move || desk.begun.get().map(|begun| view! { <Differences desk begun /> })}
                <OutcomePanel desk />
                <AtHand desk />
            </div>
        </div>
    }
}

/// The form stands as the sock was planned. It is no draft of a new pair.
fn take_up_begun(desk: Desk, id: String, failed: RwSignal<bool>) {
    let preferences = use_preferences();
    let go = use_go();
    Effect::new(move |taken: Option<bool>| {
        let loaded = preferences.loaded();
        let unit = preferences.get().unit;
        if taken == Some(true) || !loaded {
            if taken == Some(true) && desk.form.read_untracked().unit != unit {
                desk.form.update(|form| form.measure_in(unit));
            }
            return taken == Some(true);
        }
        match Begun::open(&id) {
            // What can be changed of it stands beside its text.
            Ok(begun) if begun.plan().recipe.written.is_some() => {
                go(&routes::pattern_change(&id), instead());
            }
            Ok(begun) => {
                desk.form.set(begun.form(unit));
                desk.begun.set(Some(Arc::new(begun)));
            }
            Err(_) => failed.set(true),
        }
        true
    });
}

/// The form survives a reload and a walk to another screen; the unit is the settings'.
fn keep_draft(desk: Desk, ready: RwSignal<bool>) {
    let preferences = use_preferences();
    Effect::new(move |begun: Option<bool>| {
        let loaded = preferences.loaded();
        let unit = preferences.get().unit;
        if begun != Some(true) {
            if !loaded {
                return false;
            }
            let earlier = store::here().draft().and_then(|text| from_json(&text).ok());
            desk.form.update(|form| {
                if let Some(earlier) = earlier {
                    form.take_up(earlier);
                }
                form.measure_in(unit);
            });
            ready.set(true);
        } else if desk.form.read_untracked().unit != unit {
            desk.form.update(|form| form.measure_in(unit));
        }
        true
    });
    Effect::new(move |first: Option<()>| {
        let form = desk.form.read();
        if first.is_some() {
            // A draft that cannot be stored is still in the form.
            let _ = store::here().save_draft(&serde_json::to_string(&*form).unwrap_or_default());
        }
    });
}

/// What is still to be filled in, in a few words.
fn still_needed(places: &[FormPlace]) -> String {
    let is = |step| places.iter().any(|place| place.step() == Some(step));
    text::still_needed(is(MeasureStep::Foot), is(MeasureStep::Swatch), places.len())
}

/// Always at hand: what it comes to in one line, and the button that begins the pair.
#[component]
fn AtHand(desk: Desk) -> impl IntoView {
    let failed = RwSignal::new(None::<&'static str>);
    let go = use_go();
    let cast_on = move |_| {
        let plan = match desk.plan.get_untracked() {
            Ok(plan) => plan,
            Err(errors) => return show_errors(desk, &errors),
        };
        if let Some(begun) = desk.begun.get_untracked() {
            match begun.accept(&plan) {
                Ok(()) => go(Screen::Now.path(), NavigateOptions::default()),
                Err(ChangeRefused::Store(StoreError::Full)) => failed.set(Some(text::FULL)),
                Err(ChangeRefused::Store(StoreError::Elsewhere)) => {
                    failed.set(Some(text::ELSEWHERE));
                    // What the form says is planned from where the sock is now.
                    if let Ok(again) = begun.again() {
                        desk.begun.set(Some(Arc::new(again)));
                    }
                }
                Err(ChangeRefused::Store(_)) => failed.set(Some(text::REFUSED)),
                Err(ChangeRefused::Second(errors)) if errors.iter().any(Wrong::is_mistake) => {
                    failed.set(Some(MISTAKE));
                }
                Err(ChangeRefused::Second(errors)) => show_errors(desk, &errors),
            }
            return;
        }
        failed.set(None);
        // Not read in the match itself: the form is written while that lasts.
        let name = desk.form.read_untracked().name.clone();
        match cast_on::cast_on(&plan, &name) {
            Ok(()) => {
                // What is cast on stands with its pair: the form is for another one.
                desk.form.update(|form| {
                    let unit = form.unit;
                    *form = MeasureForm::default();
                    form.measure_in(unit);
                });
                go(Screen::Now.path(), NavigateOptions::default());
            }
            Err(ChangeRefused::Store(StoreError::Full)) => failed.set(Some(text::FULL)),
            Err(ChangeRefused::Store(_)) => failed.set(Some(text::REFUSED)),
            Err(ChangeRefused::Second(errors)) if errors.iter().any(Wrong::is_mistake) => {
                failed.set(Some(MISTAKE));
            }
            Err(ChangeRefused::Second(errors)) => show_errors(desk, &errors),
        }
    };
    let line = move || match &*desk.plan.read() {
        Ok(plan) => {
            let (count, width) = text::at_hand(&plan.outcome, desk.wording());
            let count = match &*desk.begun.read() {
                Some(begun) => text::differences(begun.differences(plan)),
                None => count,
            };
            view! {
                <strong>{count}</strong>
                <span>{width}</span>
            }
            .into_any()
        }
        Err(errors) if errors.iter().any(Wrong::is_mistake) => {
            view! { <strong>{text::NO_PLAN}</strong> }.into_any()
        }
        Err(errors) => {
            let line = match desk.needed() {
                Some(places) => still_needed(&places),
                None => text::to_mend(errors.len()),
            };
            view! { <strong>{line}</strong> }.into_any()
        }
    };
    // Touched all the same, it leads to what is missing.
    let cannot = move || desk.plan.with(Result::is_err).then_some("true");
    view! {
        <div class="at-hand">
            {failure(failed)}
            <div class="line">
                <a class="sum" href="#plan" rel="external">
                    <span class="unseen">{text::SEE_PLAN}</span>
                    {line}
                </a>
                <button
                    type="button"
                    class="button lead"
                    aria-disabled=cannot
                    on:click=cast_on
                >
                    {move || {
                        if desk.begun.read().is_some() {
                            text::CHANGE_REST
                        } else {
                            text::CAST_ON
                        }
                    }}
                </button>
            </div>
        </div>
    }
    .into_any()
}
