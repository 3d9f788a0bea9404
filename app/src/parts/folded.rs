//! Something folded away that is made only when it is first unfolded, so that it costs nothing until then.

use leptos::html::Details;
use leptos::prelude::*;

/// What is in it.
type Inside = Box<dyn Fn() -> AnyView + Send>;

/// The fold.
#[component]
pub fn Folded(
    class: &'static str,
    /// What stands in its line.
    summary: AnyView,
    /// Makes what is in it.
    inside: Inside,
    /// Whether that was made; can be set to have it made before it is unfolded.
    #[prop(default = RwSignal::new(false))]
    opened: RwSignal<bool>,
) -> impl IntoView {
    let details = NodeRef::<Details>::new();
    let look = move || {
        if details.get_untracked().is_some_and(|fold| fold.open()) {
            opened.set(true);
        }
    };
    // It may have been unfolded before the page woke.
    Effect::new(look);
    let made = Memo::new(move |_| opened.get());
    view! {
        <details class=class node_ref=details on:toggle=move |_| look()>
            <summary>{summary}</summary>
            {move || made.get().then(&inside)}
        </details>
    }
    .into_any()
}
