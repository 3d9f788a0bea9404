//! What the yarn weighs, and what follows from it.

use evenloop_engine::error::FieldError;
use evenloop_engine::words;
use evenloop_engine::yarn::{budget, read_grams};
use leptos::prelude::*;

use super::copy;
use crate::parts::TextField;
use crate::parts::plain::{button, following, group, paragraph};
use crate::screens::now::session::Session;

/// The page. It stays open: the answer is what the knitter came for.
pub(super) fn weigh(session: Session) -> Vec<AnyView> {
    let typed = RwSignal::new(String::new());
    let wrong = RwSignal::new(None::<FieldError>);
    let keep = Callback::new(move |()| {
        let read = typed.with_untracked(|text| read_grams(text));
        match read {
            Ok(grams) => {
                wrong.set(None);
                session.weigh(Some(grams));
                typed.set(String::new());
            }
            Err(error) => wrong.set(Some(error)),
        }
    });
    let field = view! {
        <TextField
            id="grams"
            label=copy::GRAMS
            hint=Signal::stored(copy::GRAMS_HINT.to_owned())
            unit=Signal::stored("g")
            value=typed
            on_input=Callback::new(move |text| {
                wrong.set(None);
                typed.set(text);
            })
            on_leave=Callback::new(|()| ())
            error=wrong
        />
    };
    vec![
        paragraph("", copy::WEIGH_LEAD),
        field.into_any(),
        group(
            "buttons",
            vec![button("button lead", copy::WEIGH_KEEP, None, keep)],
        ),
        following("answer", move || {
            // a weighing leaves the place as it is, but tells of itself
            session.at();
            answer(session)
        }),
    ]
}

fn answer(session: Session) -> Vec<AnyView> {
    let (latest, here, told) = session.with(|pair| {
        let [first, second] = &pair.pair.patterns;
        let [first_log, second_log] = &pair.pair.journals;
        let (early, late) = (first_log.weighings(), second_log.weighings());
        let told = budget([(&first.plan, &early), (&second.plan, &late)]).map(|budget| {
            let of = if late.is_empty() { first } else { second };
            words::budget(&of.plan, &budget)
        });
        let pattern = if late.is_empty() { first } else { second };
        let latest = late.last().or(early.last()).map(|(at, grams)| {
            let place = words::place(&pattern.plan, &pattern.trace, *at);
            copy::weighed_at(&place, &words::grams(*grams))
        });
        let here = pair.journal.remark_at(session.at_untracked());
        (latest, here.is_some_and(|r| r.weighed.is_some()), told)
    });
    let Some(latest) = latest else {
        return Vec::new();
    };
    let mut pieces = vec![paragraph("soft", latest)];
    match told {
        Some(told) => pieces.extend(told.into_iter().map(|text| paragraph("", text))),
        None => pieces.push(paragraph("", copy::WEIGH_AGAIN)),
    }
    if here {
        let away = Callback::new(move |()| session.weigh(None));
        pieces.push(button("button", copy::WEIGH_AWAY, None, away));
    }
    vec![group("sheet", pieces)]
}
