//! A note at the round at hand: one a place, rewritten as often as the knitter likes.

use evenloop_engine::journal::NOTE_LIMIT;
use evenloop_engine::text as engine_text;
use evenloop_engine::text::Wording;
use leptos::html;
use leptos::prelude::*;

use crate::in_hand::Session;
use crate::parts::plain::{button, group, paragraph};
use crate::parts::said;
use crate::text;

/// The page; `done` is called when something was written.
pub(super) fn note(session: Session, done: Callback<()>) -> Vec<AnyView> {
    let at = session.at_untracked();
    let before = session.with(|pair| {
        let note = pair.journal.remark_at(at).map(|r| r.note.clone());
        note.unwrap_or_default()
    });
    let label = said(move |wording: Wording| {
        let place =
            session.with(|pair| engine_text::place(pair.plan, pair.trace, at, wording.english));
        text::pause::note_at(&place)
    });
    let area = NodeRef::<html::Textarea>::new();
    let keep = Callback::new(move |()| {
        if let Some(area) = area.get_untracked() {
            session.note(&area.value());
            done.run(());
        }
    });
    let away = Callback::new(move |()| {
        session.note("");
        done.run(());
    });
    let mut buttons = vec![button("button lead", text::pause::NOTE_KEEP, None, keep)];
    if !before.is_empty() {
        buttons.insert(0, button("button", text::pause::NOTE_AWAY, None, away));
    }
    let field = view! {
        <div class="field">
            <label for="note">{label}</label>
            <textarea
                id="note"
                name="note"
                rows="5"
                maxlength=NOTE_LIMIT.to_string()
                autocomplete="off"
                node_ref=area
            >
                {before}
            </textarea>
        </div>
    };
    vec![
        paragraph("", text::pause::NOTE_LEAD),
        field.into_any(),
        group("buttons", buttons),
    ]
}
