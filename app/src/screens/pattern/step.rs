//! A step of the screen.

use leptos::prelude::*;

use crate::parts::ShownText;

/// One step with its heading.
pub(super) fn step(
    title: &'static str,
    lead: impl Into<ShownText>,
    pieces: Vec<AnyView>,
) -> AnyView {
    let lead = lead.into();
    view! {
        <section class="step">
            <header>
                <h2>{title}</h2>
                {(!lead.is_empty()).then(|| view! { <p class="soft">{lead.shown()}</p> })}
            </header>
            {pieces}
        </section>
    }
    .into_any()
}
