//! Two at a time, begun and left again.

use evenloop_engine::plan::{Plan, PlanError};
use evenloop_engine::together::{PairFit, fit};
use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::base::to;
use crate::in_hand::{NotTogether, SeatedAnew, Session};
use crate::lazy_pattern;
use crate::parts::plain::{button, following, group, paragraph, weighty};
use crate::parts::{Notice, Tone, problem};
use crate::routes;
use crate::store::StoreError;
use crate::text;

/// The page; `done` is called when it was changed.
pub(super) fn together(session: Session, done: Callback<()>) -> Vec<AnyView> {
    let wrong = RwSignal::new(None::<NotTogether>);
    let waits = RwSignal::new(false);
    let came = move |result| match result {
        Ok(()) => done.run(()),
        Err(error) => wrong.set(Some(error)),
    };
    let set = move |wanted: bool| {
        Callback::new(move |()| {
            let by_pattern = wanted && session.with(|pair| pair.plan.recipe.written.is_some());
            if !by_pattern {
                return came(session.set_together(wanted, &SeatedAnew::ours));
            }
            if waits.get_untracked() {
                return;
            }
            waits.set(true);
            wrong.set(None);
            spawn_local(async move {
                let plans = planned_by_pattern(session.to_be_seated()).await;
                // The page may have been left meanwhile.
                if waits.try_set(false).is_none() {
                    came(plans.and_then(|plans| {
                        session.set_together(true, &|anew| planned_for(&plans, anew))
                    }));
                }
            });
        })
    };
    let refused = following("findings", move || {
        let coming = waits.get().then(|| paragraph("soft", text::parts::COMING));
        let told = wrong.get().map(|error| why(session, &error));
        coming.into_iter().chain(told).collect()
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

/// Socks with what they are to be knitted by.
type Planned = Vec<(SeatedAnew, Plan)>;

/// Has each sock planned by what reads its pattern.
async fn planned_by_pattern(
    socks: Result<Vec<SeatedAnew>, NotTogether>,
) -> Result<Planned, NotTogether> {
    let mut planned: Planned = Vec::with_capacity(2);
    for anew in socks? {
        // Usually both socks are at the same place, and one plan serves both.
        let same = planned.iter().find(|(before, _)| *before == anew);
        let plan = if let Some((_, plan)) = same {
            plan.clone()
        } else {
            let (old, recipe) = (Box::new(anew.plan.clone()), Box::new(anew.recipe.clone()));
            let plan = lazy_pattern::replan(old, anew.done, recipe).await;
            plan.map_err(|_| NotTogether::NotLoaded)?
                .map_err(NotTogether::Refused)?
        };
        planned.push((anew, plan));
    }
    Ok(planned)
}

/// What was planned for a sock, if it still is where it was then.
fn planned_for(planned: &Planned, anew: &SeatedAnew) -> Result<Plan, NotTogether> {
    let found = planned.iter().find(|(before, _)| before == anew);
    let plan = found.map(|(_, plan)| plan.clone());
    plan.ok_or(NotTogether::Store(StoreError::Elsewhere))
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
        NotTogether::NotLoaded => pieces.push(paragraph("", text::parts::NOT_HERE)),
        NotTogether::Store(StoreError::Elsewhere) => {
            pieces.push(paragraph("", text::pause::ELSEWHERE));
        }
        NotTogether::Store(_) => pieces.push(paragraph("", text::pause::NOT_KEPT)),
    }
    view! { <Notice tone=Tone::Mind>{pieces}</Notice> }.into_any()
}
