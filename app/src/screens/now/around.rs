//! A look around: the pattern's chart with the round at hand lit, and all rounds of the section, over
//! the screen. Nothing counts in here.

// The attribute that marks where to split writes foreign functions, which the tool puts in; what it
// marks has to have a result.
#![allow(unsafe_code, clippy::unnecessary_wraps)]

use leptos::prelude::*;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use crate::in_hand::{Rounds, Session};
use crate::parts::plain::paragraph;
use crate::parts::{Cells, Chart, Pane, later};
use crate::text;

#[component]
pub(super) fn Around(
    /// The pair.
    session: Session,
    /// Whether it is open.
    open: RwSignal<bool>,
    /// The place was changed.
    on_jump: Callback<()>,
) -> impl IntoView {
    let jumped = Callback::new(move |()| {
        open.set(false);
        on_jump.run(());
    });
    view! {
        <Pane label=text::now::AROUND open close=text::now::AROUND_CLOSE>
            {later(|| Box::pin(load_view()), move || Box::pin(view(session, jumped)))}
        </Pane>
    }
    .into_any()
}

/// What there is to see; in a part with what else is opened at rest.
#[wasm_split(pause, wasm_split_path = ::leptos::wasm_split, preload(load_view), fallible)]
fn view(session: Session, jumped: Callback<()>) -> Result<AnyView, SplitLoaderError> {
    let section = move || {
        let at = session.at();
        session.with(|pair| {
            pair.trace
                .steps
                .get(at.step)
                .or(pair.trace.steps.last())
                .map(|step| step.section)
        })
    };
    let seen = view! {
        {needles(session)}
        {pattern(session)}
        {section().map(|section| view! { <Rounds session section titled=true on_jump=jumped /> })}
    };
    Ok(seen.into_any())
}

/// What it is knitted on, where that was noted.
fn needles(session: Session) -> Option<AnyView> {
    let needle = session.with(|pair| pair.plan.recipe.swatch.needle)?;
    Some(paragraph("soft small", text::now::needles(needle)))
}

/// The chart of a sock that has a pattern.
fn pattern(session: Session) -> Option<AnyView> {
    let cells = session.with(|pair| Cells::of(&pair.plan.recipe.motif.as_ref()?.rows))?;
    let lit = Memo::new(move |_| {
        let at = session.at();
        let round = session.with(|pair| pair.plan.move_at(at)?.1.motif_round())?;
        Some(usize::from(round.saturating_sub(1)))
    });
    let label = move || text::now::chart(lit.get());
    Some(
        view! {
            <figure class="pattern">
                <Chart cells label=text::now::CHART lit />
                <figcaption>{label}</figcaption>
            </figure>
        }
        .into_any(),
    )
}
