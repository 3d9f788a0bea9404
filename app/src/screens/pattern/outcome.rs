//! What the sock comes to: its counts, its sections, and the sock itself, drawn.

use std::sync::Arc;
use std::time::Duration;

use evenloop_engine::error::FieldError;
use evenloop_engine::plan::{Outcome, Plan, PlanError};
use evenloop_engine::text::{self as engine_text, Wording};
use leptos::prelude::*;
use leptos::task::spawn_local;

use super::desk::{Checked, Desk};
use super::form::GivenNumber;
use crate::after_paint::after_paint;
use crate::fabric::FabricPicture;
use crate::hue::Hue;
use crate::lazy_pictures;
use crate::parts::plain::paragraph;
use crate::parts::{FabricFigure, problem};
use crate::preferences::use_preferences;
use crate::text::{measure, mistake, pattern as text};

#[component]
pub(super) fn OutcomePanel(desk: Desk) -> impl IntoView {
    let picture = picture(desk);
    let told = move || match &*desk.checked.read() {
        None => view! {
            <h2 id="plan-title">{measure::NO_PLAN}</h2>
            {paragraph("soft", text::NOTHING_TO_PLAN)}
        }
        .into_any(),
        Some(checked) => comes_to(checked, desk.wording.get()),
    };
    view! {
        <section class="sheet outcome" id="plan" tabindex="-1" aria-labelledby="plan-title">
            <FabricFigure class="of-outcome" picture />
            {told}
        </section>
    }
    .into_any()
}

/// So long nothing is typed before the sock is drawn: it takes longer than a letter may wait.
const QUIET: Duration = Duration::from_millis(900);

/// The sock as it would be, drawn anew once nothing more is typed.
fn picture(desk: Desk) -> RwSignal<Option<FabricPicture>> {
    let preferences = use_preferences();
    let picture = RwSignal::new(None);
    let asked = StoredValue::new(0_u32);
    Effect::new(move |drawn: Option<()>| {
        let plan = desk.checked.with(|checked| {
            let checked = checked.as_ref()?;
            checked.plan.as_ref().ok().map(Arc::clone)
        });
        let hues = preferences.get().hues;
        asked.update_value(|count| *count = count.wrapping_add(1));
        let nth = asked.get_value();
        let wait = if drawn.is_some() {
            QUIET
        } else {
            Duration::ZERO
        };
        when_quiet(desk, wait, move || {
            if asked.try_get_value() == Some(nth) {
                after_paint(move || spawn_local(draw(picture, plan, hues)));
            }
        });
    });
    picture
}

/// Does something after a while in which nothing was typed.
fn when_quiet(desk: Desk, wait: Duration, act: impl FnOnce() + 'static) {
    set_timeout(
        move || match desk.pending.try_get_untracked() {
            Some(true) => when_quiet(desk, QUIET, act),
            Some(false) => act(),
            // The screen was left meanwhile.
            None => {}
        },
        wait,
    );
}

async fn draw(picture: RwSignal<Option<FabricPicture>>, plan: Option<Arc<Plan>>, hues: [Hue; 4]) {
    let drawn = match plan {
        Some(plan) => lazy_pictures::of_plan(plan, hues).await.ok(),
        None => None,
    };
    // The screen may have been left meanwhile.
    picture.try_set(drawn);
}

fn comes_to(checked: &Checked, wording: Wording) -> AnyView {
    match &checked.plan {
        Ok(plan) => found(&plan.outcome, wording),
        Err(PlanError::Bug(bug)) => {
            // What cannot be worked as it is printed cannot be seated either.
            let said = match checked.findings.first() {
                Some(first) => text::mend_first(first.spot.line),
                None => mistake::mistake(bug),
            };
            view! {
                <h2 id="plan-title">{measure::NO_PLAN}</h2>
                {paragraph("", said)}
            }
            .into_any()
        }
        Err(PlanError::Impossible(fields)) => {
            // What is said at its own line is not said twice.
            let elsewhere = |error: &&FieldError| {
                !GivenNumber::ALL
                    .iter()
                    .any(|number| number.field().path() == error.field)
            };
            let items = fields
                .iter()
                .filter(elsewhere)
                .map(|error| view! { <li>{problem(&error.problem, wording)}</li> })
                .collect_view();
            view! {
                <h2 id="plan-title">{measure::NO_PLAN}</h2>
                <p>{measure::NO_PLAN_LEAD}</p>
                <ul class="to-mend">{items}</ul>
            }
            .into_any()
        }
    }
}

fn found(outcome: &Outcome, wording: Wording) -> AnyView {
    let facts = facts(outcome)
        .into_iter()
        .map(|(name, value)| {
            view! {
                <div>
                    <dt>{name.say(wording)}</dt>
                    <dd>{value}</dd>
                </div>
            }
        })
        .collect_view();
    let rows = outcome
        .sections
        .iter()
        .map(|section| {
            view! {
                <tr>
                    <th scope="row">{engine_text::section_name(section.kind, wording.english)}</th>
                    <td>{(section.steps > 0).then_some(section.steps)}</td>
                </tr>
            }
        })
        .collect_view();
    view! {
        <h2 id="plan-title">{measure::PLAN}</h2>
        <p class="headline">
            <strong>{outcome.stitches}</strong>
            <span>{measure::AROUND}</span>
        </p>
        <dl class="facts">{facts}</dl>
        <table class="section-table">
            <caption>{measure::TABLE}</caption>
            <thead>
                <tr>
                    <th scope="col">{measure::SECTION}</th>
                    <th scope="col">{measure::ROUNDS}</th>
                </tr>
            </thead>
            <tbody>{rows}</tbody>
        </table>
    }
    .into_any()
}

/// Counts only: a pattern may know neither gauge nor foot.
fn facts(outcome: &Outcome) -> Vec<(crate::text::Sentence, String)> {
    let with_flap = outcome.flap_rows > 0;
    let facts = [
        (outcome.cast_on != 0 && outcome.cast_on != outcome.stitches)
            .then(|| (measure::TOP, measure::stitches(outcome.cast_on))),
        with_flap.then(|| {
            let flap = measure::flap(outcome.heel_stitches, outcome.flap_rows);
            (measure::FLAP, flap)
        }),
        (outcome.turned > 0).then(|| (measure::TURNED, measure::stitches(outcome.turned))),
        (outcome.picked_up > 0).then(|| (measure::PICKED_UP, measure::stitches(outcome.picked_up))),
        Some((measure::PEAK, measure::stitches(outcome.peak))),
        match (outcome.graft_pairs, outcome.toe_left) {
            (0, 0) => None,
            (0, left) => Some((measure::DRAWN, measure::stitches(left))),
            (pairs, _) => Some((measure::GRAFTED, measure::grafted(pairs))),
        },
    ];
    facts.into_iter().flatten().collect()
}
