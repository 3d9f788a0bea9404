//! The name by which this device is told from others.

use evenloop_engine::journal::DEVICE_NAME_LIMIT;
use leptos::html::Input;
use leptos::prelude::*;

use crate::parts::{Tone, outcome};
use crate::store::{self, OtherWindows};
use crate::text;

/// The section; the name is known only once the page is awake.
#[component]
pub(super) fn ThisDevice() -> impl IntoView {
    let name = RwSignal::new(String::new());
    let said = RwSignal::new(None::<(Tone, &'static str)>);
    let input = NodeRef::<Input>::new();
    let follow = use_context::<OtherWindows>();
    Effect::new(move || {
        if let Some(follow) = follow {
            follow.follow();
        }
        if let Ok(device) = store::here().this_device() {
            name.set(device.name);
        }
    });
    let rename = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let Some(input) = input.get_untracked() else {
            return;
        };
        said.set(Some(match store::here().name_device(&input.value()) {
            Ok(device) => {
                // Also where it was tidied, or nothing was typed.
                input.set_value(&device.name);
                name.set(device.name);
                (Tone::Note, text::device::SAVED)
            }
            Err(_) => (Tone::Wrong, text::device::NOT_SAVED),
        }));
    };
    view! {
        <section class="step this-device">
            <h2>{text::device::TITLE}</h2>
            <p>{text::device::TEXT}</p>
            <form class="rename" on:submit=rename>
                <div class="field">
                    <div class="words">
                        <label for="device-name">{text::device::NAME}</label>
                    </div>
                    <div class="entry">
                        <input
                            id="device-name"
                            name="device-name"
                            type="text"
                            autocomplete="off"
                            spellcheck="false"
                            maxlength=DEVICE_NAME_LIMIT.to_string()
                            prop:value=move || name.get()
                            node_ref=input
                        />
                    </div>
                </div>
                <button type="submit" class="button">
                    {text::device::SAVE}
                </button>
            </form>
            {outcome(said)}
        </section>
    }
    .into_any()
}
