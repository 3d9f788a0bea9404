//! Hard moves explained: a drawing and a few sentences each. The drawings lie in one file of their own
//! and are fetched (or taken from the phone's store) when they are first looked at.

// The attribute that marks where to split writes foreign functions, which the tool puts in; what it
// marks has to have a result.
#![allow(unsafe_code, clippy::unnecessary_wraps)]

use evenloop_engine::text::{Technique, Wording};
use leptos::prelude::*;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use crate::drawings::drawings;
use crate::parts::plain::paragraph;
use crate::parts::{Pane, later};
use crate::text;

#[component]
pub(super) fn Explain(
    /// Whether it is open.
    open: RwSignal<bool>,
    /// What is to be explained.
    #[prop(into)]
    hard: Signal<Vec<Technique>>,
) -> impl IntoView {
    view! {
        <Pane label=text::now::HOW open close=text::pause::CLOSE>
            {later(|| Box::pin(load_all()), move || Box::pin(all(hard)))}
        </Pane>
    }
    .into_any()
}

/// All of them; in a part with what else is opened at rest.
#[wasm_split(pause, wasm_split_path = ::leptos::wasm_split, preload(load_all), fallible)]
fn all(hard: Signal<Vec<Technique>>) -> Result<AnyView, SplitLoaderError> {
    let all = move || hard.get().into_iter().map(explained).collect::<Vec<_>>();
    Ok(all.into_any())
}

/// One of them. Two layers of one drawing: stitches and needles in ink, what the move is about in
/// yarn.
fn explained(technique: Technique) -> AnyView {
    let drawing = format!("{}#{}", drawings(), technique.key());
    let yarn = format!("{drawing}-yarn");
    view! {
        <section class="sheet explained">
            <h2>{technique.name()}</h2>
            <svg viewBox="0 0 200 110" aria-hidden="true" focusable="false">
                <use href=drawing></use>
                <use class="yarn" href=yarn></use>
            </svg>
            {paragraph("", move |wording: Wording| technique.text(wording.english))}
        </section>
    }
    .into_any()
}
