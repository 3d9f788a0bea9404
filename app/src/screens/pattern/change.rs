//! For a pair that is begun: other needles for the rest of it, and its pattern to be read and saved.

use std::sync::Arc;

use evenloop_engine::plan::PlanError;
use evenloop_engine::recipe::Method;
use leptos::prelude::*;
use leptos_router::NavigateOptions;

use super::at_hand::at_hand;
use super::begun::{Anew, Begun};
use super::needles::choose_needles;
use super::step::step;
use crate::base::use_go;
use crate::parts::plain::paragraph;
use crate::parts::{Folded, Notice, PageHead, Tone, problem, use_wording};
use crate::preferences::use_preferences;
use crate::routes::Screen;
use crate::store::StoreError;
use crate::text::{measure, mistake, pattern as text};

/// What is shown.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Shown {
    Looking,
    Shut,
    Open(Arc<Begun>),
}

#[component]
pub(super) fn ChangeNeedles(
    /// The pair, as the address names it.
    id: String,
) -> impl IntoView {
    let preferences = use_preferences();
    let shown = RwSignal::new(Shown::Looking);
    Effect::new(move |opened: Option<bool>| {
        if opened == Some(true) || !preferences.loaded() {
            return opened == Some(true);
        }
        shown.set(Begun::open(&id).map_or(Shown::Shut, |begun| Shown::Open(Arc::new(begun))));
        true
    });
    view! {
        <div class="screen measure pattern-screen">
            <PageHead title=measure::BEGUN_TITLE lead=text::CHANGE_LEAD />
            {move || match shown.get() {
                Shown::Looking => ().into_any(),
                Shown::Shut => {
                    view! { <Notice tone=Tone::Wrong>{paragraph("", measure::NOT_OPENED)}</Notice> }
                        .into_any()
                }
                Shown::Open(begun) => open(begun, shown),
            }}
        </div>
    }
    .into_any()
}

fn open(begun: Arc<Begun>, shown: RwSignal<Shown>) -> AnyView {
    let wording = use_wording();
    let was = begun.plan().recipe.needles;
    let needles = RwSignal::new(was);
    let anew = {
        let begun = begun.clone();
        Memo::new(move |_| {
            let wanted: Method = needles.get();
            (wanted != was).then(|| begun.on(wanted))
        })
    };
    let head = {
        let begun = begun.clone();
        move || {
            let (name, sock, place) = begun.told(wording.get());
            measure::begun(&name, sock, &place)
        }
    };
    let typed = begun.plan().recipe.written.as_ref();
    let typed = StoredValue::new(typed.map_or_else(String::new, |written| written.text.clone()));
    let text_of = move || {
        let text = typed.get_value();
        view! { <p class="typed-pattern">{text}</p> }.into_any()
    };
    let told = {
        let begun = begun.clone();
        move || anew.with(|anew| would_be(&begun, anew.as_ref(), wording.get()))
    };
    view! {
        <form class="form" novalidate autocomplete="off" on:submit=move |event| event.prevent_default()>
            <section class="step">
                <p>{head}</p>
                <Folded class="more" summary=text::FOLLOWED.into_any() inside=Box::new(text_of) />
            </section>
            {step(
                measure::NEEDLES,
                "",
                vec![choose_needles(needles.into(), Callback::new(move |wanted| needles.set(wanted)))],
            )}
        </form>
        <div class="beside">
            <div aria-live="polite">{told}</div>
            <Accept begun anew shown />
        </div>
    }
    .into_any()
}

/// What would be different, or why it cannot be.
fn would_be(
    begun: &Begun,
    anew: Option<&Result<Anew, PlanError>>,
    wording: evenloop_engine::text::Wording,
) -> AnyView {
    let said: Vec<String> = match anew {
        None => vec![measure::NO_CHANGE.to_owned()],
        Some(Ok(anew)) => begun.said(anew, wording),
        Some(Err(PlanError::Bug(bug))) => vec![mistake::mistake(bug)],
        Some(Err(PlanError::Impossible(fields))) => fields
            .iter()
            .map(|field| problem(&field.problem, wording))
            .collect(),
    };
    let lines = said
        .into_iter()
        .map(|line| paragraph("", line))
        .collect_view();
    view! { <Notice tone=Tone::Mind>{lines}</Notice> }.into_any()
}

/// The button that takes it up.
#[component]
fn Accept(
    begun: Arc<Begun>,
    anew: Memo<Option<Result<Anew, PlanError>>>,
    shown: RwSignal<Shown>,
) -> impl IntoView {
    let failed = RwSignal::new(None::<&'static str>);
    let go = use_go();
    let accept = move |_| {
        let Some(Ok(wanted)) = anew.get_untracked() else {
            return;
        };
        match begun.accept(&wanted) {
            Ok(()) => go(Screen::Now.path(), NavigateOptions::default()),
            Err(StoreError::Full) => failed.set(Some(measure::FULL)),
            Err(StoreError::Elsewhere) => {
                failed.set(Some(measure::ELSEWHERE));
                // What is chosen is planned from where the sock is now.
                if let Ok(again) = begun.again() {
                    shown.set(Shown::Open(Arc::new(again)));
                }
            }
            Err(_) => failed.set(Some(measure::REFUSED)),
        }
    };
    let cannot = move || (!anew.with(|anew| matches!(anew, Some(Ok(_))))).then_some("true");
    let change = view! {
        <button type="button" class="button lead" aria-disabled=cannot on:click=accept>
            {measure::CHANGE_REST}
        </button>
    };
    at_hand(failed, vec![change.into_any()])
}
