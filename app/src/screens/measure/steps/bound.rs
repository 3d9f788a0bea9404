//! Fields and headings bound to the form.

use evenloop_engine::recipe::{NumberField, Presence, Unit};
use leptos::prelude::*;

use crate::parts::{Choice, ChoiceGroup, Said, ShownText, Switch, TextField, Width};
use crate::screens::measure::desk::Desk;
use crate::screens::measure::fields::{FormPlace, id, line, range};
use crate::screens::measure::form::FieldGroup;
use crate::screens::measure::form::{Control, Example, MeasureForm, Question, choice};
use crate::text::measure as text;

/// One step with its heading.
#[component]
pub(in crate::screens::measure) fn FormStep(
    title: &'static str,
    #[prop(optional, into)] lead: ShownText,
    children: Children,
) -> impl IntoView {
    view! {
        <section class="step">
            <header>
                <h2>{title}</h2>
                {(!lead.is_empty()).then(|| view! { <p class="soft">{lead.shown()}</p> })}
            </header>
            {children()}
        </section>
    }
    .into_any()
}

/// What is asked only of some socks. One piece of code whatever it shows: what the browser has to
/// load stays small.
#[component]
pub(super) fn Only(
    desk: Desk,
    when: fn(&MeasureForm) -> bool,
    children: ChildrenFn,
) -> impl IntoView {
    only(desk, Box::new(when), children)
}

fn only(
    desk: Desk,
    when: Box<dyn Fn(&MeasureForm) -> bool + Send + Sync>,
    what: ChildrenFn,
) -> AnyView {
    let on = Memo::new(move |_| desk.form.with(&when));
    (move || on.get().then(|| what())).into_any()
}

/// Something that not every knitter needs, folded away inside a step.
#[component]
pub(super) fn More(#[prop(into)] title: ShownText, children: Children) -> impl IntoView {
    view! {
        <details class="more">
            <summary>{title.shown()}</summary>
            <div class="unfolded">{children()}</div>
        </details>
    }
    .into_any()
}

/// What is wrong with a field that is no line.
#[component]
pub(super) fn Trouble(desk: Desk, field: FormPlace) -> impl IntoView {
    let error = Memo::new(move |_| desk.said_of(field).map(|wrong| wrong.text(desk.wording())));
    view! { <Said id=field.id() error /> }
}

/// The lines of a group, of a place where they belong to one, as far as they are asked for.
#[component]
pub(super) fn Lines(desk: Desk, group: FieldGroup, #[prop(optional)] place: u8) -> impl IntoView {
    let one = |field: NumberField| match line(field).and_then(|line| line.asked) {
        // Whether a place is there at all is for those who show the place.
        Some(asked) if field.place().is_none() => {
            let what: ChildrenFn = std::sync::Arc::new(move || number(desk, field));
            only(desk, Box::new(move |form| asked(form, field)), what)
        }
        _ => number(desk, field),
    };
    group.numbers(place).map(one).collect_view().into_any()
}

/// One line for a number.
fn number(desk: Desk, field: NumberField) -> AnyView {
    let Some(line) = line(field) else {
        return ().into_any();
    };
    let value = Memo::new(move |_| desk.form.read().text(field).to_owned());
    let error = Memo::new(move |_| {
        let wrong = desk.said_of(FormPlace::Number(field))?;
        Some(wrong.text(desk.wording()))
    });
    let wording = Memo::new(move |_| desk.wording());
    // Where an example stands in the line, the range is said only of what lies outside of it.
    let has_example = MeasureForm::default().example(field).is_some();
    let hint = Signal::derive(move || {
        let wording = wording.get();
        let range = range(field, wording.unit).filter(|_| !has_example);
        text::hint(&line.text.asks.say(wording), range)
    });
    let example = Signal::derive(move || match desk.form.read().example(field) {
        Some(Example::Taken(taken)) => taken,
        Some(Example::Such(such)) => text::such_as(&such),
        None => String::new(),
    });
    let inputmode = match field.unit() {
        Unit::Length | Unit::Grams => "decimal",
        _ => "numeric",
    };
    view! {
        <TextField
            id=id(field)
            label=line.text.label
            optional=field.presence() != Presence::Required
            hint
            unit=Signal::derive(move || text::sign(field.unit(), wording.get().unit))
            inputmode
            example
            value
            on_input=Callback::new(move |text| {
                desk.form.update(|form| form.type_into(field, text));
            })
            on_leave=Callback::new(move |()| desk.leave(field))
            error
        />
    }
    .into_any()
}

/// The questions of a group, as far as they are asked; beside those that choose from a few, what is
/// wrong with the answer.
#[component]
pub(super) fn Questions(desk: Desk, group: FieldGroup) -> impl IntoView {
    let one = |asked: Question| match asked.asked() {
        Some(when) => {
            let what: ChildrenFn = std::sync::Arc::new(move || question(desk, asked));
            only(desk, Box::new(when), what)
        }
        None => question(desk, asked),
    };
    group.questions().map(one).collect_view().into_any()
}

fn question(desk: Desk, question: Question) -> AnyView {
    let name = question.name();
    match question.control() {
        Control::Pick {
            legend,
            width,
            choices,
            get,
            set,
        } => {
            let set = Callback::new(move |index| desk.form.update(|form| set(form, index)));
            let trouble = question.path().map(|_| {
                let field = FormPlace::Question(question);
                view! { <Trouble desk field /> }
            });
            view! {
                <Pick desk name legend choices width get set />
                {trouble}
            }
            .into_any()
        }
        Control::Flip { text, get, set } => {
            let on = Memo::new(move |_| desk.form.with(get));
            let on_change = Callback::new(move |on| desk.form.update(|form| set(form, on)));
            view! { <Switch name choice=choice(text) on on_change /> }.into_any()
        }
    }
}

/// What is wrong with the questions of a group that are answered by yes and no.
#[component]
pub(super) fn Troubles(desk: Desk, group: FieldGroup) -> impl IntoView {
    let wrong = group.questions().filter(|one| one.path().is_some());
    let one = |question| view! { <Trouble desk field=FormPlace::Question(question) /> };
    wrong.map(one).collect_view().into_any()
}

/// One of a few, bound to the form.
#[component]
pub(super) fn Pick(
    desk: Desk,
    name: &'static str,
    #[prop(into)] legend: ShownText,
    choices: Vec<Choice>,
    #[prop(optional)] width: Width,
    get: fn(&MeasureForm) -> usize,
    set: Callback<usize>,
) -> impl IntoView {
    let picked = Memo::new(move |_| desk.form.with(get));
    view! { <ChoiceGroup name legend choices width picked on_pick=set /> }
}

/// What was typed for a length, or is usual, with its unit.
pub(super) fn length(form: &MeasureForm, field: NumberField) -> String {
    format!(
        "{} {}",
        form.text_or_usual(field),
        text::sign(field.unit(), form.unit)
    )
}
