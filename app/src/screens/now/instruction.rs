//! What to do, needle by needle, with the count after it. Long texts scroll in here; the pad stays
//! where it is.

use evenloop_engine::text::{Instructions, Line, Technique};
use evenloop_engine::together::Sock;
use leptos::html;
use leptos::prelude::*;

use super::strip::strip;
use super::turn;
use crate::in_hand::{Session, remarks_at};
use crate::parts::plain::{button, paragraph};
use crate::preferences::use_preferences;
use crate::text;

/// So many letters find room on a small phone in large type, and so many only in smaller type.
const BRIEF: usize = 90;
const LONG: usize = 190;

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
    let long = move || at_hand.with(|now| now.as_ref().is_some_and(is_long));
    let remarks = Memo::new(move |_| remarks_at(session, session.at(), preferences.get().style));
    let brief = move || {
        remarks.with(Vec::is_empty)
            && beside.with(Option::is_none)
            && turn.with(Option::is_none)
            && at_hand.with(|now| now.as_ref().is_some_and(is_brief))
    };
    view! {
        <div
            class="instruction"
            class:brief=brief
            class:long=long
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
            {move || at_hand.with(|now| now.as_ref().map(|now| shown(now, on_how)))}
            {move || {
                beside
                    .with(|second| {
                        second
                            .as_ref()
                            .map(|second| {
                                view! {
                                    <h2>{text::now::sock(Sock::Second)}</h2>
                                    {shown(second, on_how)}
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

/// Whether there is room for larger letters.
fn is_brief(now: &Instructions) -> bool {
    if is_silent(now) {
        return false;
    }
    let note = now.note.as_ref().map_or(0, String::len);
    let lines = letters(now);
    lines <= BRIEF && 2 * lines + note <= 3 * BRIEF
}

/// Whether nothing is worked: the note is the instruction then.
fn is_silent(now: &Instructions) -> bool {
    now.lines.iter().all(|line| line.text.is_empty())
}

fn is_long(now: &Instructions) -> bool {
    letters(now) > LONG
}

/// Letters of all lines; a line that is not full costs room as well.
fn letters(now: &Instructions) -> usize {
    now.lines.iter().map(|line| line.text.len() + 12).sum()
}

fn shown(now: &Instructions, on_how: Callback<Vec<Technique>>) -> impl IntoView + use<> {
    let note = now.note.clone();
    let lines = now.lines.iter().map(|one| line(one, on_how)).collect_view();
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
        <ol class="lines">{lines}</ol>
        {last}
    }
}

fn line(line: &Line, on_how: Callback<Vec<Technique>>) -> impl IntoView + use<> {
    let number = line.needle.map(|number| {
        view! {
            <span class="needle">
                <span class="unseen">{text::now::needle_spoken(number)}</span>
                <span aria-hidden="true">{number}</span>
            </span>
        }
    });
    view! {
        <li>
            {number}
            <span class="text">
                {if line.text.is_empty() { text::now::ON_IT.to_owned() } else { line.text.clone() }}
            </span>
            <span class="after">
                {line.count_after} <span class="unseen">{text::now::STITCHES_AFTER}</span>
            </span>
            {how(&line.hard, on_how)}
        </li>
    }
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
