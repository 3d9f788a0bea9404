//! The form itself, in short steps: what every sock needs stands open, what has a usual answer is
//! folded away behind it.
//!
//! May use the form, its fields and the parts. Must not plan a sock, nor know the pairs that are stored.

mod bound;
mod calf;
mod fold;
mod leg;
mod measures;
mod motif;
mod shape;
mod shoe;
mod yarn;

use evenloop_engine::needle_size::Needle;
use evenloop_engine::recipe::NumberField;
use evenloop_engine::swatch::Gauge;
use evenloop_engine::units::LengthUnit;
use leptos::prelude::*;

pub(super) use self::bound::FormStep;
use self::bound::{Lines, More, Only, Pick, Questions, Troubles, length};
use self::fold::Fold;
use self::leg::LegStep;
use self::measures::FootDrawing;
use self::motif::MotifStep;
use self::shape::{DirectionStep, HeelStep, NeedlesStep, ToeStep};
use self::shoe::ShoeSize;
use self::yarn::YarnStep;
use super::desk::Desk;
use super::form::{Answer, FieldGroup, GaugeBy, MeasureForm, MeasureStep};
use crate::parts::{Select, ShownText, Width, pair_name};
use crate::preferences::use_preferences;
use crate::store::{self, NAME_LIMIT};
use crate::text::measure::{self as text, choices};

/// All steps.
#[component]
pub(super) fn Steps(desk: Desk) -> impl IntoView {
    view! {
        <Foot desk />
        <SwatchStep desk />
        <Show when=move || desk.begun.read().is_none()>
            <DirectionStep desk />
        </Show>
        <LegStep desk />
        <HeelStep desk />
        <ToeStep desk />
        <MotifStep desk />
        <NeedlesStep desk />
        <FitStep desk />
        <YarnStep desk />
        <Show when=move || desk.begun.read().is_none()>
            <NameStep desk />
        </Show>
    }
    .into_any()
}

/// The foot and the unit it is measured in.
#[component]
fn Foot(desk: Desk) -> impl IntoView {
    let preferences = use_preferences();
    let in_unit = Callback::new(move |index: usize| {
        let mut unit = desk.form.read_untracked().unit;
        unit.pick(index);
        desk.form.update(|form| form.measure_in(unit));
        // Not stored, it is still in force on this page.
        let _ = preferences.change(|settings| settings.unit = unit);
    });
    view! {
        <FormStep title=text::FOOT lead=text::FOOT_LEAD>
            <Pick
                desk
                name="unit"
                legend=text::UNIT
                choices=LengthUnit::choices()
                width=Width::Short
                get=|form| form.unit.index()
                set=in_unit
            />
            <FootDrawing />
            <div class="fields">
                <Lines desk group=FieldGroup::FootLength />
                <ShoeSize desk />
                <Lines desk group=FieldGroup::FootRound />
            </div>
        </FormStep>
    }
    .into_any()
}

/// The swatch, or a first guess where there is none yet.
#[component]
fn SwatchStep(desk: Desk) -> impl IntoView {
    view! {
        <FormStep title=text::SWATCH lead=text::SWATCH_LEAD>
            <Questions desk group=FieldGroup::GaugeBy />
            <div class="fields">
                <Lines desk group=FieldGroup::Swatch />
            </div>
            <Only desk when=|form| form.gauge_by == GaugeBy::Guess>
                <Guess desk />
            </Only>
            <NeedleSize desk />
            <Only desk when=|form| form.gauge_by == GaugeBy::Swatch>
                <More title=text::UNWASHED>
                    <p class="soft">{text::UNWASHED_TEXT}</p>
                    <div class="fields">
                        <Lines desk group=FieldGroup::Unwashed />
                    </div>
                </More>
            </Only>
        </FormStep>
    }
    .into_any()
}

/// What a first guess is made from, and what it comes to.
#[component]
fn Guess(desk: Desk) -> impl IntoView {
    let guessed = Memo::new(move |_| {
        let form = desk.form.read();
        let swatch = form.swatch();
        let gauge = |tenths: u64| Gauge(u32::try_from(tenths).unwrap_or(u32::MAX)).show(form.unit);
        text::guessed(
            &gauge(swatch.stitch_gauge_tenths()),
            &gauge(swatch.round_gauge_tenths()),
            &Gauge::over(form.unit).show(form.unit),
        )
    });
    view! {
        <Questions desk group=FieldGroup::Guess />
        <div class="fields">
            <Lines desk group=FieldGroup::Guess />
        </div>
        <p class="guessed" aria-live="polite">
            <strong>{guessed}</strong>
        </p>
        <p class="soft">{ShownText::from(text::GUESS_TEXT).shown()}</p>
    }
    .into_any()
}

/// Which needles gave the swatch: the sock is knitted on the same.
#[component]
fn NeedleSize(desk: Desk) -> impl IntoView {
    let picked = Memo::new(move |_| {
        let noted = desk.form.read().needle;
        let place = Needle::all().position(|needle| Some(needle) == noted);
        place.map_or(0, |place| place + 1)
    });
    let on_pick = Callback::new(move |nth: usize| {
        let needle = nth
            .checked_sub(1)
            .and_then(|place| Needle::all().nth(place));
        desk.form.update(|form| form.needle = needle);
    });
    let sizes = Needle::all().map(|needle| needle.to_string());
    view! {
        <Select
            id="needle-size"
            label=text::NEEDLE
            options=std::iter::once(text::NO_NEEDLE.to_owned()).chain(sizes).collect()
            picked
            on_pick
        />
        <p class="hint">{text::NEEDLE_HINT}</p>
    }
    .into_any()
}

/// How close it fits.
#[component]
fn FitStep(desk: Desk) -> impl IntoView {
    view! {
        <Fold
            desk
            step=MeasureStep::Fit
            title=text::FIT
            lead=text::FIT_LEAD
            now=|form, _| {
                let shape = [
                    (form.high_instep, choices::HIGH_INSTEP),
                    (form.wide_toes, choices::WIDE_TOES),
                    (form.narrow_heel, choices::NARROW_HEEL),
                ];
                let shape = shape.into_iter().filter_map(|(is, named)| is.then_some(named.name));
                text::fit_now(
                    &form.text_or_usual(NumberField::EasePercent),
                    &length(form, NumberField::LengthEase),
                    form.text(NumberField::Stitches),
                    shape,
                )
            }
            body=fit
        />
    }
    .into_any()
}

/// What is folded away in it.
fn fit(desk: Desk) -> AnyView {
    view! {
            <div class="fields">
                <Lines desk group=FieldGroup::Fit />
            </div>
            <fieldset class="choice-group">
                <legend>{text::THIS_FOOT}</legend>
                <div class="choices long">
                    <Questions desk group=FieldGroup::ThisFoot />
                </div>
                <Troubles desk group=FieldGroup::ThisFoot />
            </fieldset>
    }
    .into_any()
}

/// What the pair is called, and a way back to the beginning.
#[component]
fn NameStep(desk: Desk) -> impl IntoView {
    let afresh = move |_| {
        let unit = desk.form.read_untracked().unit;
        desk.form.update(|form| {
            *form = MeasureForm::default();
            form.measure_in(unit);
        });
        desk.left.set(Vec::new());
        // What cannot be taken off the shelf is overwritten by the next change.
        let _ = store::here().drop_draft();
    };
    view! {
        <section class="step">
            {pair_name(
                u16::try_from(NAME_LIMIT).unwrap_or(u16::MAX),
                Signal::derive(move || desk.form.read().name.clone()),
                Callback::new(move |text| desk.form.update(|form| form.name = text)),
            )}
            <div class="buttons">
                <button type="button" class="button bare" on:click=afresh>
                    {text::AFRESH}
                </button>
            </div>
        </section>
    }
    .into_any()
}
