//! The Map screen.

use leptos::prelude::*;

/// The Map screen.
#[component]
pub fn MapScreen() -> impl IntoView {
    view! {
        <section class="screen map">
            <h1>"Map"</h1>
        </section>
    }
}
