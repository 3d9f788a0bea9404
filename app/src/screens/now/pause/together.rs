//! Two at a time, begun and left again.

use evenloop_engine::plan::PlanError;
use evenloop_engine::together::{PairFit, fit};
use leptos::prelude::*;

use crate::base::to;
use crate::in_hand::{NotTogether, Session};
use crate::parts::plain::{button, following, group, paragraph, weighty};
use crate::parts::{Notice, Tone, problem};
use crate::routes;
use crate::store::StoreError;
use crate::text;

/// The page; `done` is called when it was changed.
pub(super) fn together(session: Session, done: Callback<()>) -> Vec<AnyView> {
    let wrong = RwSignal::new(None::<NotTogether>);
    let set = move |wanted: bool| {
        Callback::new(move |()| match session.set_together(wanted) {
            Ok(()) => done.run(()),
            Err(error) => wrong.set(Some(error)),
        })
    };
    let refused = following("findings", move || {
        let told = wrong.get().map(|error| why(session, &error));
        told.into_iter().collect()
    });
    if untrack(|| session.is_together()) {
        let apart = button("button", text::pause::APART, None, set(false));
        return vec![
            paragraph("", text::pause::IS_TOGETHER),
            paragraph("", text::pause::ORDER),
            group("buttons", vec![apart]),
            refused,
        ];
    }
    let off = session.with(|pair| {
        let mut socks = pair.pair.on_needles().into_iter();
        socks.any(|sock| sock.journal.position() == sock.trace.end())
    });
    if off {
        return vec![paragraph("", text::pause::IS_OFF)];
    }
    let fit = session.with(|pair| fit(pair.plan));
    let mut pieces = vec![paragraph("", text::pause::TOGETHER_LEAD)];
    if fit == PairFit::OneSock {
        pieces.push(why(session, &NotTogether::OneSock));
        return pieces;
    }
    pieces.push(paragraph("", text::pause::ORDER));
    pieces.push(paragraph("", text::pause::TOGETHER_CAST_ON));
    pieces.push(paragraph("", text::pause::TOGETHER_HEEL));
    if let PairFit::Seated(_) = fit {
        pieces.push(paragraph("", text::pause::TOGETHER_SEATED));
    }
    if untrack(|| session.can_undo()) {
        pieces.push(paragraph("", text::pause::TOGETHER_BEHIND));
    }
    pieces.push(group(
        "buttons",
        vec![button(
            "button lead",
            text::pause::TOGETHER_BEGIN,
            None,
            set(true),
        )],
    ));
    pieces.push(refused);
    pieces
}

/// Why it cannot be, and what helps.
fn why(session: Session, error: &NotTogether) -> AnyView {
    let mut pieces = Vec::new();
    let change = || {
        let address = session.with(|pair| to(&routes::change_of(&pair.head.id)));
        view! {
            <a class="button" href=address>
                {text::pause::CHANGE}
            </a>
        }
        .into_any()
    };
    match error {
        NotTogether::OneSock => {
            pieces.push(paragraph("", text::pause::ONE_SOCK));
            pieces.push(change());
        }
        NotTogether::Refused(PlanError::Bug(bug)) => {
            pieces.push(paragraph("", text::mistake::mistake(bug)));
        }
        NotTogether::Refused(PlanError::Impossible(fields)) => {
            pieces.push(weighty(text::pause::NOT_SEATED));
            pieces.extend(fields.iter().map(|field| {
                let wrong = field.problem.clone();
                paragraph("", move |wording| problem(&wrong, wording))
            }));
            pieces.push(change());
        }
        NotTogether::Store(StoreError::Elsewhere) => {
            pieces.push(paragraph("", text::pause::ELSEWHERE));
        }
        NotTogether::Store(_) => pieces.push(paragraph("", text::pause::NOT_KEPT)),
    }
    view! { <Notice tone=Tone::Mind>{pieces}</Notice> }.into_any()
}
