//! The Basket screen.

use leptos::prelude::*;

/// The Basket screen.
#[component]
pub fn BasketScreen() -> impl IntoView {
    view! {
        <section class="screen basket">
            <h1>"Basket"</h1>
        </section>
    }
}
