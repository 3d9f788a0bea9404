//! What can be tried where the tiny sock is, above it.

use leptos::prelude::*;
use leptos_router::NavigateOptions;

use crate::base::use_go;
use crate::in_hand::Session;
use crate::parts::failure;
use crate::parts::plain::{button, paragraph};
use crate::practice;
use crate::routes::Screen;
use crate::store::{self, Practice};
use crate::text;

/// Whether the pair is the tiny sock.
pub(super) fn is_in_hand(session: Session) -> bool {
    let id = session.with(|pair| pair.head.id.clone());
    store::here().practice() == Practice::Begun(id)
}

/// What is said of the place; follows it.
pub(super) fn told(session: Session) -> &'static str {
    let at = session.at();
    session.with(|pair| {
        let step = pair.trace.steps.get(at.step);
        let section = step.and_then(|step| pair.plan.sections.get(step.section));
        section.map_or(text::practice::FINISHED, |section| {
            text::practice::told(section.kind)
        })
    })
}

/// It, and the way to be rid of the tiny sock.
pub(super) fn strip(session: Session) -> AnyView {
    let go = use_go();
    let failed = RwSignal::new(None);
    let finished = move || session.is_finished();
    let gone = Callback::new(move |()| {
        let next = if untrack(finished) {
            Screen::Measure
        } else {
            Screen::Basket
        };
        go(next.path(), NavigateOptions::default());
    });
    let end = practice::end(failed, gone);
    let throw_away = move || {
        if finished() {
            button("button lead", text::practice::TO_MEASURE, None, end)
        } else {
            button("button", text::practice::THROW_AWAY, None, end)
        }
    };
    let told = Memo::new(move |_| told(session));
    view! {
        <aside class="practice" aria-label=text::practice::LABEL>
            <div aria-live="polite">{move || paragraph("", told.get())}</div>
            {throw_away}
            {failure(failed)}
        </aside>
    }
    .into_any()
}
