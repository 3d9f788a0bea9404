//! Hard moves explained: a drawing and a few sentences each. The drawings lie in one file of their own
//! and are fetched (or taken from the phone's store) when they are first looked at.

use evenloop_engine::words::Technique;
use leptos::prelude::*;

use super::copy;
use crate::base::to;
use crate::parts::Pane;
use crate::parts::plain::paragraph;

#[component]
pub(super) fn Explain(
    /// Whether it is open.
    open: RwSignal<bool>,
    /// What is to be explained.
    #[prop(into)]
    hard: Signal<Vec<Technique>>,
) -> impl IntoView {
    view! {
        <Pane label=copy::HOW open close=copy::AROUND_CLOSE>
            {move || hard.get().into_iter().map(explained).collect::<Vec<_>>()}
        </Pane>
    }
    .into_any()
}

/// One of them. Two layers of one drawing: stitches and needles in ink, what the move is about in
/// yarn.
fn explained(technique: Technique) -> AnyView {
    let drawing = to(&format!("/moves.svg#{}", technique.key()));
    let yarn = format!("{drawing}-yarn");
    view! {
        <section class="sheet explained">
            <h2>{technique.name()}</h2>
            <svg viewBox="0 0 200 110" aria-hidden="true" focusable="false">
                <use href=drawing></use>
                <use class="yarn" href=yarn></use>
            </svg>
            {paragraph("", technique.text())}
        </section>
    }
    .into_any()
}
