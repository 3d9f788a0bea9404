//! What is always at hand, below all steps: what failed, and one line with the button that goes on.

use leptos::prelude::*;

use crate::parts::failure;

/// The bar; `line` is what its line holds. What failed is announced by its own notice.
pub(super) fn at_hand(failed: RwSignal<Option<&'static str>>, line: Vec<AnyView>) -> AnyView {
    view! {
        <div class="at-hand">
            {failure(failed)}
            <div class="line">{line}</div>
        </div>
    }
    .into_any()
}
