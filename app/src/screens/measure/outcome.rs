//! The plan's outcome beside the form: what the engine says the sock comes to, or why it is none.

use evenloop_engine::needle_size::Needle;
use evenloop_engine::plan::Outcome;
use evenloop_engine::recipe::{BindOff, Direction};
use evenloop_engine::text as engine_text;
use evenloop_engine::text::ProblemText;
use evenloop_engine::units::{Length, LengthUnit};
use leptos::prelude::*;

use super::entry::Spot;
use super::wrong::Wrong;
use super::{Desk, copy, go_to};
use crate::parts::{Notice, Tone, Words};

/// The panel.
#[component]
pub(super) fn OutcomePanel(desk: Desk) -> impl IntoView {
    let given = Memo::new(move |_| {
        let form = desk.form.read();
        Given {
            direction: form.direction,
            needle: form.needle,
            plain_bind_off: form.bind_off == BindOff::Plain,
        }
    });
    let words = Words::here();
    view! {
        <section class="sheet outcome" id="plan" tabindex="-1" aria-labelledby="plan-title">
            {move || match desk.verdict.get() {
                Ok(outcome) => found(&outcome, given.get(), desk.unit(), words).into_any(),
                Err(errors) => missing(&errors, desk, words).into_any(),
            }}
        </section>
    }
    .into_any()
}

/// What of the form is shown beside what the engine makes of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Given {
    direction: Direction,
    needle: Option<Needle>,
    plain_bind_off: bool,
}

fn found(outcome: &Outcome, given: Given, unit: LengthUnit, words: Words) -> impl IntoView + use<> {
    let around = outcome.stitches;
    let facts = facts(outcome, given, unit);
    let rows = outcome
        .sections
        .iter()
        .map(|section| {
            let length = section.length;
            // Casting on and closing have no height worth a number.
            let height = (length != Length::default()).then(|| length.show(unit));
            view! {
                <tr>
                    <th scope="row">{words.say(engine_text::section_name(section.kind, engine_text::English::AsWritten))}</th>
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
            let caution = engine_text::caution(*caution);
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
                            <dt>{words.say(name)}</dt>
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
fn facts(outcome: &Outcome, given: Given, unit: LengthUnit) -> Vec<(&'static str, String)> {
    let with_flap = outcome.flap_rows > 0;
    // Only one end of the cuff has a tail to leave: the one where it is cast on or bound off.
    let tail = match given.direction {
        Direction::CuffDown => (copy::TAIL, outcome.cast_on_tail.show(unit)),
        Direction::ToeUp => (copy::BIND_OFF_TAIL, outcome.bind_off_tail.show(unit)),
    };
    let tube = |name, length: Length, on_needles: Option<Length>| {
        let shown = copy::length(&length.show(unit), on_needles.map(|l| l.show(unit)));
        Some((name, shown))
    };
    // A plain bind-off is worked on a thicker needle.
    let for_the_edge = (given.direction == Direction::ToeUp && given.plain_bind_off)
        .then(|| given.needle?.larger())
        .flatten();
    let facts = [
        given.needle.map(|n| (copy::NEEDLES, n.to_string())),
        for_the_edge.map(|n| (copy::BIND_OFF_NEEDLE, n.to_string())),
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

fn missing(errors: &[Wrong], desk: Desk, words: Words) -> impl IntoView + use<> {
    let items = errors
        .iter()
        .map(|error| {
            let ProblemText { message, help } = error.text(desk.wording());
            let name = Spot::of_field(&error.field).map(|spot| {
                let address = format!("#{}", spot.id());
                let go = move |event: leptos::ev::MouseEvent| {
                    event.prevent_default();
                    go_to(spot.id());
                };
                view! {
                    <a href=address rel="external" on:click=go>
                        {words.say(&copy::spot(spot))}
                    </a>
                    ": "
                }
            });
            view! {
                <li>
                    {name}
                    {words.say(&message)}
                    " "
                    {words.say(&help)}
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
