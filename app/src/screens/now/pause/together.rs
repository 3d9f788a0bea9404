//! Two at a time, begun and left again.

use evenloop_engine::plan::PlanError;
use evenloop_engine::text::{self, ProblemText};
use evenloop_engine::together::{Fit, fit};
use leptos::prelude::*;

use super::copy;
use crate::parts::plain::{button, following, group, paragraph, weighty};
use crate::parts::{Notice, Tone};
use crate::preferences::use_preferences;
use crate::screens::measure::change_address;
use crate::screens::now::session::{Apart, Session};
use crate::text::mistake;

/// The page; `done` is told when it was changed.
pub(super) fn together(session: Session, done: Callback<()>) -> Vec<AnyView> {
    let wrong = RwSignal::new(None::<Apart>);
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
        let apart = button("button", copy::APART, None, set(false));
        return vec![
            paragraph("", copy::IS_TOGETHER),
            paragraph("", copy::ORDER),
            group("buttons", vec![apart]),
            refused,
        ];
    }
    let off = session.with(|pair| {
        let mut socks = pair.pair.on_needles().into_iter();
        socks.any(|sock| sock.journal.position() == sock.trace.end())
    });
    if off {
        return vec![paragraph("", copy::IS_OFF)];
    }
    let fit = session.with(|pair| fit(pair.plan));
    let mut pieces = vec![paragraph("", copy::TOGETHER_LEAD)];
    if fit == Fit::OneSock {
        pieces.push(why(session, &Apart::OneSock));
        return pieces;
    }
    pieces.push(paragraph("", copy::ORDER));
    pieces.push(paragraph("", copy::TOGETHER_CAST_ON));
    pieces.push(paragraph("", copy::TOGETHER_HEEL));
    if let Fit::Seated(_) = fit {
        pieces.push(paragraph("", copy::TOGETHER_SEATED));
    }
    if untrack(|| session.can_undo()) {
        pieces.push(paragraph("", copy::TOGETHER_BEHIND));
    }
    pieces.push(group(
        "buttons",
        vec![button("button lead", copy::TOGETHER_BEGIN, None, set(true))],
    ));
    pieces.push(refused);
    pieces
}

/// Why it cannot be, and what helps.
fn why(session: Session, error: &Apart) -> AnyView {
    let mut pieces = Vec::new();
    let change = || {
        let address = session.with(|pair| change_address(&pair.head.id));
        view! {
            <a class="button" href=address>
                {copy::CHANGE}
            </a>
        }
        .into_any()
    };
    match error {
        Apart::OneSock => {
            pieces.push(paragraph("", copy::ONE_SOCK));
            pieces.push(change());
        }
        Apart::Refused(PlanError::Bug(bug)) => {
            pieces.push(paragraph("", mistake::mistake(bug)));
        }
        Apart::Refused(PlanError::Impossible(fields)) => {
            pieces.push(weighty(copy::NOT_SEATED));
            let wording = use_preferences().get_untracked().style;
            pieces.extend(fields.iter().map(|field| {
                let ProblemText { message, help } = text::problem(&field.problem, wording);
                paragraph("", format!("{message} {help}"))
            }));
            pieces.push(change());
        }
        Apart::Store(_) => pieces.push(paragraph("", copy::NOT_KEPT)),
    }
    view! { <Notice tone=Tone::Mind>{pieces}</Notice> }.into_any()
}
