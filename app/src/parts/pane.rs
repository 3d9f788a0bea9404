//! A pane over the screen, as large as it: opened, read, closed. Escape closes it, and the focus goes
//! back to where it was; the browser's own dialog sees to both.

use leptos::html;
use leptos::prelude::*;

/// The pane. What is in it is made again at each opening.
#[component]
pub fn Pane(
    /// What it is, for the ear.
    label: &'static str,
    /// Whether it is open.
    open: RwSignal<bool>,
    /// What the button that closes it says.
    close: &'static str,
    /// What is in it.
    children: ChildrenFn,
) -> impl IntoView {
    let node = NodeRef::<html::Dialog>::new();
    Effect::new(move || {
        let Some(dialog) = node.get() else { return };
        if open.get() && !dialog.open() {
            // Opening what is open is all that can fail.
            let _ = dialog.show_modal();
            if let Ok(Some(here)) = dialog.query_selector("[aria-current]") {
                here.scroll_into_view_with_bool(false);
            }
        } else if !open.get() && dialog.open() {
            dialog.close();
        }
    });
    let children = StoredValue::new(children);
    view! {
        <dialog class="pane" node_ref=node aria-label=label on:close=move |_| open.set(false)>
            <Show when=move || open.get()>
                <div class="pane-body">{children.with_value(|children| children())}</div>
                <div class="pane-foot">
                    <button
                        type="button"
                        class="button"
                        autofocus
                        on:click=move |_| open.set(false)
                    >
                        {close}
                    </button>
                </div>
            </Show>
        </dialog>
    }
    .into_any()
}
