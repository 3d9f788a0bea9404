//! The Keep screen.

use leptos::prelude::*;

/// The Keep screen.
#[component]
pub fn KeepScreen() -> impl IntoView {
    view! {
        <section class="screen keep">
            <h1>"Keep"</h1>
        </section>
    }
}
