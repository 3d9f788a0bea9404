//! Keep: settings, backup and restore, and a few words of care.
//!
//! May use the store, the parts and the browser's files; must not know what is in a backup.

mod backup;
mod copy;

use evenloop_engine::units::LengthUnit;
use evenloop_engine::words::{English, Reach, WordForm};
use leptos::prelude::*;
use leptos_router::NavigateOptions;

use self::backup::Backup;
use crate::base::{to, use_go};
use crate::guide::use_guide;
use crate::hands;
use crate::parts::plain::link;
use crate::parts::{Choice, ChoiceGroup, Notice, PageHead, Switch, Tone, Width};
use crate::preferences::use_preferences;
use crate::routes::Screen;
use crate::store::{Handedness, Settings, Theme};

const FORMS: [WordForm; 2] = [WordForm::Plain, WordForm::Short];
const REACHES: [Reach; 2] = [Reach::ToMarker, Reach::Counted];
const UNITS: [LengthUnit; 2] = [LengthUnit::Cm, LengthUnit::Inch];
const ENGLISHES: [English; 2] = [English::British, English::American];
const THEMES: [Theme; 3] = [Theme::System, Theme::Light, Theme::Dark];
const HANDS: [Handedness; 2] = [Handedness::Right, Handedness::Left];

/// The screen.
#[component]
pub fn KeepScreen() -> impl IntoView {
    let failed = RwSignal::new(false);
    view! {
        <div class="screen keep">
            <PageHead title=copy::TITLE lead=copy::LEAD />
            <Backup />
            <Show when=move || failed.get()>
                <Notice tone=Tone::Mind>
                    <p>{copy::NOT_STORED}</p>
                </Notice>
            </Show>
            <WordChoices failed />
            <section class="step">
                <h2>{copy::LOOK}</h2>
                <Pick
                    failed
                    name="theme"
                    width=Width::Short
                    legend=copy::THEME
                    choices=&copy::THEMES
                    get=|s| place(&THEMES, &s.theme)
                    set=|s, index| pick(&THEMES, index, &mut s.theme)
                />
                <Pick
                    failed
                    name="hand"
                    legend=copy::HAND
                    choices=&copy::HANDS
                    width=Width::Short
                    get=|s| place(&HANDS, &s.hand)
                    set=|s, index| pick(&HANDS, index, &mut s.hand)
                />
                <OnOff
                    failed
                    name="big"
                    choice=copy::BIG
                    get=|s| s.big_text
                    set=|s, on| s.big_text = on
                />
            </section>
            <section class="step">
                <h2>{copy::BESIDE}</h2>
                <div class="switches">
                    <OnOff
                        failed
                        name="awake"
                        choice=copy::AWAKE
                        get=|s| s.awake
                        set=|s, on| s.awake = on
                    />
                    <OnOff
                        failed
                        name="buzz"
                        choice=copy::BUZZ
                        get=|s| s.buzz
                        set=|s, on| s.buzz = on
                    />
                    <OnOff
                        failed
                        name="speech"
                        choice=copy::SPEECH
                        get=|s| s.speech
                        set=|s, on| s.speech = on
                    />
                </div>
                <Lacks />
            </section>
            <OnPaper />
            <WhatIsWhere />
            <Care />
        </div>
    }
}

/// How instructions are worded.
#[component]
fn WordChoices(failed: RwSignal<bool>) -> impl IntoView {
    view! {
        <section class="step">
            <h2>{copy::WORDS}</h2>
            <Pick
                failed
                name="form"
                legend=copy::FORM
                choices=&copy::FORMS
                get=|s| place(&FORMS, &s.style.form)
                set=|s, index| pick(&FORMS, index, &mut s.style.form)
            />
            <Pick
                failed
                name="reach"
                legend=copy::REACH
                choices=&copy::REACHES
                get=|s| place(&REACHES, &s.style.reach)
                set=|s, index| pick(&REACHES, index, &mut s.style.reach)
            />
            <Pick
                failed
                name="english"
                legend=copy::ENGLISH
                choices=&copy::ENGLISHES
                get=|s| place(&ENGLISHES, &s.style.english)
                set=|s, index| s.english = ENGLISHES.get(index).copied()
            />
            <Pick
                failed
                name="unit"
                legend=copy::UNIT
                choices=&copy::UNITS
                width=Width::Short
                get=|s| place(&UNITS, &s.unit)
                set=|s, index| pick(&UNITS, index, &mut s.unit)
            />
        </section>
    }
    .into_any()
}

/// Hands, floors, small feet and legs that must not be bound.
#[component]
fn Care() -> impl IntoView {
    view! {
        <section class="step care">
            <h2>{copy::CARE}</h2>
            <ul>{copy::CARES.map(|care| view! { <li>{care}</li> }).collect_view()}</ul>
            <p class="soft small">{copy::CARE_NOTE}</p>
        </section>
    }
    .into_any()
}

/// The way to the plan.
#[component]
fn OnPaper() -> impl IntoView {
    view! {
        <section class="step">
            <h2>{copy::PLAN}</h2>
            <p>{copy::PLAN_TEXT}</p>
            <div class="buttons">
                {link("button", to(Screen::Plan.path()), copy::TO_PLAN)}
            </div>
        </section>
    }
    .into_any()
}

/// The walk through the screens once more.
#[component]
fn WhatIsWhere() -> impl IntoView {
    let guide = use_guide();
    let go = use_go();
    let show_round = move |_| {
        guide.begin();
        go(Screen::Basket.path(), NavigateOptions::default());
    };
    view! {
        <section class="step">
            <h2>{copy::GUIDE}</h2>
            <p>{copy::GUIDE_TEXT}</p>
            <div class="buttons">
                <button type="button" class="button" on:click=show_round>
                    {copy::GUIDE_AGAIN}
                </button>
            </div>
        </section>
    }
    .into_any()
}

/// What of this the browser cannot do; known only once the page is awake in it.
#[component]
fn Lacks() -> impl IntoView {
    let lacks = RwSignal::new(Vec::new());
    Effect::new(move || {
        let able = [
            (hands::can_stay_awake(), copy::NOT_AWAKE),
            (hands::can_buzz(), copy::NO_BUZZ),
            (hands::can_speak(), copy::NO_VOICE),
        ];
        let missing = able.iter().filter(|(able, _)| !able);
        lacks.set(missing.map(|(_, text)| *text).collect());
    });
    view! {
        <Show when=move || !lacks.read().is_empty()>
            <p class="soft small lacks">{move || lacks.read().join(" ")}</p>
        </Show>
    }
    .into_any()
}

/// One of a few, bound to the settings.
#[component]
fn Pick(
    failed: RwSignal<bool>,
    name: &'static str,
    legend: &'static str,
    choices: &'static [Choice],
    #[prop(optional)] width: Width,
    get: fn(&Settings) -> usize,
    set: fn(&mut Settings, usize),
) -> impl IntoView {
    let preferences = use_preferences();
    let picked = Memo::new(move |_| get(&preferences.get()));
    let on_pick = Callback::new(move |index| {
        failed.set(preferences.change(|settings| set(settings, index)).is_err());
    });
    view! { <ChoiceGroup name legend choices width picked on_pick /> }
}

/// One thing on or off, bound to the settings.
#[component]
fn OnOff(
    failed: RwSignal<bool>,
    name: &'static str,
    choice: Choice,
    get: fn(&Settings) -> bool,
    set: fn(&mut Settings, bool),
) -> impl IntoView {
    let preferences = use_preferences();
    let on = Memo::new(move |_| get(&preferences.get()));
    let on_change = Callback::new(move |on| {
        failed.set(preferences.change(|settings| set(settings, on)).is_err());
    });
    view! { <Switch name choice on on_change /> }
}

/// Where a value stands among the choices.
fn place<T: PartialEq>(all: &[T], value: &T) -> usize {
    all.iter().position(|one| one == value).unwrap_or(0)
}

/// Takes the value at an index, if there is one.
fn pick<T: Copy>(all: &[T], index: usize, value: &mut T) {
    if let Some(one) = all.get(index) {
        *value = *one;
    }
}
