//! What to do: a card for each needle, a line for each thing, with the count after it. Needles that do the
//! same share a card.

use evenloop_engine::text::{Instructions, Line, Technique};
use evenloop_engine::together::Sock;
use leptos::html;
use leptos::prelude::*;

use super::fit::fit;
use super::strip::strip;
use super::turn;
use crate::in_hand::{Session, remarks_at};
use crate::parts::plain::{button, paragraph};
use crate::preferences::use_preferences;
use crate::text;

#[component]
pub(super) fn Instruction(
    /// The pair.
    session: Session,
    /// What to do now.
    at_hand: Memo<Option<Instructions>>,
    /// What is to be explained was touched.
    on_how: Callback<Vec<Technique>>,
    /// Two at a time was touched.
    on_offer: Callback<()>,
) -> impl IntoView {
    let preferences = use_preferences();
    // Of two socks at a time: whose turn it is, and what the second does where it is not the same.
    let turn = Memo::new(move |_| turn::said(session, preferences.get().style));
    let beside = Memo::new(move |_| turn::beside(session, preferences.get().style));
    let offered = Memo::new(move |_| turn::is_offered(session));
    let node = NodeRef::<html::Div>::new();
    // Which needle is shown where there is room for one only.
    let shown_needle = RwSignal::new(0_usize);
    Effect::new(move || {
        at_hand.track();
        shown_needle.set(0);
    });
    // The next text is read from its beginning. Where nobody scrolled it is there already, and asking
    // would have the page laid out once more in the middle of a touch.
    let scrolled = StoredValue::new(false);
    Effect::new(move || {
        at_hand.track();
        if scrolled.get_value()
            && let Some(node) = node.get()
        {
            scrolled.set_value(false);
            node.set_scroll_top(0);
        }
    });
    let remarks = Memo::new(move |_| remarks_at(session, session.at(), preferences.get().style));
    fit(node, move || {
        at_hand.track();
        beside.track();
        turn.track();
        remarks.track();
        preferences.get();
    });
    view! {
        <div
            class="instruction"
            node_ref=node
            role="region"
            aria-label=text::now::INSTRUCTIONS
            tabindex="0"
            on:scroll=move |_| scrolled.set_value(true)
        >
            {move || turn.get().map(|text| paragraph("turn", text))}
            {strip(session)}
            {move || {
                beside
                    .with(Option::is_some)
                    .then(|| view! { <h2>{text::now::sock(Sock::First)}</h2> })
            }}
            {move || needle_choice(at_hand, shown_needle)}
            {move || at_hand.with(|now| now.as_ref().map(|now| shown(now, shown_needle, on_how)))}
            {move || {
                beside
                    .with(|second| {
                        second
                            .as_ref()
                            .map(|second| {
                                view! {
                                    <h2>{text::now::sock(Sock::Second)}</h2>
                                    {shown(second, shown_needle, on_how)}
                                }
                            })
                    })
            }}
            {move || {
                offered.get().then(|| button("button offer", text::now::OFFER, None, on_offer))
            }}
            {move || {
                remarks
                    .get()
                    .into_iter()
                    .map(|remark| paragraph("remark", remark))
                    .collect::<Vec<_>>()
            }}
        </div>
    }
    .into_any()
}

/// Whether nothing is worked: the note is the instruction then.
fn is_silent(now: &Instructions) -> bool {
    now.lines.iter().all(|line| line.text.is_empty())
}

/// Lines that say the same are one card, if all of them do.
fn cards(now: &Instructions) -> Vec<&[Line]> {
    let same = |a: &Line, b: &Line| a.text == b.text && !a.text.is_empty();
    match now.lines.split_first() {
        Some((first, rest)) if rest.iter().all(|line| same(first, line)) => vec![&now.lines],
        _ => now.lines.chunks(1).collect(),
    }
}

/// Which needle is shown, where there is room for one only; the style sheet hides it where there is more.
fn needle_choice(
    at_hand: Memo<Option<Instructions>>,
    shown_needle: RwSignal<usize>,
) -> Option<AnyView> {
    let needles: Vec<Vec<u8>> = at_hand.with(|now| {
        let cards = now.as_ref().map(cards).unwrap_or_default();
        let numbers = |card: &[Line]| card.iter().filter_map(|line| line.needle).collect();
        cards.into_iter().map(numbers).collect()
    });
    if needles.len() < 2 || needles.iter().any(Vec::is_empty) {
        return None;
    }
    let buttons: Vec<AnyView> = needles
        .iter()
        .enumerate()
        .map(|(nth, numbers)| {
            let pressed = Signal::derive(move || shown_needle.get() == nth);
            let choose = Callback::new(move |()| shown_needle.set(nth));
            button(
                "button",
                text::now::needle(numbers[0]),
                Some(pressed),
                choose,
            )
        })
        .collect();
    Some(
        view! {
            <div class="needle-choice" role="group" aria-label=text::now::WHICH_NEEDLE>
                {buttons}
            </div>
        }
        .into_any(),
    )
}

fn shown(
    now: &Instructions,
    shown_needle: RwSignal<usize>,
    on_how: Callback<Vec<Technique>>,
) -> impl IntoView + use<> {
    let note = now.note.clone();
    let cards = cards(now)
        .into_iter()
        .enumerate()
        .map(|(nth, lines)| card(nth, lines, shown_needle, on_how))
        .collect_view();
    // What is hard about the whole move is explained beside its note.
    let whole = how(&now.hard, on_how);
    let note =
        (note.is_some() || whole.is_some()).then(|| view! { <p class="note">{whole} {note}</p> });
    let (first, last) = if is_silent(now) {
        (note, None)
    } else {
        (None, note)
    };
    view! {
        {first}
        <ol class="lines">{cards}</ol>
        {last}
    }
}

/// One needle, or several that do the same.
fn card(
    nth: usize,
    lines: &[Line],
    shown_needle: RwSignal<usize>,
    on_how: Callback<Vec<Technique>>,
) -> Option<AnyView> {
    let first = lines.first()?;
    let numbers = lines
        .iter()
        .filter_map(|line| line.needle)
        .map(|number| {
            view! {
                <span class="needle">
                    <span class="unseen">{text::now::needle_spoken(number)}</span>
                    <span aria-hidden="true">{number}</span>
                </span>
            }
        })
        .collect_view();
    let things: Vec<_> = if first.text.is_empty() {
        vec![view! { <span class="thing">{text::now::ON_IT.to_owned()}</span> }]
    } else {
        let thing = |thing: &str| view! { <span class="thing">{thing.to_owned()}</span> };
        first.things().map(thing).collect()
    };
    let counts = lines
        .iter()
        .map(|line| {
            view! {
                <span class="after">
                    {line.count_after} <span class="unseen">{text::now::STITCHES_AFTER}</span>
                </span>
            }
        })
        .collect_view();
    let card = view! {
        <li class:other=move || shown_needle.get() != nth>
            <span class="needles-of">{numbers}</span>
            <span class="text">{things}</span>
            <span class="counts">{counts} {how(&first.hard, on_how)}</span>
        </li>
    };
    Some(card.into_any())
}

/// Asks how something hard is worked; nothing where nothing is hard.
fn how(hard: &[Technique], on_how: Callback<Vec<Technique>>) -> Option<AnyView> {
    if hard.is_empty() {
        return None;
    }
    let names: Vec<&str> = hard.iter().map(|one| one.name()).collect();
    let (spoken, hard) = (text::now::how(&names), hard.to_vec());
    let button = view! {
        <button
            type="button"
            class="how"
            data-hands="how"
            aria-label=spoken
            on:click=move |_| on_how.run(hard.clone())
        >
            "?"
        </button>
    };
    Some(button.into_any())
}
