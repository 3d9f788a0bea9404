//! The sections in the order knitted: how much of each is done, how long it is, and on a touch its
//! rounds.

use evenloop_engine::text as engine_text;
use evenloop_engine::text::Wording;
use evenloop_engine::trace::SectionProgress;
use evenloop_engine::units::Length;
use leptos::html;
use leptos::prelude::*;

use crate::in_hand::{Rounds, Session};
use crate::parts::said;
use crate::preferences::use_preferences;
use crate::text;
use crate::text::parts::section_alone;

#[component]
pub(super) fn Sections(
    /// The pair.
    session: Session,
    /// A section to be opened: its index in the plan.
    opened: RwSignal<Option<usize>>,
    /// The place was changed.
    on_jump: Callback<()>,
) -> impl IntoView {
    let progress = Memo::new(move |_| {
        let at = session.at();
        session.with(|pair| pair.plan.section_progress(at))
    });
    let count = session.with(|pair| pair.plan.sections.len());
    let rows = (0..count)
        .map(|section| view! { <One session section progress opened on_jump /> })
        .collect_view();
    view! {
        <section class="sections">
            <h2>{text::map::SECTIONS}</h2>
            <ol>{rows}</ol>
        </section>
    }
    .into_any()
}

#[component]
fn One(
    session: Session,
    section: usize,
    progress: Memo<Vec<SectionProgress>>,
    opened: RwSignal<Option<usize>>,
    on_jump: Callback<()>,
) -> impl IntoView {
    let preferences = use_preferences();
    let node = NodeRef::<html::Details>::new();
    let shown = RwSignal::new(false);
    let (kind, length) = session.with(|pair| {
        let kind = pair.plan.sections.get(section).map(|s| s.kind);
        let length = pair
            .plan
            .outcome
            .sections
            .iter()
            .find(|s| Some(s.kind) == kind);
        (
            kind,
            length.map(|s| s.length).filter(|l| *l > Length::default()),
        )
    });
    let yarns = session.with(|pair| {
        pair.plan
            .recipe
            .yarns
            .as_ref()
            .map(|_| pair.trace.yarns_of(section))
    });
    // Its length stands beside it.
    let has_gusset = session.with(|pair| pair.plan.outcome.has_gusset());
    let name = said(move |wording: Wording| {
        let name = |kind| {
            section_alone(kind, has_gusset)
                .unwrap_or_else(|| engine_text::section_name(kind, wording.english))
        };
        kind.map_or("", name).to_owned()
    });
    let here = move || {
        let at = session.at();
        session.with(|pair| {
            pair.trace
                .steps
                .get(at.step)
                .is_some_and(|s| s.section == section)
        })
    };
    let mine = move || progress.with(|all| all.get(section).copied());
    let done = move || mine().is_some_and(|p| p.done == p.of);
    let state = move || {
        if here() {
            Some(text::map::HERE)
        } else if done() {
            Some(text::map::DONE)
        } else {
            None
        }
    };
    // Touched on the drawing: opened, and brought into sight.
    Effect::new(move || {
        if opened.get() == Some(section)
            && let Some(details) = node.get()
        {
            details.set_open(true);
            details.scroll_into_view();
        }
    });
    let toggled = move |_| {
        if let Some(details) = node.get_untracked() {
            shown.set(details.open());
        }
    };
    view! {
        <li class:here=here class:done=done>
            <details node_ref=node on:toggle=toggled>
                <summary>
                    <span class="number" aria-hidden="true">
                        {section + 1}
                    </span>
                    <span class="name">{name}</span>
                    <span class="state">{state}</span>
                    <span class="much">
                        {move || mine().map(|p| text::now::progress(&p))}
                        {move || length.map(|l| text::map::of_length(&l.show_small(preferences.get().unit)))}
                        {yarns.map(|yarns| text::map::with_yarns(&yarns))}
                    </span>
                    <progress
                        aria-hidden="true"
                        value=move || mine().map_or(0, |p| p.done).to_string()
                        max=move || mine().map_or(1, |p| p.of.max(1)).to_string()
                    ></progress>
                </summary>
                <Show when=move || shown.get()>
                    <Rounds session section on_jump />
                </Show>
            </details>
        </li>
    }
    .into_any()
}
