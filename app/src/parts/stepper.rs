//! A whole number between two large buttons, for thumbs; it can be typed as well.

use leptos::html::Input;
use leptos::prelude::*;

use crate::text;

/// The stepper.
#[component]
pub fn Stepper(
    /// Id of the input; unique on the screen.
    id: String,
    /// What is counted.
    #[prop(into)]
    label: Signal<String>,
    /// The number.
    #[prop(into)]
    value: Signal<u16>,
    /// It is another one now.
    on_change: Callback<u16>,
    /// The smallest it can be.
    #[prop(optional)]
    least: u16,
    /// The largest it can be.
    most: u16,
) -> impl IntoView {
    let node = NodeRef::<Input>::new();
    let step = move |by: i32| {
        let moved = i32::from(value.get_untracked()) + by;
        let moved = moved.clamp(i32::from(least), i32::from(most));
        on_change.run(u16::try_from(moved).unwrap_or(least));
    };
    // An empty line is one that is being typed; anything else that is no number is put right.
    let typed = move |text: String| {
        if let Ok(number) = text.trim().parse::<u16>() {
            on_change.run(number.clamp(least, most));
        }
    };
    // Whoever types means another number, not one more figure.
    let choose = move |_| {
        if let Some(input) = node.get_untracked() {
            input.select();
        }
    };
    let settle = move |_| {
        if let Some(input) = node.get_untracked() {
            input.set_value(&value.get_untracked().to_string());
        }
    };
    Effect::new(move || {
        let number = value.get().to_string();
        if let Some(input) = node.get()
            && input.value().parse() != Ok(value.get_untracked())
        {
            input.set_value(&number);
        }
    });
    let at_least = move || value.get() <= least;
    let at_most = move || value.get() >= most;
    let first = value.get_untracked().to_string();
    let less = move || text::parts::one_less(&label.read());
    let more = move || text::parts::one_more(&label.read());
    view! {
        <div class="stepper">
            <label for=id.clone()>{label}</label>
            <div class="entry">
                <button
                    type="button"
                    class="button"
                    aria-label=less
                    disabled=at_least
                    on:click=move |_| step(-1)
                >
                    "−"
                </button>
                <input
                    id=id.clone()
                    name=id
                    type="number"
                    inputmode="numeric"
                    autocomplete="off"
                    min=least.to_string()
                    max=most.to_string()
                    step="1"
                    value=first
                    node_ref=node
                    on:input=move |event| typed(event_target_value(&event))
                    on:focus=choose
                    on:blur=settle
                />
                <button
                    type="button"
                    class="button"
                    aria-label=more
                    disabled=at_most
                    on:click=move |_| step(1)
                >
                    "+"
                </button>
            </div>
        </div>
    }
    .into_any()
}
