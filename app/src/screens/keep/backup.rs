//! Saving everything as a file and bringing it back.

use leptos::html::Input;
use leptos::prelude::*;
use leptos::task::spawn_local;

use super::copy;
use crate::files;
use crate::parts::{Notice, Tone};
use crate::reader;
use crate::store::{self, FILE_LIMIT, Follow, Quarantined, Refused};

/// The section.
#[component]
pub(super) fn Backup() -> impl IntoView {
    let said = RwSignal::new(None::<(Tone, Vec<String>)>);
    let aside = RwSignal::new(Vec::<Quarantined>::new());
    let look = move || aside.set(store::here().quarantined().unwrap_or_default());
    let follow = use_context::<Follow>();
    Effect::new(move || {
        if let Some(follow) = follow {
            follow.follow();
        }
        look();
    });
    let save = move |_| {
        let saved = store::here()
            .backup(store::now())
            .map_err(|_| files::Unwilling)
            .and_then(|text| files::save(&copy::file_name(&files::today()), files::JSON, &text));
        said.set(Some(match saved {
            Ok(()) => {
                // Not noted, the next reminder only comes sooner.
                let _ = store::here().note_backup();
                (Tone::Note, vec![copy::SAVED.to_owned()])
            }
            Err(files::Unwilling) => (Tone::Wrong, vec![copy::NOT_SAVED.to_owned()]),
        }));
    };
    let input = NodeRef::<Input>::new();
    let restore = move |_| {
        let Some(chosen) = input
            .get_untracked()
            .and_then(|input| files::chosen(&input))
        else {
            return;
        };
        spawn_local(async move {
            said.set(Some(bring_back(&chosen).await));
            // Settings may have come along, for this window too.
            match follow {
                Some(follow) => follow.touch(),
                None => look(),
            }
        });
    };
    view! {
        <section class="sheet backup">
            <h2>{copy::BACKUP}</h2>
            <p>{copy::BACKUP_TEXT}</p>
            <div class="buttons">
                <button type="button" class="button lead" on:click=save>
                    {copy::SAVE}
                </button>
                <label class="button file">
                    {copy::RESTORE}
                    <input
                        class="unseen"
                        type="file"
                        accept=".json,application/json"
                        node_ref=input
                        on:change=restore
                    />
                </label>
            </div>
            <p class="soft small">{copy::RESTORE_TEXT}</p>
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
            <Show when=move || !aside.read().is_empty()>
                <details class="more">
                    <summary>{copy::ASIDE}</summary>
                    <p>{copy::ASIDE_TEXT}</p>
                    <ul class="aside">
                        {move || {
                            aside
                                .get()
                                .into_iter()
                                .map(|Quarantined { key, text }| {
                                    view! {
                                        <li>
                                            <code>{key}</code>
                                            <pre tabindex="0">{text}</pre>
                                        </li>
                                    }
                                })
                                .collect_view()
                        }}
                    </ul>
                </details>
            </Show>
        </section>
    }
    .into_any()
}

async fn bring_back(chosen: &web_sys::File) -> (Tone, Vec<String>) {
    // Not even read when it is far too large for a phone.
    #[allow(clippy::cast_precision_loss)] // far below 2^53
    if chosen.size() > FILE_LIMIT as f64 {
        return (
            Tone::Wrong,
            vec![copy::refused(&Refused::TooLarge).to_owned()],
        );
    }
    let Ok(text) = files::read(chosen).await else {
        return (Tone::Wrong, vec![copy::UNREAD.to_owned()]);
    };
    match reader::restore(text, store::now()).await {
        Ok(report) => {
            let tone = if report.stopped.is_some() || !report.unreadable.is_empty() {
                Tone::Mind
            } else {
                Tone::Note
            };
            (tone, copy::restored(&report))
        }
        Err(why) => (Tone::Wrong, vec![copy::refused(&why).to_owned()]),
    }
}
