//! The Now screen.

use leptos::prelude::*;

/// The Now screen.
#[component]
pub fn NowScreen() -> impl IntoView {
    view! {
        <section class="screen now">
            <h1>"Now"</h1>
        </section>
    }
}
