//! Where was I: the rounds that a count fits, and one of them by what the knitting shows.

use evenloop_engine::sort::sort;
use evenloop_engine::tally::fits;
use evenloop_engine::tally::seen::{self, SimilarSteps};
use evenloop_engine::text as engine_text;
use evenloop_engine::text::Wording;
use evenloop_engine::trace::Position;
use evenloop_engine::within_round::WithinRound;
use leptos::html;
use leptos::prelude::*;

use super::needles::needles;
use crate::after_paint::after_paint;
use crate::in_hand::{JumpScope, Session, confirm_jump};
use crate::parts::plain::{button, following, group, paragraph, weighty};
use crate::parts::{Stepper, said};
use crate::text;

/// The most rounds that are named one by one; among more, the knitting itself has to decide.
const FEW: usize = 2;
/// The most places in the middle of a round that are named.
const FEW_WITHIN: usize = 3;

/// The page.
pub(super) fn lost(session: Session, jumped: Callback<()>) -> Vec<AnyView> {
    let mut counts = session.per_needle_untracked();
    if counts.is_empty() {
        // At either end nothing is on the needles: ask for the sum.
        counts.push(session.with(|pair| pair.plan.outcome.stitches));
    }
    let counted = RwSignal::new(counts);
    let fitting = following("stretches", move || {
        let (all, many, within) = counted.with(|counted| {
            let all = session.with(|pair| seen::stretches(pair.plan, pair.trace, counted));
            (all, counted.len(), within_rounds(session, counted))
        });
        let head = match all.first() {
            None if within.is_empty() => Some(text::pause::FITS_NOWHERE),
            None => None,
            Some(first) if first.off.is_some() => Some(text::pause::FITS_NEARLY),
            Some(_) => Some(text::pause::FITS),
        };
        let exact = all.first().is_some_and(|first| first.off.is_none());
        // Where the work was last said to be, or where no whole round fits.
        let here = within.contains(&session.place_untracked());
        let whole: Vec<AnyView> = head
            .map(weighty)
            .into_iter()
            .chain(cards(session, all, many, "fits", jumped))
            .collect();
        let half: Vec<AnyView> = within
            .into_iter()
            .map(|place| half_way(session, place, jumped))
            .collect();
        if here || !exact {
            half.into_iter().chain(whole).collect()
        } else {
            whole.into_iter().chain(half).collect()
        }
    });
    let whole = session.with(|pair| seen::whole(pair.plan, pair.trace));
    let by_sight = group("stretches", cards(session, whole, 1, "sight", jumped));
    let by_sight = view! {
        <details class="more by-sight">
            <summary>{text::pause::BY_SIGHT}</summary>
            {paragraph("", text::pause::BY_SIGHT_LEAD)}
            {by_sight}
        </details>
    };
    vec![
        paragraph("", text::pause::LOST_LEAD),
        needles(counted, &[], "lost"),
        fitting,
        by_sight.into_any(),
    ]
}

fn cards(
    session: Session,
    all: Vec<SimilarSteps>,
    needles: usize,
    page: &str,
    jumped: Callback<()>,
) -> Vec<AnyView> {
    let one = |(i, stretch): (usize, SimilarSteps)| {
        let off = stretch
            .off
            .map(|(needle, more)| text::pause::one_off(more, (needles > 1).then_some(needle + 1)));
        card(session, stretch, off, format!("{page}-{i}"), jumped)
    };
    all.into_iter().enumerate().map(one).collect()
}

/// The places in the middle of a round that a count fits, those nearest to where the work was last said to be
/// first.
fn within_rounds(session: Session, counted: &[u16]) -> Vec<WithinRound> {
    let here = session.place_untracked();
    session.with(|pair| {
        let mut found = seen::within_rounds(pair.plan, pair.trace, counted);
        // By its count alone such a place may be any of a stretch; the log knows that it is this one.
        if here.needles > 0 && fits(pair.trace, here, counted) && !found.contains(&here) {
            found.push(here);
        }
        let far = |place: &WithinRound| (place.at.step.abs_diff(here.at.step), *place);
        sort(&mut found, |a, b| far(a) < far(b));
        found.truncate(FEW_WITHIN);
        found
    })
}

/// A place in the middle of a round; a touch goes there.
fn half_way(session: Session, place: WithinRound, jumped: Callback<()>) -> AnyView {
    let told = move |wording: Wording| {
        session
            .with(|pair| engine_text::within_round(pair.plan, pair.trace, place, wording.english))
    };
    let go = confirm_jump(session, place, jumped, None, JumpScope::Sock);
    group("sheet stretch", vec![weighty(told), go])
}

/// One stretch: its rounds where they are few, else the question what the knitting shows.
fn card(
    session: Session,
    stretch: SimilarSteps,
    off: Option<String>,
    id: String,
    jumped: Callback<()>,
) -> AnyView {
    let kind = stretch.kind;
    let name =
        said(move |wording: Wording| engine_text::section_name(kind, wording.english).to_owned());
    let mut pieces = vec![view! { <h3>{name}</h3> }.into_any()];
    pieces.extend(off.map(|off| paragraph("off", off)));
    if stretch.size() > FEW {
        let ends = [*stretch.steps.start(), *stretch.steps.end()];
        let extent = move |wording: Wording| {
            session.with(|pair| {
                let place = |step| {
                    let at = Position { step, mv: 0 };
                    engine_text::place(pair.plan, pair.trace, at, wording.english)
                };
                let [first, last] = ends.map(place);
                text::pause::extent(&first, &last)
            })
        };
        pieces.push(paragraph("soft", extent));
        pieces.extend(asked(session, stretch, id, jumped));
    } else {
        pieces.extend(spots(session, stretch.steps.collect(), jumped));
    }
    group("sheet stretch", pieces)
}

/// What the knitting shows, and the rounds that come out.
fn asked(
    session: Session,
    stretch: SimilarSteps,
    id: String,
    jumped: Callback<()>,
) -> [AnyView; 2] {
    let sign = stretch.clone();
    let label = said(move |wording: Wording| engine_text::sign(&sign, wording.english));
    let range = session.with(|pair| stretch.range(pair.plan, pair.trace));
    let (least, most) = (*range.start(), *range.end());
    let number = RwSignal::new(least);
    let change = Callback::new(move |n| number.set(n));
    let stepper = view! { <Stepper id label value=number on_change=change least most /> };
    let out = following("stretches", move || {
        let steps = session.with(|pair| stretch.by(pair.plan, pair.trace, number.get()));
        spots(session, steps, jumped)
    });
    [stepper.into_any(), out]
}

/// Rounds to choose from; a touch asks first.
fn spots(session: Session, steps: Vec<usize>, jumped: Callback<()>) -> Vec<AnyView> {
    if steps.is_empty() {
        return vec![paragraph("soft", text::pause::NONE_SO)];
    }
    let picked = RwSignal::new(None::<usize>);
    let node = NodeRef::<html::Div>::new();
    // The question opens below, where it may not be seen.
    Effect::new(move || {
        if picked.get().is_some() {
            after_paint(move || {
                if let Some(Some(node)) = node.try_get_untracked() {
                    node.scroll_into_view_with_bool(false);
                }
            });
        }
    });
    let name = move |step| {
        move |wording: Wording| {
            session.with(|pair| engine_text::spot(pair.plan, pair.trace, step, wording.english))
        }
    };
    let buttons = steps.into_iter().map(|step| {
        let pressed = Signal::derive(move || picked.get() == Some(step));
        let pick = Callback::new(move |()| picked.set(Some(step)));
        button("button spot", name(step), Some(pressed), pick)
    });
    let asked = following("", move || {
        let to = |step| {
            confirm_jump(
                session,
                Position { step, mv: 0 }.into(),
                jumped,
                None,
                JumpScope::Sock,
            )
        };
        picked.get().map(to).into_iter().collect()
    });
    vec![
        paragraph("soft small", text::pause::NEXT),
        group("spots", buttons.collect()),
        view! { <div node_ref=node>{asked}</div> }.into_any(),
    ]
}
