//! The form itself, in short steps.

use evenloop_engine::recipe::Direction;
use leptos::prelude::*;

use super::drawings::{self, FootDrawing};
use super::entry::{Entry, Number};
use super::form::{DIRECTIONS, EDGES, Form, HeelKind, Needles, SEATINGS, TEXTURES, TOES, TURNS, UNITS};
use super::{Desk, copy};
use crate::parts::{Choice, ChoiceGroup, Switch, TextField, Width};
use crate::preferences::use_preferences;
use crate::store;

static METHODS: [Choice; 5] = [
    copy::METHODS[0].drawn(drawings::magic_loop),
    copy::METHODS[1].drawn(drawings::two_circulars),
    copy::METHODS[2].drawn(drawings::four_dpns),
    copy::METHODS[3].drawn(drawings::five_dpns),
    copy::METHODS[4].drawn(drawings::short_circular),
];

static SEATING_CHOICES: [Choice; 2] = [
    copy::SEATINGS[0].drawn(drawings::even_halves),
    copy::SEATINGS[1].drawn(drawings::instep_and_sole),
];

/// All steps.
#[component]
pub(super) fn Steps(desk: Desk) -> impl IntoView {
    let preferences = use_preferences();
    let in_unit = Callback::new(move |index: usize| {
        let Some(unit) = UNITS.get(index).copied() else { return };
        desk.form.update(|form| form.measure_in(unit));
        // Not stored, it is still in force on this page.
        let _ = preferences.change(|settings| settings.unit = unit);
    });
    let afresh = move |_| {
        let unit = desk.form.read_untracked().unit;
        desk.form.update(|form| {
            *form = Form::default();
            form.measure_in(unit);
        });
        desk.left.set(Vec::new());
        // What cannot be taken off the shelf is overwritten by the next change.
        let _ = store::drop_draft();
    };
    let halves = move || desk.form.read().needles.has_halves();
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
                <Line desk entry=Entry::FootCircumference />
                <Line desk entry=Entry::HeelDiagonal />
            </div>
        </Step>
        <Step title=copy::SWATCH lead=copy::SWATCH_LEAD>
            <div class="fields">
                <Line desk entry=Entry::SwatchStitches />
                <Line desk entry=Entry::SwatchWidth />
                <Line desk entry=Entry::SwatchRounds />
                <Line desk entry=Entry::SwatchHeight />
            </div>
        </Step>
        <Fold
            desk
            title=copy::DIRECTION_STEP
            entries=&[]
            now=|form| name(&copy::DIRECTIONS, place(&DIRECTIONS, &form.direction)).to_owned()
        >
            <Pick
                desk
                name="direction"
                legend=copy::DIRECTION
                choices=&copy::DIRECTIONS
                width=Width::Long
                get=|form| place(&DIRECTIONS, &form.direction)
                set=change(desk, |form, index| pick(&DIRECTIONS, index, &mut form.direction))
            />
        </Fold>
        <Fold
            desk
            title=copy::LEG
            entries=&[Entry::CuffLength, Entry::Leg]
            now=|form| {
                let edge = name(&copy::EDGES, place(&EDGES, &form.edge));
                copy::leg_now(edge, &length(form, Entry::CuffLength), &length(form, Entry::Leg))
            }
        >
            <Pick
                desk
                name="edge"
                legend=copy::EDGE
                choices=&copy::EDGES
                get=|form| place(&EDGES, &form.edge)
                set=change(desk, |form, index| pick(&EDGES, index, &mut form.edge))
            />
            <div class="fields">
                <Line desk entry=Entry::CuffLength />
                <Line desk entry=Entry::Leg />
            </div>
            <details class="more">
                <summary>{copy::COURTESY}</summary>
                <p>{copy::COURTESY_TEXT}</p>
            </details>
        </Fold>
        <Fold
            desk
            title=copy::HEEL
            entries=&[Entry::HeelRows, Entry::Between]
            now=|form| {
                let kind = name(&copy::HEEL_KINDS, place(&HeelKind::ALL, &form.heel));
                if form.heel == HeelKind::Flap {
                    copy::two(kind, name(&copy::TEXTURES, place(&TEXTURES, &form.texture)))
                } else {
                    kind.to_owned()
                }
            }
        >
            <Pick
                desk
                name="heel"
                legend=copy::HEEL_KIND
                choices=&copy::HEEL_KINDS
                width=Width::Long
                get=|form| place(&HeelKind::ALL, &form.heel)
                set=change(desk, |form, index| pick(&HeelKind::ALL, index, &mut form.heel))
            />
            <Show when=move || desk.form.read().heel == HeelKind::ShortRow>
                <Line desk entry=Entry::Between />
            </Show>
            <Show when=move || desk.form.read().heel == HeelKind::Flap>
                <Flap desk />
            </Show>
        </Fold>
        <Fold
            desk
            title=copy::TOE_STEP
            entries=&[]
            now=|form| name(&copy::TOES, place(&TOES, &form.toe)).to_owned()
        >
            <Pick
                desk
                name="toe"
                legend=copy::TOE
                choices=&copy::TOES
                width=Width::Long
                get=|form| place(&TOES, &form.toe)
                set=change(desk, |form, index| pick(&TOES, index, &mut form.toe))
            />
        </Fold>
        <Fold
            desk
            title=copy::NEEDLES
            entries=&[]
            now=|form| {
                let needles = name(&copy::METHODS, place(&Needles::ALL, &form.needles));
                if form.needles.has_halves() {
                    copy::two(needles, name(&copy::SEATINGS, place(&SEATINGS, &form.seating)))
                } else {
                    needles.to_owned()
                }
            }
        >
            <Pick
                desk
                name="needles"
                legend=copy::METHOD
                choices=&METHODS
                width=Width::Long
                get=|form| place(&Needles::ALL, &form.needles)
                set=change(desk, |form, index| pick(&Needles::ALL, index, &mut form.needles))
            />
            <Show when=halves>
                <Pick
                    desk
                    name="seating"
                    legend=copy::SEATING
                    choices=&SEATING_CHOICES
                    width=Width::Long
                    get=|form| place(&SEATINGS, &form.seating)
                    set=change(desk, |form, index| pick(&SEATINGS, index, &mut form.seating))
                />
            </Show>
        </Fold>
        <Fold
            desk
            title=copy::FIT
            lead=copy::FIT_LEAD
            entries=&[Entry::Ease, Entry::LengthEase, Entry::Stitches]
            now=|form| {
                let stitches = form.text(Entry::Stitches);
                copy::fit_now(form.text(Entry::Ease), &length(form, Entry::LengthEase), stitches)
            }
        >
            <div class="fields">
                <Line desk entry=Entry::Ease />
                <Line desk entry=Entry::LengthEase />
                <Line desk entry=Entry::Stitches />
            </div>
        </Fold>
        <Fold
            desk
            title=copy::YARN
            lead=copy::YARN_LEAD
            entries=&[Entry::BallGrams, Entry::BallMetres]
            now=|form| copy::yarn_now(form.text(Entry::BallGrams), form.text(Entry::BallMetres))
        >
            <div class="fields">
                <Line desk entry=Entry::BallGrams />
                <Line desk entry=Entry::BallMetres />
            </div>
        </Fold>
        <section class="step">
            <TextField
                id="pair-name"
                label=copy::NAME
                hint=Signal::stored(copy::NAME_HINT.to_owned())
                inputmode="text"
                limit=120
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

/// What a heel flap can be asked for. Turn and corners are asked from the cuff down only: from the
/// toe up the heel is turned in short rows and nothing is picked up.
#[component]
fn Flap(desk: Desk) -> impl IntoView {
    let down = move || desk.form.read().direction == Direction::CuffDown;
    view! {
        <Pick
            desk
            name="texture"
            legend=copy::TEXTURE
            choices=&copy::TEXTURES
            width=Width::Long
            get=|form| place(&TEXTURES, &form.texture)
            set=change(desk, |form, index| pick(&TEXTURES, index, &mut form.texture))
        />
        <Show when=down>
            <Pick
                desk
                name="turn"
                legend=copy::TURN
                choices=&copy::TURNS
                width=Width::Long
                get=|form| place(&TURNS, &form.turn)
                set=change(desk, |form, index| pick(&TURNS, index, &mut form.turn))
            />
        </Show>
        <Line desk entry=Entry::HeelRows />
        <Show when=down>
            <Switch
                name="corners"
                choice=copy::CORNERS
                on=Signal::derive(move || desk.form.read().corners)
                on_change=Callback::new(move |on| desk.form.update(|form| form.corners = on))
            />
        </Show>
    }
    .into_any()
}

/// One step with its heading.
#[component]
fn Step(
    title: &'static str,
    #[prop(optional)] lead: &'static str,
    children: Children,
) -> impl IntoView {
    view! {
        <section class="step">
            <header>
                <h2>{title}</h2>
                {(!lead.is_empty()).then(|| view! { <p class="soft">{lead}</p> })}
            </header>
            {children()}
        </section>
    }
    .into_any()
}

/// A step that is folded away until it is wanted; says what it holds.
#[component]
fn Fold(
    desk: Desk,
    title: &'static str,
    #[prop(optional)] lead: &'static str,
    /// The lines in it.
    entries: &'static [Entry],
    /// What it holds, in a few words.
    now: fn(&Form) -> String,
    children: Children,
) -> impl IntoView {
    let wrong = Memo::new(move |_| {
        entries.iter().filter(|entry| desk.said_of(**entry).is_some()).count()
    });
    let now = Memo::new(move |_| desk.form.with(now));
    let line = move || match wrong.get() {
        0 => now.get(),
        count => copy::to_mend(count),
    };
    view! {
        <details class="step fold">
            <summary>
                <h2>{title}</h2>
                <span class="now" class:wrong=move || wrong.get() != 0>
                    {line}
                </span>
            </summary>
            <div class="unfolded">
                {(!lead.is_empty()).then(|| view! { <p class="soft">{lead}</p> })} {children()}
            </div>
        </details>
    }
    .into_any()
}

/// One line for a number.
#[component]
fn Line(desk: Desk, entry: Entry) -> impl IntoView {
    let value = Memo::new(move |_| desk.form.read().text(entry).to_owned());
    let error = Memo::new(move |_| desk.said_of(entry));
    let unit = Memo::new(move |_| desk.unit());
    view! {
        <TextField
            id=entry.id()
            label=copy::label(entry)
            optional=entry.optional()
            hint=Signal::derive(move || copy::hint(entry, unit.get()))
            unit=Signal::derive(move || copy::unit(entry, unit.get()))
            inputmode=if entry.number() == Number::Length { "decimal" } else { "numeric" }
            value
            on_input=Callback::new(move |text| {
                desk.form.update(|form| {
                    form.typed.insert(entry, text);
                });
            })
            on_leave=Callback::new(move |()| desk.leave(entry))
            error
        />
    }
}

/// One of a few, bound to the form.
#[component]
fn Pick(
    desk: Desk,
    name: &'static str,
    legend: &'static str,
    choices: &'static [Choice],
    #[prop(optional)] width: Width,
    get: fn(&Form) -> usize,
    set: Callback<usize>,
) -> impl IntoView {
    let picked = Memo::new(move |_| desk.form.with(get));
    view! { <ChoiceGroup name legend choices width picked on_pick=set /> }
}

/// Changes the form by the index of a choice.
fn change(desk: Desk, set: fn(&mut Form, usize)) -> Callback<usize> {
    Callback::new(move |index| desk.form.update(|form| set(form, index)))
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

/// The name of a choice.
fn name(choices: &[Choice], index: usize) -> &'static str {
    choices.get(index).map_or("", |choice| choice.name)
}

/// What was typed for a length, with its unit.
fn length(form: &Form, entry: Entry) -> String {
    format!("{} {}", form.text(entry).trim(), copy::unit(entry, form.unit))
}
