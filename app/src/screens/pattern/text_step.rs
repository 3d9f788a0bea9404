//! The text itself: typed, pasted, or brought as a file.

use std::time::Duration;

use leptos::html::Input;
use leptos::prelude::*;
use leptos::task::spawn_local;

use super::completion_row::CompletionRow;
use super::desk::Desk;
use super::step::step;
use crate::files;
use crate::parts::plain::{button, following, group, paragraph};
use crate::parts::{Notice, Tone};
use crate::text::pattern as text;

/// Id of the text.
pub(super) const TEXT: &str = "pattern-text";

/// What the text is called as a file.
const FILE: &str = "sock-pattern.txt";

/// Largest file that is looked into, in bytes.
const FILE_LIMIT: f64 = 200_000.0;

#[component]
pub(super) fn TextStep(desk: Desk) -> impl IntoView {
    let area = desk.area;
    let cursor = Trigger::new();
    let said = RwSignal::new(None::<&'static str>);
    // Typed before the page woke, it is taken up; replaced, it is shown.
    Effect::new(move |woken: Option<()>| {
        desk.replaced.track();
        let Some(area) = area.get() else { return };
        let typed = area.value();
        let text = desk.form.with_untracked(|form| form.text.clone());
        if woken.is_none() && !typed.is_empty() && text.is_empty() {
            desk.change(|form| form.text = typed);
        } else if typed != text {
            area.set_value(&text);
        }
    });
    let typed = move |_| {
        desk.letter();
        cursor.notify();
    };
    let moved = move || cursor.notify();
    let field = view! {
        <div class="field">
            <label for=TEXT class="unseen">
                {text::TEXT}
            </label>
            <textarea
                id=TEXT
                name=TEXT
                class="pattern-text"
                rows="12"
                autocomplete="off"
                autocapitalize="sentences"
                spellcheck="false"
                placeholder=text::TEXT_PLACEHOLDER
                aria-describedby="pattern-text-hint"
                node_ref=area
                on:input=typed
                on:keyup=move |_| moved()
                on:click=move |_| moved()
                on:focus=move |_| {
                    moved();
                    into_sight(desk);
                }
            ></textarea>
            <CompletionRow desk cursor />
            <p class="hint" id="pattern-text-hint">
                {text::TEXT_HINT}
            </p>
        </div>
    };
    let empty = Memo::new(move |_| desk.form.read().is_empty());
    let save = Callback::new(move |()| {
        desk.take_up();
        let saved = desk
            .form
            .with_untracked(|form| files::save(FILE, files::TEXT, &form.text));
        said.set(saved.is_err().then_some(text::NOT_SAVED));
    });
    let clear = Callback::new(move |()| desk.replace(String::new()));
    let example = Callback::new(move |()| desk.replace(text::EXAMPLE_TEXT.to_owned()));
    let doings = move || {
        if empty.get() {
            vec![button("button", text::EXAMPLE, None, example)]
        } else {
            vec![
                button("button", text::SAVE, None, save),
                button("button bare", text::CLEAR, None, clear),
            ]
        }
    };
    let kept = following("told", move || {
        let mut pieces = Vec::new();
        if let Some(said) = said.get() {
            pieces
                .push(view! { <Notice tone=Tone::Wrong>{paragraph("", said)}</Notice> }.into_any());
        }
        if desk.before.read().is_some() {
            pieces.push(put_back(desk));
        }
        pieces
    });
    step(
        text::TEXT,
        text::YOURS,
        vec![
            field.into_any(),
            view! {
                <div class="buttons">
                    <BringText desk said />
                    {doings}
                </div>
            }
            .into_any(),
            kept,
        ],
    )
}

/// So long a keyboard on the screen takes to come up.
const KEYBOARD: Duration = Duration::from_millis(400);

/// Where a keyboard comes up on the screen, the text goes to the upper end of what is left of it, with the row below.
fn into_sight(desk: Desk) {
    set_timeout(
        move || {
            let coarse = window().match_media("(pointer: coarse)");
            let coarse = coarse.is_ok_and(|media| media.is_some_and(|media| media.matches()));
            // The screen may have been left, or the text meanwhile.
            let area = desk.area.try_get_untracked().flatten();
            let typed_into = document()
                .active_element()
                .is_some_and(|one| one.id() == TEXT);
            if let Some(area) = area.filter(|_| coarse && typed_into) {
                area.scroll_into_view_with_bool(true);
            }
        },
        KEYBOARD,
    );
}

/// The way back to the text that was replaced.
fn put_back(desk: Desk) -> AnyView {
    let back = Callback::new(move |()| {
        if let Some(before) = desk.before.get_untracked() {
            desk.replace(before);
        }
    });
    view! {
        <Notice>
            {paragraph("", text::REPLACED)}
            {group("buttons", vec![button("button", text::PUT_BACK, None, back)])}
        </Notice>
    }
    .into_any()
}

/// A button that asks for a text file.
#[component]
fn BringText(desk: Desk, said: RwSignal<Option<&'static str>>) -> impl IntoView {
    let input = NodeRef::<Input>::new();
    let bring = move |_| {
        let chosen = input.get_untracked();
        let Some(chosen) = chosen.and_then(|input| files::chosen(&input)) else {
            return;
        };
        // Not even read when it is far too large.
        if chosen.size() > FILE_LIMIT {
            return said.set(Some(text::FILE_TOO_LARGE));
        }
        spawn_local(async move {
            match files::read(&chosen).await {
                // What is no text comes with letters that stand for nothing.
                Ok(read) if !read.contains(['\u{fffd}', '\0']) => {
                    // The screen may have been left meanwhile.
                    if said.try_set(None).is_none() {
                        desk.replace(read);
                    }
                }
                _ => {
                    said.try_set(Some(text::NO_FILE));
                }
            }
        });
    };
    view! {
        <label class="button file">
            {text::FILE}
            <input
                class="unseen"
                type="file"
                accept=".txt,.text,.md,text/plain"
                node_ref=input
                on:change=bring
            />
        </label>
    }
    .into_any()
}
