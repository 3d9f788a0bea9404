//! A begun sock in the form: where it is, and what a change would mean.

use std::sync::Arc;

use evenloop_engine::plan::SectionKind;
use leptos::prelude::*;

use super::begun::{Begun, rounds};
use super::desk::Desk;
use super::steps::FormStep;
use crate::parts::{Notice, ShownText, Stepper, Tone, said};
use crate::text::measure as text;

/// Where the sock is, and the rounds of leg and foot.
#[component]
pub(super) fn BegunStep(desk: Desk, begun: Arc<Begun>) -> impl IntoView {
    let lead = {
        let begun = begun.clone();
        said(move |wording| text::begun(&begun.name, begun.sock, &begun.place(wording)))
    };
    let parts = [SectionKind::Leg, SectionKind::Foot];
    let steppers: Vec<_> = parts
        .into_iter()
        .filter(|kind| rounds(begun.plan(), *kind) > 0)
        .map(|kind| {
            let planned = rounds(begun.plan(), kind);
            let least = begun.knitted(kind);
            // While something else is wrong the last number stands.
            let value = Memo::new(move |before: Option<&u16>| {
                let usual = before.copied().unwrap_or(planned);
                let plan = desk.plan.read();
                plan.as_ref().map_or(usual, |plan| rounds(plan, kind))
            });
            let on_change = Callback::new(move |wanted: u16| {
                let more = i32::from(wanted) - i32::from(value.get_untracked());
                desk.form.update(|form| form.add_rounds(kind, more));
            });
            view! {
                <Stepper
                    id=format!("rounds-{}", kind.key())
                    label=text::rounds_of(kind).to_owned()
                    value=Signal::from(value)
                    on_change
                    least
                    most=999
                />
            }
            .into_any()
        })
        .collect();
    let guessed = begun.plan().recipe.swatch.guess.is_some();
    view! {
        <FormStep title=text::BEGUN lead=text::BEGUN_LEAD>
            <p>{lead}</p>
            {guessed.then(|| view! { <p>{ShownText::from(text::BEGUN_GUESS).shown()}</p> })}
            <div class="steppers">{steppers}</div>
        </FormStep>
    }
    .into_any()
}

/// What would be different, above the plan.
#[component]
pub(super) fn Differences(desk: Desk, begun: Arc<Begun>) -> impl IntoView {
    let said = Memo::new(move |_| {
        let plan = desk.plan.read();
        let plan = plan.as_ref().ok()?;
        Some((begun.said(plan, desk.wording()), begun.leaves_other(plan)))
    });
    move || {
        said.get().map(|(said, left)| {
            let left = left.then(|| view! { <p>{text::OTHER_STAYS}</p> });
            let lines: Vec<_> = said
                .into_iter()
                .map(|line| view! { <li>{line}</li> })
                .collect();
            let body = if lines.is_empty() {
                view! { <p>{text::NO_CHANGE}</p> }.into_any()
            } else {
                view! {
                    <p>
                        <strong>{text::CHANGES}</strong>
                    </p>
                    <ul>{lines}</ul>
                }
                .into_any()
            };
            view! {
                <Notice tone=Tone::Mind>
                    {body}
                    {left}
                </Notice>
            }
        })
    }
}

/// Why the sock could not be opened for a change.
#[component]
pub(super) fn NotOpened() -> impl IntoView {
    view! {
        <Notice tone=Tone::Wrong>
            <p>{text::NOT_OPENED}</p>
        </Notice>
    }
}
