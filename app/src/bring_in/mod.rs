//! Bringing a backup in: the button that takes the file, what bringing it in would do, and what is said of it
//! afterwards. The same way for another device's basket and for the way into the installed app.
//!
//! May use the store, the parts and the browser's files; must not know what is in a backup, nor any screen.

mod look;
mod not_chosen;
mod report;

use std::sync::Arc;

use leptos::html::Input;
use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::clipboard;
use crate::files;
use crate::parts::{Notice, Tone};
use crate::store::{self, FILE_LIMIT, OtherWindows};
use crate::text;

use report::Tell;

pub use not_chosen::NotChosenPairs;
pub use report::FileReport;

/// A button that asks for a backup and looks into it.
#[component]
pub fn BringIn(
    /// What stands on it.
    label: &'static str,
    /// Where it says what would come of it, and then what came of it.
    said: RwSignal<Option<FileReport>>,
    /// Called when something was brought in, also where nothing came of it.
    after: Callback<()>,
) -> impl IntoView {
    let input = NodeRef::<Input>::new();
    let done = done(said, after);
    let look = move |_| {
        let chosen = input.get_untracked();
        let Some(chosen) = chosen.and_then(|input| files::chosen(&input)) else {
            return;
        };
        said.set(Some(FileReport::line(Tone::Note, text::bring_in::LOOKING)));
        let done = Arc::clone(&done);
        spawn_local(async move {
            let told = looked_into(&chosen, done).await;
            said.try_set(Some(told));
        });
    };
    view! {
        <label class="button file">
            {label}
            <input
                class="unseen"
                type="file"
                accept=".json,application/json"
                node_ref=input
                on:change=look
            />
        </label>
    }
    .into_any()
}

/// A button that takes a basket which was copied elsewhere on this device, and looks into it.
#[component]
pub fn PasteIn(
    /// Where it says what would come of it, and then what came of it.
    said: RwSignal<Option<FileReport>>,
    /// Called when something was brought in, also where nothing came of it.
    after: Callback<()>,
) -> impl IntoView {
    let done = done(said, after);
    let paste = move |_| {
        let (pasted, done) = (clipboard::paste(), Arc::clone(&done));
        spawn_local(async move {
            let told = match pasted.await {
                Ok(text) => read(text, done).await,
                Err(files::Unwilling) => FileReport::line(Tone::Mind, text::bring_in::NOT_PASTED),
            };
            said.try_set(Some(told));
        });
    };
    view! {
        <button type="button" class="button paste" on:click=paste>
            {text::bring_in::PASTE}
        </button>
    }
    .into_any()
}

/// Tells what came of what was brought in.
fn done(said: RwSignal<Option<FileReport>>, after: Callback<()>) -> Tell {
    let follow = use_context::<OtherWindows>();
    Arc::new(move |told| {
        // The screen may have been left meanwhile.
        said.try_set(Some(told));
        // Settings may have come along, for this window too.
        if let Some(follow) = follow {
            follow.touch();
        }
        after.try_run(());
    })
}

/// What was said, as a notice that is announced, or what is asked.
pub fn shown(said: RwSignal<Option<FileReport>>) -> impl IntoView {
    // A question takes the focus, so it need not be announced as well.
    let live = move || {
        let asked = said.with(|said| matches!(said, Some(FileReport::Asked(_))));
        if asked { "off" } else { "polite" }
    };
    view! {
        <div class="told-of-file" aria-live=live>
            {move || match said.get()? {
                FileReport::Asked(make) => Some(make()),
                FileReport::Lines(tone, lines) => {
                    let lines = lines
                        .into_iter()
                        .map(|line| view! { <p>{line}</p> })
                        .collect_view();
                    Some(view! { <Notice tone>{lines}</Notice> }.into_any())
                }
            }}
        </div>
    }
    .into_any()
}

async fn looked_into(chosen: &web_sys::File, done: Tell) -> FileReport {
    // Not even read when it is far too large for a phone.
    #[allow(clippy::cast_precision_loss)] // far below 2^53
    if chosen.size() > FILE_LIMIT as f64 {
        return FileReport::line(Tone::Wrong, text::settings::TOO_LARGE);
    }
    let Ok(text) = files::read(chosen).await else {
        return FileReport::line(Tone::Wrong, text::settings::UNREAD);
    };
    read(text, done).await
}

async fn read(text: String, done: Tell) -> FileReport {
    look::look_into(text, store::now(), done)
        .await
        .unwrap_or_else(|_| FileReport::line(Tone::Wrong, text::settings::NOT_LOADED))
}
