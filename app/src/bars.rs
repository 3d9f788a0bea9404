//! The small bars over a screen: a newer build waits; everything is stored on the device. Neither
//! is modal and neither comes back once it was answered; the second one also goes with the screen it
//! lay over. They wait while Now is open: nothing may lie over the needles.
//!
//! May use the store, the worker and the text; must not know any screen but by its address.

use leptos::prelude::*;

use crate::base::here;
use crate::offline::Offline;
use crate::routes::Screen;
use crate::store;
use crate::text;

/// The bars.
#[component]
pub fn Bars() -> impl IntoView {
    let offline = expect_context::<Offline>();
    let later = RwSignal::new(false);
    let told = RwSignal::new(true);
    // Said once on a device, not at every visit, and not where the socks themselves are not stored.
    Effect::new(move || {
        if offline.offline_ready.get() {
            told.set(store::here().was_told_stored() || !store::lasts());
        }
    });
    let path = here();
    let free = move || path.get() != Screen::Now.path();
    let newer = move || free() && offline.update_ready.get() && !later.get();
    let said = move || {
        if offline.update_incomplete.get() {
            text::bars::INCOMPLETE
        } else {
            text::bars::NEWER
        }
    };
    let stored = move || free() && !told.get() && !newer();
    let heard = move || {
        store::here().note_told_stored();
        told.set(true);
    };
    Effect::new(move |before: Option<(String, bool)>| {
        let here = path.get();
        if before.is_some_and(|(path, shown)| shown && path != here) {
            heard();
        }
        (here, stored())
    });
    view! {
        <div role="status">
            <Show when=newer>
                <div class="bar">
                    <p>{said}</p>
                    {move || {
                        let news = offline.news.get();
                        (!news.is_empty())
                            .then(|| {
                                let news: Vec<_> = news
                                    .into_iter()
                                    .map(|one| view! { <li>{one}</li> })
                                    .collect();
                                view! { <ul class="news">{news}</ul> }
                            })
                    }}
                    <div class="buttons">
                        <button type="button" class="button" on:click=move |_| later.set(true)>
                            {text::bars::LATER}
                        </button>
                        <button
                            type="button"
                            class="button lead"
                            on:click=move |_| offline.accept_update()
                        >
                            {text::bars::SWITCH}
                        </button>
                    </div>
                </div>
            </Show>
            <Show when=stored>
                <div class="bar">
                    <p>{text::bars::STORED}</p>
                    <button type="button" class="button" on:click=move |_| heard()>
                        {text::bars::GOOD}
                    </button>
                </div>
            </Show>
        </div>
    }
}
