//! A step of the screen.

use leptos::prelude::*;

/// One step with its heading.
pub(super) fn step(title: &'static str, lead: &'static str, pieces: Vec<AnyView>) -> AnyView {
    view! {
        <section class="step">
            <header>
                <h2>{title}</h2>
                {(!lead.is_empty()).then(|| view! { <p class="soft">{lead}</p> })}
            </header>
            {pieces}
        </section>
    }
    .into_any()
}
