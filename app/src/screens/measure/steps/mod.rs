//! The form itself, in short steps: what every sock needs stands open, what has a usual answer is
//! folded away behind it.

mod bound;
mod calf;
mod fold;
mod leg;
mod motif;
mod shape;
mod shoe;
mod yarn;

use evenloop_engine::needle_size::Needle;
use leptos::prelude::*;

pub(super) use self::bound::Step;
use self::bound::{Flip, Line, More, Pick, Trouble, length, place};
use self::fold::Fold;
use self::leg::LegStep;
use self::motif::MotifStep;
use self::shape::{DirectionStep, HeelStep, NeedlesStep, ToeStep};
use self::shoe::ShoeSize;
use self::yarn::YarnStep;
use super::drawings::FootDrawing;
use super::entry::{Entry, Spot};
use super::form::{Form, UNITS};
use super::{Desk, copy};
use crate::parts::{Select, TextField, Width};
use crate::preferences::use_preferences;
use crate::store::{self, NAME_LIMIT};

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
        let Some(unit) = UNITS.get(index).copied() else {
            return;
        };
        desk.form.update(|form| form.measure_in(unit));
        // Not stored, it is still in force on this page.
        let _ = preferences.change(|settings| settings.unit = unit);
    });
    view! {
        <Step title=copy::FOOT lead=copy::FOOT_LEAD>
            <Pick
                desk
                name="unit"
                legend=copy::UNIT
                choices=&copy::UNITS
                width=Width::Short
                get=|form| place(&UNITS, &form.unit)
                set=in_unit
            />
            <FootDrawing />
            <div class="fields">
                <Line desk entry=Entry::FootLength />
                <ShoeSize desk />
                <Line desk entry=Entry::FootCircumference />
                <Line desk entry=Entry::HeelDiagonal />
            </div>
        </Step>
    }
    .into_any()
}

/// The swatch.
#[component]
fn SwatchStep(desk: Desk) -> impl IntoView {
    view! {
        <Step title=copy::SWATCH lead=copy::SWATCH_LEAD>
            <div class="fields">
                <Line desk entry=Entry::SwatchStitches />
                <Line desk entry=Entry::SwatchWidth />
                <Line desk entry=Entry::SwatchRounds />
                <Line desk entry=Entry::SwatchHeight />
            </div>
            <NeedleSize desk />
            <More title=copy::UNWASHED>
                <p class="soft">{copy::UNWASHED_TEXT}</p>
                <div class="fields">
                    <Line desk entry=Entry::UnwashedWidth />
                    <Line desk entry=Entry::UnwashedHeight />
                </div>
            </More>
        </Step>
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
            label=copy::NEEDLE
            options=std::iter::once(copy::NO_NEEDLE.to_owned()).chain(sizes).collect()
            picked
            on_pick
        />
        <p class="hint">{copy::NEEDLE_HINT}</p>
    }
    .into_any()
}

/// How close it fits.
#[component]
fn FitStep(desk: Desk) -> impl IntoView {
    view! {
        <Fold
            desk
            title=copy::FIT
            lead=copy::FIT_LEAD
            holds=|spot| {
                matches!(
                    spot,
                    Spot::HighInstep
                    | Spot::WideToes
                    | Spot::Line(Entry::Ease | Entry::LengthEase | Entry::Stitches)
                )
            }
            now=|form| {
                let stitches = form.text(Entry::Stitches);
                let shape = [
                    (form.high_instep, copy::HIGH_INSTEP),
                    (form.wide_toes, copy::WIDE_TOES),
                    (form.narrow_heel, copy::NARROW_HEEL),
                ];
                copy::fit_now(
                    form.text(Entry::Ease),
                    &length(form, Entry::LengthEase),
                    stitches,
                    shape.into_iter().filter_map(|(is, choice)| is.then_some(choice.name)),
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
                <Line desk entry=Entry::Ease />
                <Line desk entry=Entry::LengthEase />
                <Line desk entry=Entry::Stitches />
            </div>
            <fieldset class="choice-group">
                <legend>{copy::THIS_FOOT}</legend>
                <div class="choices long">
                    <Flip
                        desk
                        name="high-instep"
                        choice=copy::HIGH_INSTEP
                        get=|form| form.high_instep
                        set=|form, on| form.high_instep = on
                    />
                    <Flip
                        desk
                        name="wide-toes"
                        choice=copy::WIDE_TOES
                        get=|form| form.wide_toes
                        set=|form, on| form.wide_toes = on
                    />
                    <Flip
                        desk
                        name="narrow-heel"
                        choice=copy::NARROW_HEEL
                        get=|form| form.narrow_heel
                        set=|form, on| form.narrow_heel = on
                    />
                </div>
                <Trouble desk spot=Spot::HighInstep />
                <Trouble desk spot=Spot::WideToes />
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
            *form = Form::default();
            form.measure_in(unit);
        });
        desk.left.set(Vec::new());
        // What cannot be taken off the shelf is overwritten by the next change.
        let _ = store::here().drop_draft();
    };
    view! {
        <section class="step">
            <TextField
                id="pair-name"
                label=copy::NAME
                hint=Signal::stored(copy::NAME_HINT.to_owned())
                inputmode="text"
                limit=u16::try_from(NAME_LIMIT).unwrap_or(u16::MAX)
                value=Signal::derive(move || desk.form.read().name.clone())
                on_input=Callback::new(move |text| desk.form.update(|form| form.name = text))
                on_leave=Callback::new(|()| ())
                error=Signal::stored(None)
            />
            <div class="buttons">
                <button type="button" class="button bare" on:click=afresh>
                    {copy::AFRESH}
                </button>
            </div>
        </section>
    }
    .into_any()
}
