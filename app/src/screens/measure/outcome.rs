//! The plan's outcome beside the form: what the engine says the sock comes to, or why it is none.

use std::sync::Arc;

use evenloop_engine::needle_size::Needle;
use evenloop_engine::plan::{Outcome, Plan};
use evenloop_engine::recipe::{Direction, Recipe};
use evenloop_engine::text as engine_text;
use evenloop_engine::text::{ProblemText, Wording};
use evenloop_engine::units::Length;
use leptos::prelude::*;
use leptos::task::spawn_local;

use super::desk::{Desk, go_to};
use super::fields::FormPlace;
use super::form::MeasureStep;
use super::wrong::Wrong;
use crate::after_paint::after_paint;
use crate::fabric::FabricPicture;
use crate::hue::Hue;
use crate::lazy_pictures;
use crate::parts::{FabricFigure, Notice, Tone};
use crate::preferences::use_preferences;
use crate::text::Sentence;
use crate::text::measure as text;
use crate::text::parts::section_alone;

/// The panel.
#[component]
pub(super) fn OutcomePanel(desk: Desk) -> impl IntoView {
    let given = Memo::new(move |_| {
        let form = desk.form.read();
        let planned = desk.plan.read();
        let edge = planned.as_ref().ok().map(|plan| &plan.recipe);
        OutcomeInput {
            direction: form.direction,
            needle: form.needle,
            sews_edge: edge.is_some_and(Recipe::sews_edge),
            binds_off_plainly: edge.is_some_and(Recipe::binds_off_plainly),
        }
    });
    let picture = picture(desk);
    view! {
        <section
            class="sheet outcome"
            class:sketch=move || desk.sketch.with(Option::is_some)
            id="plan"
            tabindex="-1"
            aria-labelledby="plan-title"
        >
            <FabricFigure class="of-outcome" picture />
            {move || match desk.verdict.get() {
                Ok(outcome) => found(&outcome, given.get(), desk.wording()).into_any(),
                Err(errors) => match (errors.iter().find(|wrong| wrong.is_mistake()), desk.needed()) {
                    (Some(mistake), _) => mistaken(mistake, desk.wording()).into_any(),
                    (None, Some(places)) => needed(places, desk.wording()).into_any(),
                    (None, None) => missing(&errors, desk.wording()).into_any(),
                },
            }}
        </section>
    }
    .into_any()
}

/// The sock as it would be, redrawn once what was typed is on the screen.
fn picture(desk: Desk) -> RwSignal<Option<FabricPicture>> {
    let preferences = use_preferences();
    let picture = RwSignal::new(None);
    let due = StoredValue::new(false);
    Effect::new(move || {
        desk.plan.track();
        desk.sketch.track();
        preferences.get();
        if due.get_value() {
            return;
        }
        due.set_value(true);
        after_paint(move || {
            // The screen may have been left meanwhile.
            if due.try_set_value(false).is_none()
                && let Some(plan) = desk.plan.try_get_untracked()
            {
                let plan = plan.ok().or_else(|| desk.sketch.get_untracked());
                spawn_local(draw(picture, plan, preferences.get_untracked().hues));
            }
        });
    });
    picture
}

async fn draw(picture: RwSignal<Option<FabricPicture>>, plan: Option<Arc<Plan>>, hues: [Hue; 4]) {
    let drawn = match plan {
        Some(plan) => lazy_pictures::of_plan(plan, hues).await.ok(),
        None => None,
    };
    picture.try_set(drawn);
}

/// What of the form is shown beside what the engine makes of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct OutcomeInput {
    direction: Direction,
    needle: Option<Needle>,
    /// Whether a tail is left to sew the last edge with.
    sews_edge: bool,
    /// Whether the last edge wants a thicker needle.
    binds_off_plainly: bool,
}

fn found(outcome: &Outcome, given: OutcomeInput, wording: Wording) -> impl IntoView + use<> {
    let around = outcome.stitches;
    let facts = facts(outcome, given, wording);
    let has_gusset = outcome.has_gusset();
    let rows = outcome
        .sections
        .iter()
        .map(|section| {
            let length = section.length;
            // Casting on and closing have no height worth a number.
            let height = (length != Length::default()).then(|| length.show_small(wording.unit));
            let name = engine_text::section_name(section.kind, wording.english);
            view! {
                <tr>
                    <th scope="row">{section_alone(section.kind, has_gusset).unwrap_or(name)}</th>
                    <td>{(section.steps > 0).then_some(section.steps)}</td>
                    <td>{height}</td>
                </tr>
            }
        })
        .collect_view();
    let cautions = outcome
        .cautions
        .iter()
        .map(|caution| {
            let caution = engine_text::caution(*caution, wording.english);
            view! {
                <Notice tone=Tone::Mind>
                    <p>{caution}</p>
                </Notice>
            }
        })
        .collect_view();
    view! {
        <h2 id="plan-title">{text::PLAN}</h2>
        <p class="headline">
            <strong>{around}</strong>
            <span>{text::AROUND}</span>
        </p>
        <dl class="facts">
            {facts
                .into_iter()
                .map(|(name, value)| {
                    view! {
                        <div>
                            <dt>{name}</dt>
                            <dd>{value}</dd>
                        </div>
                    }
                })
                .collect_view()}
        </dl>
        {cautions}
        <table class="section-table">
            <caption>{text::TABLE}</caption>
            <thead>
                <tr>
                    <th scope="col">{text::SECTION}</th>
                    <th scope="col">{text::ROUNDS}</th>
                    <th scope="col">{text::HEIGHT}</th>
                </tr>
            </thead>
            <tbody>{rows}</tbody>
        </table>
        <p class="soft small">{text::YARN_NOTE}</p>
    }
}

/// What the sock comes to, name by name.
fn facts(outcome: &Outcome, given: OutcomeInput, wording: Wording) -> Vec<(String, String)> {
    let with_flap = outcome.flap_rows > 0;
    // Only one end of the cuff has a tail to leave: the one where it is cast on, or sewn at the end.
    // Any other bind-off is worked from the ball.
    let tail = match given.direction {
        Direction::CuffDown => Some((text::TAIL, outcome.cast_on_tail)),
        Direction::ToeUp if given.sews_edge => Some((text::BIND_OFF_TAIL, outcome.bind_off_tail)),
        Direction::ToeUp => None,
    }
    .map(|(name, tail)| (name, tail.show_about(wording.unit)));
    // From the toe up the turn leaves the heel as wide as it was.
    let narrowed = with_flap && given.direction == Direction::CuffDown;
    let tube = |name, finished: Length, on_needles: Option<Length>| {
        Some((name, text::length(finished, on_needles, wording)))
    };
    // A plain bind-off is worked on a thicker needle.
    let for_the_edge = given
        .binds_off_plainly
        .then(|| given.needle?.larger())
        .flatten();
    let facts = [
        given.needle.map(|n| (text::FACT_NEEDLES, n.to_string())),
        for_the_edge.map(|n| (text::BIND_OFF_NEEDLE, n.to_string())),
        Some((text::WIDTH, outcome.circumference.show(wording.unit))),
        Some((text::EASE, text::ease(outcome.ease_permille))),
        (outcome.cast_on != outcome.stitches).then(|| (text::TOP, text::stitches(outcome.cast_on))),
        tube(text::LEG_LENGTH, outcome.leg_length, outcome.leg_on_needles),
        tube(
            text::FOOT_LENGTH,
            outcome.foot_length,
            outcome.foot_on_needles,
        ),
        with_flap.then(|| {
            (
                text::FLAP,
                text::flap(outcome.heel_stitches, outcome.flap_rows),
            )
        }),
        narrowed.then(|| (text::TURNED, text::stitches(outcome.turned))),
        (outcome.picked_up > 0).then(|| (text::PICKED_UP, text::stitches(outcome.picked_up))),
        Some((text::PEAK, text::stitches(outcome.peak))),
        Some(match outcome.graft_pairs {
            0 => (text::DRAWN, text::stitches(outcome.toe_left)),
            pairs => (text::GRAFTED, text::grafted(pairs)),
        }),
        tail,
        Some((
            text::YARN_ONE,
            text::yarn(outcome.metres, outcome.grams, wording.unit),
        )),
    ];
    let yarns = outcome.yarns.iter().map(|one| {
        let name = Sentence::Fixed(text::yarn_of(one.yarn));
        (name, text::yarn(one.metres, one.grams, wording.unit))
    });
    let facts = facts.into_iter().flatten().chain(yarns);
    facts
        .map(|(name, value)| (name.say(wording), value))
        .collect()
}

/// What the knitter cannot mend; the sock on the needles goes on.
fn mistaken(mistake: &Wrong, wording: Wording) -> impl IntoView + use<> {
    let said = mistake.text(wording).message;
    view! {
        <h2 id="plan-title">{text::NO_PLAN}</h2>
        <p>{said}</p>
    }
}

/// What is still to be filled in, each a way to its line.
fn needed(places: Vec<FormPlace>, wording: Wording) -> impl IntoView + use<> {
    let items = places
        .into_iter()
        .map(|place| {
            let called = match place.step() {
                Some(MeasureStep::Foot) => text::NEEDED_FOOT.to_owned(),
                Some(MeasureStep::Swatch) => text::NEEDED_SWATCH.to_owned(),
                _ => place.called(wording),
            };
            view! { <li>{way_to(place, called)}</li> }
        })
        .collect_view();
    view! {
        <p class="soft small">{text::SKETCH}</p>
        <h2 id="plan-title">{text::NEEDED}</h2>
        <ul class="to-mend">{items}</ul>
    }
}

fn way_to(place: FormPlace, called: String) -> impl IntoView + use<> {
    let address = format!("#{}", place.id());
    let go = move |event: leptos::ev::MouseEvent| {
        event.prevent_default();
        go_to(place.id());
    };
    view! {
        <a href=address rel="external" on:click=go>
            {called}
        </a>
    }
}

fn missing(errors: &[Wrong], wording: Wording) -> impl IntoView + use<> {
    let items = errors
        .iter()
        .map(|error| {
            let ProblemText { message, help } = error.text(wording);
            let name = error.field.map(|field| {
                view! {
                    {way_to(field, field.called(wording))}
                    ": "
                }
            });
            view! {
                <li>
                    {name}
                    {message}
                    " "
                    {help}
                </li>
            }
        })
        .collect_view();
    view! {
        <h2 id="plan-title">{text::NO_PLAN}</h2>
        <p>{text::NO_PLAN_LEAD}</p>
        <ul class="to-mend">{items}</ul>
    }
}
