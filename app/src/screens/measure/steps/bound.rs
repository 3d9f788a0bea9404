//! Lines, choices and headings bound to the form.

use leptos::prelude::*;

use crate::parts::{Choice, ChoiceGroup, Said, Switch, TextField, Width, said};
use crate::screens::measure::entry::{Entry, Number, Spot};
use crate::screens::measure::form::Form;
use crate::screens::measure::{Desk, copy};

/// One step with its heading.
#[component]
pub(in crate::screens::measure) fn Step(
    title: &'static str,
    #[prop(optional)] lead: &'static str,
    children: Children,
) -> impl IntoView {
    view! {
        <section class="step">
            <header>
                <h2>{title}</h2>
                {(!lead.is_empty()).then(|| view! { <p class="soft">{said(lead)}</p> })}
            </header>
            {children()}
        </section>
    }
    .into_any()
}

/// What is asked only of some socks. One piece of code whatever it shows: what the browser has to
/// load stays small.
#[component]
pub(super) fn Only(desk: Desk, when: fn(&Form) -> bool, children: ChildrenFn) -> impl IntoView {
    let on = Memo::new(move |_| desk.form.with(when));
    (move || on.get().then(|| children())).into_any()
}

/// Something that not every knitter needs, folded away inside a step.
#[component]
pub(super) fn More(title: &'static str, children: Children) -> impl IntoView {
    view! {
        <details class="more">
            <summary>{said(title)}</summary>
            <div class="unfolded">{children()}</div>
        </details>
    }
    .into_any()
}

/// What is wrong with a choice.
#[component]
pub(super) fn Trouble(desk: Desk, spot: Spot) -> impl IntoView {
    let error = Memo::new(move |_| desk.said_of(spot).map(|wrong| wrong.text(desk.wording())));
    view! { <Said id=spot.id() error /> }
}

/// One thing that is on or off, bound to the form.
#[component]
pub(super) fn Flip(
    desk: Desk,
    name: &'static str,
    choice: Choice,
    get: fn(&Form) -> bool,
    set: fn(&mut Form, bool),
) -> impl IntoView {
    let on = Memo::new(move |_| desk.form.with(get));
    let on_change = Callback::new(move |on| desk.form.update(|form| set(form, on)));
    view! { <Switch name choice on on_change /> }
}

/// One line for a number.
#[component]
pub(super) fn Line(desk: Desk, entry: Entry) -> impl IntoView {
    let value = Memo::new(move |_| desk.form.read().text(entry).to_owned());
    let error = Memo::new(move |_| {
        let wrong = desk.said_of(Spot::Line(entry))?;
        Some(wrong.text(desk.wording()))
    });
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
pub(super) fn Pick(
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
pub(super) fn change(desk: Desk, set: fn(&mut Form, usize)) -> Callback<usize> {
    Callback::new(move |index| desk.form.update(|form| set(form, index)))
}

/// Where a value stands among the choices.
pub(super) fn place<T: PartialEq>(all: &[T], value: &T) -> usize {
    all.iter().position(|one| one == value).unwrap_or(0)
}

/// Takes the value at an index, if there is one.
pub(super) fn pick<T: Copy>(all: &[T], index: usize, value: &mut T) {
    if let Some(one) = all.get(index) {
        *value = *one;
    }
}

/// The name of a choice.
pub(super) fn name(choices: &[Choice], index: usize) -> &'static str {
    choices.get(index).map_or("", |choice| choice.name)
}

/// What was typed for a length, with its unit.
pub(super) fn length(form: &Form, entry: Entry) -> String {
    format!(
        "{} {}",
        form.text(entry).trim(),
        copy::unit(entry, form.unit)
    )
}
