//! Settings: how the app looks and speaks, backup and restore, and a few words of care.
//!
//! May use the store, the parts and the browser's files; must not know what is in a backup.

mod backup;
mod device;
mod permanence;

use evenloop_engine::text::{English, KnittingHand, RunStyle, WordForm};
use evenloop_engine::units::LengthUnit;
use leptos::prelude::*;

use self::backup::Backup;
use self::device::ThisDevice;
use self::permanence::StoragePermanence;
use crate::base::to;
use crate::hands;
use crate::parts::plain::{button, link};
use crate::parts::{Choice, ChoiceGroup, Notice, PageHead, Switch, Tone, Width, failure};
use crate::practice;
use crate::preferences::use_preferences;
use crate::routes::Screen;
use crate::store::{Handedness, Settings, Theme};
use crate::text;

const FORMS: [(WordForm, Choice); 2] = [
    (
        WordForm::Plain,
        Choice::with_note(text::settings::PLAIN, text::settings::PLAIN_NOTE),
    ),
    (
        WordForm::Short,
        Choice::with_note(text::settings::SHORT, text::settings::SHORT_NOTE),
    ),
];
const REACHES: [(RunStyle, Choice); 2] = [
    (
        RunStyle::ToMarker,
        Choice::with_note(text::settings::TO_MARKER, text::settings::TO_MARKER_NOTE),
    ),
    (
        RunStyle::Counted,
        Choice::with_note(text::settings::COUNTED, text::settings::COUNTED_NOTE),
    ),
];
const UNITS: [(LengthUnit, Choice); 2] = [
    (LengthUnit::Cm, Choice::plain(text::settings::CM)),
    (LengthUnit::Inch, Choice::plain(text::settings::INCHES)),
];
const ENGLISHES: [(English, Choice); 2] = [
    (
        English::British,
        Choice::with_note(text::settings::BRITISH, text::settings::BRITISH_NOTE),
    ),
    (
        English::American,
        Choice::with_note(text::settings::AMERICAN, text::settings::AMERICAN_NOTE),
    ),
];
const THEMES: [(Theme, Choice); 3] = [
    (Theme::System, Choice::plain(text::settings::DEVICE)),
    (Theme::Light, Choice::plain(text::settings::LIGHT)),
    (Theme::Dark, Choice::plain(text::settings::DARK)),
];
const KNITS: [(KnittingHand, Choice); 2] = [
    (
        KnittingHand::Right,
        Choice::with_note(
            text::settings::KNITS_RIGHT,
            text::settings::KNITS_RIGHT_NOTE,
        ),
    ),
    (
        KnittingHand::Left,
        Choice::with_note(text::settings::KNITS_LEFT, text::settings::KNITS_LEFT_NOTE),
    ),
];
const HANDS: [(Handedness, Choice); 2] = [
    (Handedness::Right, Choice::plain(text::settings::RIGHT)),
    (Handedness::Left, Choice::plain(text::settings::LEFT)),
];

/// The screen.
#[component]
pub fn SettingsScreen() -> impl IntoView {
    let failed = RwSignal::new(false);
    view! {
        <div class="screen settings">
            <PageHead title=Screen::Settings.name() lead=text::settings::LEAD />
            <Backup />
            <StoragePermanence />
            <ThisDevice />
            <Show when=move || failed.get()>
                <Notice tone=Tone::Mind>
                    <p>{text::settings::NOT_STORED}</p>
                </Notice>
            </Show>
            <WordChoices failed />
            <section class="step">
                <h2>{text::settings::LOOK}</h2>
                <Pick
                    failed
                    name="theme"
                    width=Width::Short
                    legend=text::settings::THEME
                    choices=choices(&THEMES)
                    get=|s| place(&THEMES, &s.theme)
                    set=|s, index| pick(&THEMES, index, &mut s.theme)
                />
                <Pick
                    failed
                    name="hand"
                    legend=text::settings::HAND
                    choices=choices(&HANDS)
                    width=Width::Short
                    get=|s| place(&HANDS, &s.hand)
                    set=|s, index| pick(&HANDS, index, &mut s.hand)
                />
                <OnOff
                    failed
                    name="big"
                    choice=Choice::with_note(text::settings::BIG, text::settings::BIG_NOTE)
                    get=|s| s.big_text
                    set=|s, on| s.big_text = on
                />
            </section>
            <section class="step">
                <h2>{text::settings::BESIDE}</h2>
                <div class="switches">
                    <OnOff
                        failed
                        name="needle"
                        choice=Choice::with_note(text::settings::NEEDLE, text::settings::NEEDLE_NOTE)
                        get=|s| s.by_needle
                        set=|s, on| s.by_needle = on
                    />
                    <OnOff
                        failed
                        name="awake"
                        choice=Choice::with_note(text::settings::AWAKE, text::settings::AWAKE_NOTE)
                        get=|s| s.awake
                        set=|s, on| s.awake = on
                    />
                    <OnOff
                        failed
                        name="buzz"
                        choice=Choice::with_note(text::settings::BUZZ, text::settings::BUZZ_NOTE)
                        get=|s| s.buzz
                        set=|s, on| s.buzz = on
                    />
                    <OnOff
                        failed
                        name="speech"
                        choice=Choice::with_note(text::settings::SPEECH, text::settings::SPEECH_NOTE)
                        get=|s| s.speech
                        set=|s, on| s.speech = on
                    />
                    <OnOff
                        failed
                        name="listens"
                        choice=Choice::with_note(text::settings::LISTENS, text::settings::LISTENS_NOTE)
                        get=|s| s.listens
                        set=|s, on| s.listens = on
                    />
                </div>
                <Lacks />
            </section>
            <OnPaper />
            <TryOut />
            <Care />
        </div>
    }
}

/// How instructions are worded.
#[component]
fn WordChoices(failed: RwSignal<bool>) -> impl IntoView {
    view! {
        <section class="step">
            <h2>{text::settings::INSTRUCTIONS}</h2>
            <Pick
                failed
                name="form"
                legend=text::settings::FORM
                choices=choices(&FORMS)
                get=|s| place(&FORMS, &s.style.form)
                set=|s, index| pick(&FORMS, index, &mut s.style.form)
            />
            <Pick
                failed
                name="reach"
                legend=text::settings::REACH
                choices=choices(&REACHES)
                get=|s| place(&REACHES, &s.style.reach)
                set=|s, index| pick(&REACHES, index, &mut s.style.reach)
            />
            <Pick
                failed
                name="english"
                legend=text::settings::ENGLISH
                choices=choices(&ENGLISHES)
                get=|s| place(&ENGLISHES, &s.style.english)
                set=|s, index| s.english = ENGLISHES.get(index).map(|(english, _)| *english)
            />
            <Pick
                failed
                name="knits"
                legend=text::settings::KNITS
                choices=choices(&KNITS)
                get=|s| place(&KNITS, &s.style.hand)
                set=|s, index| pick(&KNITS, index, &mut s.style.hand)
            />
            <Pick
                failed
                name="unit"
                legend=text::settings::UNIT
                choices=choices(&UNITS)
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
            <h2>{text::settings::CARE}</h2>
            <ul>{text::settings::CARES.map(|care| view! { <li>{care}</li> }).collect_view()}</ul>
            <p class="soft small">{text::settings::CARE_NOTE}</p>
        </section>
    }
    .into_any()
}

/// The way to the plan.
#[component]
fn OnPaper() -> impl IntoView {
    view! {
        <section class="step">
            <h2>{text::settings::PLAN}</h2>
            <p>{text::settings::PLAN_TEXT}</p>
            <div class="buttons">
                {link("button", to(Screen::Plan.path()), text::settings::TO_PLAN)}
            </div>
        </section>
    }
    .into_any()
}

/// The tiny sock to try things out.
#[component]
fn TryOut() -> impl IntoView {
    let failed = RwSignal::new(None);
    let begin = practice::begin(failed);
    view! {
        <section class="step">
            <h2>{text::practice::TITLE}</h2>
            <p>{text::practice::TEXT}</p>
            {failure(failed)}
            <div class="buttons">{button("button", text::practice::BEGIN, None, begin)}</div>
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
            (hands::can_stay_awake(), text::settings::NOT_AWAKE),
            (hands::can_buzz(), text::settings::NO_BUZZ),
            (hands::can_speak(), text::settings::NO_VOICE),
            (hands::can_hear(), text::settings::NO_LISTENING),
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
    choices: Vec<Choice>,
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

/// What there is to choose from.
fn choices<T>(all: &[(T, Choice)]) -> Vec<Choice> {
    all.iter().map(|(_, choice)| *choice).collect()
}

/// Where a value stands among the choices.
fn place<T: PartialEq>(all: &[(T, Choice)], value: &T) -> usize {
    all.iter().position(|(one, _)| one == value).unwrap_or(0)
}

/// Takes the value at an index, if there is one.
fn pick<T: Copy>(all: &[(T, Choice)], index: usize, value: &mut T) {
    if let Some((one, _)) = all.get(index) {
        *value = *one;
    }
}
