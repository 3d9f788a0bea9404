//! What to do, needle by needle, with the count after it. Long texts scroll in here; the pad stays
//! where it is.

use evenloop_engine::words::{Instructions, Line};
use leptos::html;
use leptos::prelude::*;

use super::copy;

/// So many letters find room on a small phone in large type, and so many only in smaller type.
const BRIEF: usize = 90;
const LONG: usize = 190;

#[component]
pub(super) fn Instruction(at_hand: Memo<Option<Instructions>>) -> impl IntoView {
    let node = NodeRef::<html::Div>::new();
    // The next text is read from its beginning.
    Effect::new(move || {
        at_hand.track();
        if let Some(node) = node.get() {
            node.set_scroll_top(0);
        }
    });
    let long = move || at_hand.with(|now| now.as_ref().is_some_and(is_long));
    let brief = move || at_hand.with(|now| now.as_ref().is_some_and(is_brief));
    view! {
        <div
            class="instruction"
            class:brief=brief
            class:long=long
            node_ref=node
            role="region"
            aria-label=copy::INSTRUCTIONS
            tabindex="0"
        >
            {move || at_hand.with(|now| now.as_ref().map(shown))}
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

fn shown(now: &Instructions) -> impl IntoView + use<> {
    let note = now.note.clone();
    let lines = now.lines.iter().map(line).collect_view();
    let note = note.map(|note| view! { <p class="note">{note}</p> });
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

fn line(line: &Line) -> impl IntoView + use<> {
    let number = line.needle.map(|number| {
        view! {
            <span class="needle">
                <span class="unseen">{copy::needle_spoken(number)}</span>
                <span aria-hidden="true">{number}</span>
            </span>
        }
    });
    view! {
        <li>
            {number}
            <span class="text">
                {if line.text.is_empty() { copy::ON_IT.to_owned() } else { line.text.clone() }}
            </span>
            <span class="after">
                {line.count_after} <span class="unseen">{copy::STITCHES_AFTER}</span>
            </span>
        </li>
    }
}
