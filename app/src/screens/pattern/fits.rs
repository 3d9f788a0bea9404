//! Whether the pattern fits her foot in her gauge, and what could be done about it. Nothing is changed unasked.

use std::sync::Arc;

use evenloop_engine::refit::{Measured, Refit, refit};
use evenloop_engine::text as engine_text;
use leptos::prelude::*;

use super::desk::{Checked, Desk};
use super::form::GivenNumber;
use super::step::step;
use crate::parts::Notice;
use crate::parts::plain::{button, following, group, paragraph};
use crate::text::pattern as text;

/// What was seen, as long as nothing is changed.
#[derive(Debug, Clone, PartialEq, Eq)]
enum FitAnswer {
    NoGauge,
    NoSock,
    Looked(Box<Refit>),
}

#[component]
pub(super) fn FitsStep(desk: Desk) -> impl IntoView {
    // With what it was told of: as soon as something else is found, it is told no more.
    let seen = RwSignal::new(None::<(Option<Arc<Checked>>, FitAnswer)>);
    let look = Callback::new(move |()| {
        desk.look();
        seen.set(Some((desk.checked.get_untracked(), looked(desk))));
    });
    let there = Memo::new(move |_| desk.checked.read().is_some());
    let told = following("told", move || {
        let now = desk.checked.get();
        let current = seen
            .get()
            .filter(|(of, _)| is_same(of.as_ref(), now.as_ref()));
        current
            .map(|(_, seen)| shown(desk, &seen))
            .into_iter()
            .collect()
    });
    let ask = move || {
        there
            .get()
            .then(|| group("buttons", vec![button("button", text::SEE_FIT, None, look)]))
    };
    step(text::FITS, text::FITS_LEAD, vec![ask.into_any(), told])
}

/// Whether nothing else was found since.
fn is_same(of: Option<&Arc<Checked>>, now: Option<&Arc<Checked>>) -> bool {
    match (of, now) {
        (Some(of), Some(now)) => Arc::ptr_eq(of, now),
        (of, now) => of.is_none() && now.is_none(),
    }
}

fn looked(desk: Desk) -> FitAnswer {
    let made = desk.checked.with_untracked(|checked| {
        let checked = checked.as_ref();
        checked.map(|checked| (checked.plan.is_ok(), checked.sizes.len()))
    });
    let Some((true, sizes)) = made else {
        return FitAnswer::NoSock;
    };
    desk.form.with_untracked(|form| {
        let measured = Measured {
            stitches: form.is_given(GivenNumber::Stitches),
            rounds: form.is_given(GivenNumber::Rounds),
            foot: form.is_given(GivenNumber::Foot),
        };
        if !measured.stitches && !measured.rounds {
            return FitAnswer::NoGauge;
        }
        let (recipe, _) = form.recipe(sizes.max(1));
        FitAnswer::Looked(Box::new(refit(&recipe, measured)))
    })
}

fn shown(desk: Desk, seen: &FitAnswer) -> AnyView {
    let refit = match seen {
        FitAnswer::NoGauge => return notice(vec![paragraph("", text::NO_GAUGE)]),
        FitAnswer::NoSock => return notice(vec![paragraph("", text::NO_SOCK_YET)]),
        FitAnswer::Looked(refit) => refit,
    };
    let wording = engine_text::Wording {
        unit: desk.form.with_untracked(|form| form.unit),
        ..desk.wording.get_untracked()
    };
    let mut lines: Vec<AnyView> = refit
        .advice
        .iter()
        .map(|advice| paragraph("", engine_text::advice(advice, wording)))
        .collect();
    if refit.size.is_none() && refit.text.is_none() {
        lines.push(paragraph("soft", text::FIT_AS_IT_IS));
    }
    let mut doings = Vec::new();
    if let Some(size) = refit.size {
        let take = Callback::new(move |()| {
            desk.change(|form| form.size = size);
            desk.look();
        });
        let name = text::take_size(usize::from(size) + 1);
        doings.push(button("button", name, None, take));
    }
    if let Some(longer) = refit.text.clone() {
        let change = Callback::new(move |()| {
            let size = desk.form.with_untracked(|form| form.size);
            desk.replace(longer.clone());
            desk.change(|form| form.size = size);
            desk.look();
        });
        doings.push(button("button", text::CHANGE_ROUNDS, None, change));
    }
    if !doings.is_empty() {
        lines.push(group("buttons", doings));
    }
    notice(lines)
}

fn notice(lines: Vec<AnyView>) -> AnyView {
    view! { <Notice>{lines}</Notice> }.into_any()
}
