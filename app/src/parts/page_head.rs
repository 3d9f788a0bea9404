//! The head of a screen: its name over a row of knitted stitches.

use leptos::prelude::*;

use super::wording::ShownText;

/// The name of the screen, and perhaps a sentence about it.
#[component]
pub fn PageHead(
    /// The name.
    title: &'static str,
    /// What the screen is for; nothing when empty.
    #[prop(optional, into)]
    lead: ShownText,
) -> impl IntoView {
    view! {
        <header class="page-head">
            <h1>{title}</h1>
            <svg class="stitches" viewBox="0 0 72 12" aria-hidden="true" focusable="false">
                <path
                    fill="none"
                    stroke="currentColor"
                    stroke-width="2.6"
                    stroke-linecap="round"
                    stroke-linejoin="round"
                    d="M2 2l5 8 5-8M14 2l5 8 5-8M26 2l5 8 5-8M38 2l5 8 5-8M50 2l5 8 5-8M62 2l4 6.500"
                ></path>
            </svg>
            {(!lead.is_empty()).then(|| view! { <p>{lead.shown()}</p> })}
        </header>
    }
    .into_any()
}
