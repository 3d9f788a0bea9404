//! The plan's outcome beside the form: what the engine says the sock comes to, or why it is none.

use evenloop_engine::error::FieldError;
use evenloop_engine::plan::Outcome;
use evenloop_engine::recipe::Direction;
use evenloop_engine::units::{Length, LengthUnit};
use evenloop_engine::words;
use leptos::prelude::*;

use super::entry::Spot;
use super::{Desk, copy, go_to};
use crate::parts::{Notice, Tone};

/// The panel.
#[component]
pub(super) fn OutcomePanel(desk: Desk) -> impl IntoView {
    let direction = Memo::new(move |_| desk.form.read().direction);
    view! {
        <section class="sheet outcome" id="plan" tabindex="-1" aria-labelledby="plan-title">
            {move || match desk.verdict.get() {
                Ok(outcome) => found(&outcome, direction.get(), desk.unit()).into_any(),
                Err(errors) => missing(errors).into_any(),
            }}
        </section>
    }
    .into_any()
}

fn found(outcome: &Outcome, direction: Direction, unit: LengthUnit) -> impl IntoView + use<> {
    let around = outcome.stitches;
    let facts = facts(outcome, direction, unit);
    let rows = outcome
        .sections
        .iter()
        .map(|section| {
            let length = section.length;
            // Casting on and closing have no height worth a number.
            let height = (length != Length::default()).then(|| length.show(unit));
            view! {
                <tr>
                    <th scope="row">{words::section_name(section.kind)}</th>
                    <td>{section.steps}</td>
                    <td>{height}</td>
                </tr>
            }
        })
        .collect_view();
    let cautions = outcome
        .cautions
        .iter()
        .map(|caution| {
            let caution = words::caution(*caution);
            view! {
                <Notice tone=Tone::Mind>
                    <p>{caution}</p>
                </Notice>
            }
        })
        .collect_view();
    view! {
        <h2 id="plan-title">{copy::PLAN}</h2>
        <p class="headline">
            <strong>{around}</strong>
            <span>{copy::AROUND}</span>
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
            <caption>{copy::TABLE}</caption>
            <thead>
                <tr>
                    <th scope="col">{copy::SECTION}</th>
                    <th scope="col">{copy::ROUNDS}</th>
                    <th scope="col">{copy::HEIGHT}</th>
                </tr>
            </thead>
            <tbody>{rows}</tbody>
        </table>
        <p class="soft small">{copy::YARN_NOTE}</p>
    }
}

/// What the sock comes to, name by name.
fn facts(outcome: &Outcome, direction: Direction, unit: LengthUnit) -> Vec<(&'static str, String)> {
    let with_flap = outcome.flap_rows > 0;
    // Only one end of the cuff has a tail to leave: the one where it is cast on or bound off.
    let tail = match direction {
        Direction::CuffDown => (copy::TAIL, outcome.cast_on_tail.show(unit)),
        Direction::ToeUp => (copy::BIND_OFF_TAIL, outcome.bind_off_tail.show(unit)),
    };
    let tube = |name, length: Length, on_needles: Option<Length>| {
        let shown = copy::length(&length.show(unit), on_needles.map(|l| l.show(unit)));
        Some((name, shown))
    };
    let facts = [
        Some((copy::WIDTH, outcome.circumference.show(unit))),
        Some((copy::EASE, copy::ease(outcome.ease_permille))),
        (outcome.cast_on != outcome.stitches).then(|| (copy::TOP, copy::stitches(outcome.cast_on))),
        tube(copy::LEG_LENGTH, outcome.leg_length, outcome.leg_on_needles),
        tube(
            copy::FOOT_LENGTH,
            outcome.foot_length,
            outcome.foot_on_needles,
        ),
        with_flap.then(|| {
            (
                copy::FLAP,
                copy::flap(outcome.heel_stitches, outcome.flap_rows),
            )
        }),
        with_flap.then(|| (copy::TURNED, copy::stitches(outcome.turned))),
        (outcome.picked_up > 0).then(|| (copy::PICKED_UP, copy::stitches(outcome.picked_up))),
        Some((copy::PEAK, copy::stitches(outcome.peak))),
        Some(match outcome.graft_pairs {
            0 => (copy::DRAWN, copy::stitches(outcome.toe_left)),
            pairs => (copy::GRAFTED, copy::grafted(pairs)),
        }),
        Some(tail),
        Some((copy::YARN_ONE, copy::yarn(outcome.metres, outcome.grams))),
    ];
    let yarns = outcome
        .yarns
        .iter()
        .map(|one| (copy::yarn_of(one.yarn), copy::yarn(one.metres, one.grams)));
    facts.into_iter().flatten().chain(yarns).collect()
}

fn missing(errors: Vec<FieldError>) -> impl IntoView {
    let items = errors
        .into_iter()
        .map(|error| {
            let FieldError {
                field,
                message,
                help,
                ..
            } = error;
            let name = Spot::of_field(&field).map(|spot| {
                let address = format!("#{}", spot.id());
                let go = move |event: leptos::ev::MouseEvent| {
                    event.prevent_default();
                    go_to(spot.id());
                };
                view! {
                    <a href=address rel="external" on:click=go>
                        {copy::spot(spot)}
                    </a>
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
        <h2 id="plan-title">{copy::NO_PLAN}</h2>
        <p>{copy::NO_PLAN_LEAD}</p>
        <ul class="to-mend">{items}</ul>
    }
}
