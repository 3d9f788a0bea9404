//! Choosing one of many from a list that the device unfolds.

use leptos::prelude::*;

/// A labelled list.
#[component]
pub fn Select(
    /// Id of the list.
    #[prop(into)]
    id: String,
    /// What is chosen.
    #[prop(into)]
    label: String,
    /// What there is.
    options: Vec<String>,
    /// Index of the one that is chosen.
    #[prop(into)]
    picked: Signal<usize>,
    /// Another was chosen.
    on_pick: Callback<usize>,
) -> impl IntoView {
    let at_first = picked.get_untracked();
    let options = options
        .into_iter()
        .enumerate()
        .map(|(nth, option)| {
            view! {
                <option value=nth.to_string() selected=nth == at_first>
                    {option}
                </option>
            }
        })
        .collect_view();
    let choose = move |event| {
        if let Ok(nth) = event_target_value(&event).parse() {
            on_pick.run(nth);
        }
    };
    view! {
        <div class="pick">
            <label for=id.clone()>{label}</label>
            <select
                id=id
                autocomplete="off"
                prop:value=move || picked.get().to_string()
                on:change=choose
            >
                {options}
            </select>
        </div>
    }
    .into_any()
}
