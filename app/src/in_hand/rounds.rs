//! The rounds of one section as a list, in the order in which they are knitted: what repeats is told
//! once. What is done and where the work is, is marked. Choosing a round only asks.

use evenloop_engine::plan::StepForm;
use evenloop_engine::sequence::passages;
use evenloop_engine::text as engine_text;
use evenloop_engine::text::Wording;
use evenloop_engine::trace::Position;
use leptos::prelude::*;

use super::jump::confirm_jump;
use super::remarks;
use super::session::{JumpScope, Session};
use crate::parts::plain::{following, group, paragraph};
use crate::parts::said;
use crate::preferences::use_preferences;
use crate::text;

/// Rounds told together, or one move of a walk.
#[derive(Clone, PartialEq)]
pub(super) struct RoundsRow {
    name: String,
    /// What to do; several where rounds repeat, each with its first round.
    texts: Vec<String>,
    stops: Vec<RoundChoice>,
    /// What was noted and weighed along them.
    pub(super) remarks: Vec<String>,
}

/// One round, row or move that can be chosen.
#[derive(Clone, PartialEq)]
struct RoundChoice {
    at: Position,
    /// Its number, as it stands in the list.
    number: usize,
    /// What it is called for the ear.
    name: String,
    /// Whether something was noted or weighed there.
    noted: bool,
}

#[component]
pub(crate) fn Rounds(
    /// The pair.
    session: Session,
    /// Which section of its plan.
    section: usize,
    /// Whether the section's name stands above the list.
    #[prop(optional)]
    titled: bool,
    /// The place was changed.
    on_jump: Callback<()>,
) -> impl IntoView {
    let preferences = use_preferences();
    let picked = RwSignal::new(None::<RoundChoice>);
    let kind = session.with(|pair| pair.plan.sections.get(section).map(|s| s.kind));
    let name = said(move |wording: Wording| {
        kind.map_or("", |kind| engine_text::section_name(kind, wording.english))
            .to_owned()
    });
    let rows = move || {
        rows(session, section, preferences.get().style)
            .into_iter()
            .map(|row| shown(session, row, picked))
            .collect_view()
    };
    let ask = following("asked", move || {
        let asked = picked.get().map(|stop| {
            let jumped = Callback::new(move |()| {
                picked.set(None);
                on_jump.run(());
            });
            let leave = Callback::new(move |()| picked.set(None));
            group(
                "ask",
                vec![confirm_jump(
                    session,
                    stop.at.into(),
                    jumped,
                    Some(leave),
                    JumpScope::Pair,
                )],
            )
        });
        asked.into_iter().collect()
    });
    view! {
        <div class="rounds">
            {titled.then(|| view! { <h2>{name}</h2> })}
            <ol>{rows}</ol>
            {ask}
        </div>
    }
    .into_any()
}

fn shown(session: Session, row: RoundsRow, picked: RwSignal<Option<RoundChoice>>) -> impl IntoView {
    let remarks: Vec<AnyView> = row
        .remarks
        .into_iter()
        .map(|remark| paragraph("remark", remark))
        .collect();
    let stops = row.stops;
    // One thing that follows the place for all of them: a leg has many rounds, and one for each of
    // their marks would take longer to make than the list itself.
    let stops = move || {
        let (at, asked) = (session.at(), picked.with(|p| p.as_ref().map(|p| p.at)));
        stops
            .iter()
            .map(|one| stop(one, at, asked == Some(one.at), picked))
            .collect_view()
    };
    view! {
        <li>
            <h3>{row.name}</h3>
            {row.texts.into_iter().map(|text| view! { <p>{text}</p> }).collect_view()}
            <div class="stops">{stops}</div>
            {remarks}
        </li>
    }
}

/// One round to be chosen, as it is while the work is at a place.
fn stop(
    stop: &RoundChoice,
    at: Position,
    is_picked: bool,
    picked: RwSignal<Option<RoundChoice>>,
) -> impl IntoView + use<> {
    let (is_here, is_done) = (stop.at == at, stop.at < at);
    let state = if is_here {
        text::now::YOU_ARE_HERE
    } else if is_done {
        text::now::IS_DONE
    } else {
        ""
    };
    let noted = if stop.noted { text::now::IS_NOTED } else { "" };
    let asked = (!is_here).then(|| stop.clone());
    view! {
        <button
            type="button"
            class="stop"
            class:here=is_here
            class:done=is_done
            class:noted=stop.noted
            aria-current=is_here.then_some("step")
            aria-pressed=if is_picked { "true" } else { "false" }
            on:click=move |_| picked.set(asked.clone())
        >
            <span class="unseen">{stop.name.clone()}</span>
            <span aria-hidden="true">{stop.number}</span>
            <span class="unseen">{state}{noted}</span>
        </button>
    }
}

/// The rows of a section.
pub(super) fn rows(session: Session, section: usize, style: Wording) -> Vec<RoundsRow> {
    session.with(|pair| {
        let Some(of) = pair.plan.sections.get(section) else {
            return Vec::new();
        };
        let first = pair
            .trace
            .steps
            .iter()
            .position(|s| s.section == section)
            .unwrap_or(0);
        let noted = |at| pair.journal.remark_at(at).is_some();
        let text = |at| engine_text::one_line(pair.plan, pair.trace, at, style).unwrap_or_default();
        let mut rows = Vec::new();
        let mut counted = Vec::new();
        for (index, step) in of.steps.iter().enumerate() {
            let step_number = first + index;
            if let Some(number) = of.number(index) {
                let at = Position {
                    step: step_number,
                    mv: 0,
                };
                counted.push((text(at), step.form, at, number));
                continue;
            }
            rows.extend(in_order(&std::mem::take(&mut counted), &noted, |moves| {
                remarks::along(pair, moves, style)
            }));
            rows.extend((0..step.moves.len()).map(|mv| {
                let at = Position {
                    step: step_number,
                    mv,
                };
                let name = text::now::move_number(mv + 1);
                let stop = RoundChoice {
                    at,
                    number: mv + 1,
                    name: name.clone(),
                    noted: noted(at),
                };
                RoundsRow {
                    name,
                    texts: vec![text(at)],
                    stops: vec![stop],
                    remarks: remarks::along(pair, &[(at.step, mv)], style),
                }
            }));
        }
        rows.extend(in_order(&counted, &noted, |moves| {
            remarks::along(pair, moves, style)
        }));
        rows
    })
}

/// Rounds that follow one another, each with what to do, in rows.
fn in_order(
    counted: &[(String, StepForm, Position, usize)],
    noted: &impl Fn(Position) -> bool,
    remarks: impl Fn(&[(usize, usize)]) -> Vec<String>,
) -> Vec<RoundsRow> {
    let read: Vec<_> = counted
        .iter()
        .map(|(text, form, ..)| (text, form))
        .collect();
    passages(&read)
        .into_iter()
        .map(|passage| {
            let all = &counted[passage.first..passage.first + passage.len()];
            let numbers: Vec<usize> = all.iter().map(|(.., number)| *number).collect();
            let form = all.iter().map(|(_, form, ..)| *form).next();
            let runs = all[..passage.every].chunk_by(|a, b| a.0 == b.0);
            let texts = runs.map(|run| {
                let numbers: Vec<usize> = run.iter().map(|(.., number)| *number).collect();
                match run.first() {
                    Some((text, form, ..)) if passage.every > 1 => {
                        text::now::numbered_text(&text::now::round_numbers(*form, &numbers), text)
                    }
                    Some((text, ..)) => text.clone(),
                    None => String::new(),
                }
            });
            let moves: Vec<_> = all.iter().map(|(_, _, at, _)| (at.step, at.mv)).collect();
            RoundsRow {
                name: form
                    .map_or_else(String::new, |form| text::now::round_numbers(form, &numbers)),
                texts: texts.collect(),
                stops: all
                    .iter()
                    .map(|(_, form, at, number)| RoundChoice {
                        at: *at,
                        number: *number,
                        name: text::now::round_numbers(*form, &[*number]),
                        noted: noted(*at),
                    })
                    .collect(),
                remarks: remarks(&moves),
            }
        })
        .collect()
}
