//! The top line: whose sock, which part of it, which round of how many, how long it is and is to be.

use evenloop_engine::reach::{Reach, reach};
use evenloop_engine::text::Instructions;
use evenloop_engine::trace::SectionProgress;
use evenloop_engine::units::LengthUnit;
use leptos::prelude::*;

use crate::in_hand::{Session, whose_sock};
use crate::preferences::use_preferences;
use crate::text;

#[component]
pub(super) fn Head(
    /// The pair.
    session: Session,
    /// What to do now.
    at_hand: Memo<Option<Instructions>>,
) -> impl IntoView {
    let preferences = use_preferences();
    let name = session.with(|pair| pair.head.name.clone());
    let progress = Memo::new(move |_| progress(session));
    let done = move || progress.get().map_or(0, |p| p.done).to_string();
    let of = move || progress.get().map_or(1, |p| p.of.max(1)).to_string();
    let unit = Memo::new(move |_| preferences.get().unit);
    let long = Memo::new(move |_| long(session));
    view! {
        <header class="now-head">
            <div class="whose">
                <span class="name" title=name.clone()>
                    {name.clone()}
                </span>
                <span class="sock">{move || whose_sock(session)}</span>
                {move || {
                    long.get()
                        .map(|long| {
                            let unit = unit.get();
                            view! {
                                <span class="long">
                                    {text::now::long(long.done, long.due, unit)}
                                    <span class="unseen from">{text::now::long_from(long.from)}</span>
                                </span>
                            }
                        })
                }}
            </div>
            // No paragraph: none may hold a heading, and the first paint reads this as markup.
            <div class="where">
                {move || {
                    at_hand
                        .with(|now| {
                            now.as_ref()
                                .map(|now| {
                                    view! {
                                        <h1>{now.section}</h1>
                                        <span class="count">{now.heading.clone()}</span>
                                        {now.shape.map(|shape| view! { <span class="shape">{shape}</span> })}
                                    }
                                })
                        })
                }}
            </div>
            <Show when=move || progress.with(Option::is_some)>
                <progress aria-label=text::now::SECTION_DONE value=done max=of></progress>
            </Show>
        </header>
    }
    .into_any()
}

/// How long the knitting is and is to be; nothing where that is not told.
fn long(session: Session) -> Option<Reach> {
    let at = session.at();
    session.with(|pair| reach(pair.plan, at))
}

/// The same, as the line has it.
pub(super) fn long_told(session: Session, unit: LengthUnit) -> Option<String> {
    let long = long(session)?;
    Some(text::now::long(long.done, long.due, unit))
}

/// How far the section at hand is.
fn progress(session: Session) -> Option<SectionProgress> {
    let at = session.at();
    session.with(|pair| {
        let section = pair.trace.steps.get(at.step)?.section;
        pair.plan.section_progress(at).get(section).copied()
    })
}
