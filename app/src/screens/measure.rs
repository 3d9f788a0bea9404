//! The Measure screen.

use leptos::prelude::*;

/// The Measure screen.
#[component]
pub fn MeasureScreen() -> impl IntoView {
    view! {
        <section class="screen measure">
            <h1>"Measure"</h1>
        </section>
    }
}
