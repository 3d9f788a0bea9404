//! Measure: foot, swatch and choices, with the plan's outcome beside them at every change.
//!
//! May use the engine, the store and the parts; does no sock arithmetic. What was typed is kept as
//! it was typed (`form`); whether it makes a sock, and what that comes to, the engine says.

mod arrival;
mod begun;
mod cast_on;
mod drawings;
mod fields;
mod form;
mod outcome;
mod steps;
mod wrong;

use std::borrow::Cow;
use std::sync::Arc;

use evenloop_engine::plan::{Outcome, Plan};
use evenloop_engine::recipe::NumberField;
use evenloop_engine::text::Wording;
use evenloop_engine::units::LengthUnit;
use leptos::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_query_map;

use self::arrival::Arrival;
use self::begun::{Begun, BegunStep, ChangeRefused, Differences, NotOpened};
use self::fields::FormPlace;
use self::form::MeasureForm;
use self::outcome::OutcomePanel;
use self::steps::Steps;
use self::wrong::Wrong;
use crate::base::use_go;
use crate::parts::{Notice, PageHead, Tone, use_wording};
use crate::preferences::use_preferences;
use crate::routes::{self, Screen};
use crate::store::{self, StoreError};
use crate::text::measure as text;
use crate::text::mistake::MISTAKE;

/// What the parts of the screen share.
#[derive(Clone, Copy)]
struct Desk {
    form: RwSignal<MeasureForm>,
    /// The sock whose rest is being changed; none for a new pair.
    begun: RwSignal<Option<Arc<Begun>>>,
    /// Lines that the knitter has left at least once: only there is something said.
    left: RwSignal<Vec<NumberField>>,
    /// Where the knitter is led: what is folded away there has to be made.
    sought: RwSignal<Option<FormPlace>>,
    /// The sock, made once for all that is said of it, or all that is wrong.
    plan: Memo<Result<Arc<Plan>, Vec<Wrong>>>,
    /// What the sock comes to, or all that is wrong.
    verdict: Memo<Result<Outcome, Vec<Wrong>>>,
    /// How things are said here.
    wording: Signal<Wording>,
}

impl Desk {
    fn new() -> Self {
        let form = RwSignal::new(MeasureForm::default());
        let begun = RwSignal::new(None::<Arc<Begun>>);
        let plan = Memo::new(move |_| {
            let form = form.read();
            let plan = match &*begun.read() {
                Some(begun) => begun.anew(&form),
                None => form.plan(),
            };
            plan.map(Arc::new)
        });
        let verdict = Memo::new(move |_| match &*plan.read() {
            Ok(plan) => Ok(plan.outcome.clone()),
            Err(wrong) => Err(wrong.clone()),
        });
        Self {
            form,
            begun,
            left: RwSignal::new(Vec::new()),
            sought: RwSignal::new(None),
            plan,
            verdict,
            wording: use_wording(),
        }
    }

    fn unit(self) -> LengthUnit {
        self.form.read().unit
    }

    /// How things are said, with lengths in the form's unit.
    fn wording(self) -> Wording {
        Wording {
            unit: self.unit(),
            ..self.wording.get()
        }
    }

    fn leave(self, field: NumberField) {
        if !self.left.read_untracked().contains(&field) {
            self.left.update(|left| left.push(field));
        }
    }

    /// What is wrong with a field: of a choice at once, of a line when the knitter has left it.
    fn said_of(self, field: FormPlace) -> Option<Wrong> {
        let verdict = self.verdict.read();
        let mut wrong = verdict.as_ref().err()?.iter();
        wrong
            .find(|wrong| wrong.field == Some(field) && self.speaks(field))
            .cloned()
    }

    /// How much is said to be wrong in a step.
    fn said_in(self, step: fields::FormStep) -> usize {
        let verdict = self.verdict.read();
        let wrong = verdict.as_ref().err().into_iter().flatten();
        wrong
            .filter_map(|wrong| wrong.field)
            .filter(|field| field.step() == Some(step) && self.speaks(*field))
            .count()
    }

    fn speaks(self, field: FormPlace) -> bool {
        match field {
            FormPlace::Number(number) => self.left.read().contains(&number),
            FormPlace::Question(_) | FormPlace::Calf | FormPlace::Motif | FormPlace::Stripes => {
                true
            }
        }
    }
}

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
            <Arrival desk ready />
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
            let earlier = store::here()
                .draft()
                .and_then(|text| serde_json::from_str(&text).ok());
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
                desk.form
                    .update(|form| text::FIRST_NAME.clone_into(&mut form.name));
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
        Err(errors) => view! { <strong>{text::to_mend(errors.len())}</strong> }.into_any(),
    };
    view! {
        <div class="at-hand">
            {move || {
                failed
                    .get()
                    .map(|text| {
                        view! {
                            <Notice tone=Tone::Wrong>
                                <p>{text}</p>
                            </Notice>
                        }
                    })
            }}
            <div class="line">
                <a class="sum" href="#plan" rel="external">
                    <span class="unseen">{text::SEE_PLAN}</span>
                    {line}
                </a>
                <button
                    type="button"
                    class="button lead"
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

/// Says everything that is wrong at its line and goes to the first of them.
fn show_errors(desk: Desk, errors: &[Wrong]) {
    desk.left.set(fields::numbers_in_form().collect());
    let first = errors.iter().find_map(|error| error.field);
    desk.sought.set(first);
    go_to(first.map_or("plan".into(), FormPlace::id));
}

/// Unfolds all that an element lies in and gives it the focus.
fn go_to(id: Cow<'static, str>) {
    use wasm_bindgen::JsCast as _;

    request_animation_frame(move || {
        let Some(element) = document().get_element_by_id(&id) else {
            return;
        };
        // Where any of this fails, the errors are still said in the plan's panel.
        let mut around = element.closest("details");
        while let Ok(Some(fold)) = around {
            let _ = fold.set_attribute("open", "");
            around = fold
                .parent_element()
                .map_or(Ok(None), |parent| parent.closest("details"));
        }
        if let Ok(element) = element.dyn_into::<web_sys::HtmlElement>() {
            let _ = element.focus();
        }
    });
}
