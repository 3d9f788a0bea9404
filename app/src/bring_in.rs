//! Bringing a backup in: the button that takes the file, and what is said of it afterwards.
//!
//! May use the store, the parts and the browser's files; must not know what is in a backup, nor any screen.

use evenloop_engine::text::Typed;
use leptos::html::Input;
use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::files;
use crate::lazy_store;
use crate::parts::{Notice, Tone};
use crate::store::{self, BackupRefused, FILE_LIMIT, OtherWindows, Restored, StoreError};
use crate::text;

/// What is said of a file that was brought in or saved: how much it matters, and each sentence.
pub type Told = (Tone, Vec<String>);

/// A button that asks for a backup and brings it in.
#[component]
pub fn BringIn(
    /// What stands on it.
    label: &'static str,
    /// Where it says what came of it.
    said: RwSignal<Option<Told>>,
    /// Called then, also where nothing came of it.
    after: Callback<()>,
) -> impl IntoView {
    let follow = use_context::<OtherWindows>();
    let input = NodeRef::<Input>::new();
    let restore = move |_| {
        let Some(chosen) = input
            .get_untracked()
            .and_then(|input| files::chosen(&input))
        else {
            return;
        };
        spawn_local(async move {
            let told = bring_back(&chosen).await;
            // The screen may have been left meanwhile.
            said.try_set(Some(told));
            // Settings may have come along, for this window too.
            if let Some(follow) = follow {
                follow.touch();
            }
            after.try_run(());
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
                on:change=restore
            />
        </label>
    }
    .into_any()
}

/// What was said, as a notice that is announced.
pub fn shown(said: RwSignal<Option<Told>>) -> impl IntoView {
    view! {
        <div aria-live="polite">
            {move || {
                said.get()
                    .map(|(tone, lines)| {
                        view! {
                            <Notice tone>
                                {lines
                                    .into_iter()
                                    .map(|line| view! { <p>{line}</p> })
                                    .collect_view()}
                            </Notice>
                        }
                    })
            }}
        </div>
    }
    .into_any()
}

async fn bring_back(chosen: &web_sys::File) -> Told {
    // Not even read when it is far too large for a phone.
    #[allow(clippy::cast_precision_loss)] // far below 2^53
    if chosen.size() > FILE_LIMIT as f64 {
        return (
            Tone::Wrong,
            vec![refused(&BackupRefused::TooLarge).to_owned()],
        );
    }
    let Ok(text) = files::read(chosen).await else {
        return (Tone::Wrong, vec![text::keep::UNREAD.to_owned()]);
    };
    match lazy_store::restore(text, store::now()).await {
        Ok(report) => {
            let tone = if report.stopped.is_some() || !report.unreadable.is_empty() {
                Tone::Mind
            } else {
                Tone::Note
            };
            (tone, restored(&report))
        }
        Err(why) => (Tone::Wrong, vec![refused(&why).to_owned()]),
    }
}

/// Why a file was refused.
const fn refused(why: &BackupRefused) -> &'static str {
    match why {
        BackupRefused::TooLarge => text::keep::TOO_LARGE,
        BackupRefused::NotOurs => text::keep::NOT_OURS,
        BackupRefused::Newer => text::keep::NEWER,
        BackupRefused::NotLoaded => text::keep::NOT_LOADED,
    }
}

/// What a restore did, sentence by sentence.
fn restored(report: &Restored) -> Vec<String> {
    let mut lines = Vec::new();
    for (what, names) in [
        (text::keep::ADDED, &report.added),
        (text::keep::CONTINUED, &report.continued),
        (text::keep::KEPT, &report.kept),
        (text::keep::BESIDE_AS, &report.beside),
        (text::keep::UNREADABLE, &report.unreadable),
    ] {
        if !names.is_empty() {
            let names: Vec<Typed> = names.iter().map(|name| Typed::new(&**name)).collect();
            lines.push(text::keep::done_with(what, &names));
        }
    }
    if report.settings {
        lines.push(text::keep::SETTINGS.to_owned());
    }
    if lines.is_empty() && report.stopped.is_none() {
        lines.push(text::keep::NOTHING.to_owned());
    }
    lines.extend(report.stopped.as_ref().map(|why| {
        match why {
            StoreError::Full => text::keep::STOPPED_FULL,
            _ => text::keep::STOPPED,
        }
        .to_owned()
    }));
    lines
}
