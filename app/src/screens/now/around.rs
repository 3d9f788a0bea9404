//! A look around: all rounds of the section at hand, over the screen. Nothing counts in here.

use leptos::html;
use leptos::prelude::*;

use super::copy;
use super::rounds::Rounds;
use super::session::Session;

#[component]
pub(super) fn Around(session: Session, open: RwSignal<bool>) -> impl IntoView {
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
    let section = move || {
        let at = session.at();
        session.with(|pair| {
            pair.trace
                .steps
                .get(at.step)
                .or(pair.trace.steps.last())
                .map(|step| step.section)
        })
    };
    view! {
        <dialog class="around" node_ref=node aria-label=copy::AROUND on:close=move |_| open.set(false)>
            <Show when=move || open.get()>
                <div class="around-body">
                    {section()
                        .map(|section| {
                            view! {
                                <Rounds
                                    session
                                    section
                                    titled=true
                                    on_jump=Callback::new(move |()| open.set(false))
                                />
                            }
                        })}
                </div>
                <div class="around-foot">
                    <button
                        type="button"
                        class="button"
                        autofocus
                        on:click=move |_| open.set(false)
                    >
                        {copy::AROUND_CLOSE}
                    </button>
                </div>
            </Show>
        </dialog>
    }
    .into_any()
}
