//! A counter: one signal, one button.

use leptos::prelude::*;

#[component]
fn Counter() -> impl IntoView {
    let count = RwSignal::new(0);
    view! { <button on:click=move |_| count.update(|count| *count += 1)>{count}</button> }
}

/// Takes over the page.
#[cfg(feature = "hydrate")]
#[wasm_bindgen::prelude::wasm_bindgen]
pub fn hydrate() {
    leptos::mount::hydrate_body(Counter);
}
