//! Handing a recipe on: its address sent, copied, or shown as a code. All of it works without
//! signal.

use leptos::html::{Details, Input};
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;
use web_sys::ShareData;

use super::code;
use super::handed::Handed;
use crate::base::to;
use crate::clipboard;
use crate::files::Unwilling;
use crate::parts::{Tone, outcome};
use crate::routes;
use crate::text;

#[component]
pub(super) fn Share(
    /// What is handed on.
    link: Handed,
) -> impl IntoView {
    let (path, about) = match link {
        Handed::Recipe(link) => (routes::plan_of_recipe(&link), text::plan::SHARE_TEXT),
        Handed::Pattern(link) => (routes::pattern_recipe(&link), text::plan::SHARE_PATTERN),
        Handed::TooLong => {
            return view! {
                <section class="sheet share">
                    <h2>{text::plan::SHARE}</h2>
                    <p>{text::plan::PATTERN_TOO_LONG}</p>
                </section>
            }
            .into_any();
        }
    };
    let path = to(&path);
    let address = StoredValue::new(window().location().origin().unwrap_or_default() + &path);
    let said = RwSignal::new(None::<(Tone, &'static str)>);
    let field = NodeRef::<Input>::new();
    let sends = has("share");
    let send = move |_| {
        let data = ShareData::new();
        data.set_title(text::plan::SENT_AS);
        data.set_url(&address.get_value());
        let asked = window().navigator().share_with_data(&data);
        spawn_local(async move {
            // Whoever closes the system's list has changed their mind; nothing went wrong.
            let _ = JsFuture::from(asked).await;
        });
    };
    let copy_it = move |_| {
        if let Some(field) = field.get_untracked() {
            field.select();
        }
        let copied = clipboard::copy(&address.get_value());
        spawn_local(async move {
            said.set(Some(match copied.await {
                Ok(()) => (Tone::Note, text::plan::COPIED),
                Err(Unwilling) => (Tone::Mind, text::plan::NOT_COPIED),
            }));
        });
    };
    let details = NodeRef::<Details>::new();
    let opened = RwSignal::new(false);
    let toggled = move |_| {
        opened.set(
            details
                .get_untracked()
                .is_some_and(|details| details.open()),
        );
    };
    view! {
        // On paper, where nothing can be touched, the code stands at the top.
        <div class="paper-code">{drawn(&address.get_value())} <p>{text::plan::CODE_ON_PAPER}</p></div>
        <details class="more share" node_ref=details on:toggle=toggled>
            <summary>{text::plan::SHARE}</summary>
            <div class="sheet">
                <p>{about}</p>
                <input
                    class="address"
                    type="url"
                    readonly
                    aria-label=text::plan::ADDRESS
                    node_ref=field
                    prop:value=address.get_value()
                />
                <div class="buttons">
                    {sends
                        .then(|| {
                            view! {
                                <button type="button" class="button" on:click=send>
                                    {text::plan::SEND}
                                </button>
                            }
                        })}
                    <button type="button" class="button" on:click=copy_it>
                        {text::plan::COPY}
                    </button>
                </div>
                {outcome(said)}
                <p>{text::plan::CODE}</p>
                {move || opened.get().then(|| drawn(&address.get_value()))}
            </div>
        </details>
    }
    .into_any()
}

fn drawn(address: &str) -> AnyView {
    match code::of(address) {
        Some(code) => {
            let field = format!("0 0 {0} {0}", code.side);
            view! {
                <svg class="code" viewBox=field role="img" aria-label=text::plan::CODE_NAME>
                    <rect width=code.side height=code.side fill="#fff"></rect>
                    <path d=code.path fill="#000" shape-rendering="crispEdges"></path>
                </svg>
            }
            .into_any()
        }
        None => view! { <p>{text::plan::CODE_TOO_LONG}</p> }.into_any(),
    }
}

/// Whether the browser has something to offer under that name, here and in this kind of page.
fn has(name: &str) -> bool {
    js_sys::Reflect::get(&window().navigator(), &JsValue::from_str(name))
        .is_ok_and(|offered| !offered.is_undefined())
}
