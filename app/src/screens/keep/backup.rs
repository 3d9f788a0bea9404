//! Saving everything as a file and bringing it back.

use evenloop_engine::text::Typed;
use leptos::html::Input;
use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::files;
use crate::lazy_store;
use crate::parts::{Notice, Tone};
use crate::store::{
    self, BackupRefused, FILE_LIMIT, OtherWindows, Quarantined, Restored, StoreError,
};
use crate::text;

/// The section.
#[component]
pub(super) fn Backup() -> impl IntoView {
    let said = RwSignal::new(None::<(Tone, Vec<String>)>);
    let aside = RwSignal::new(Vec::<Quarantined>::new());
    let look = move || aside.set(store::here().quarantined().unwrap_or_default());
    let follow = use_context::<OtherWindows>();
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
            .and_then(|text| files::save(&file_name(&files::today()), files::JSON, &text));
        said.set(Some(match saved {
            Ok(()) => {
                // Not noted, the next reminder only comes sooner.
                let _ = store::here().note_backup();
                (Tone::Note, vec![text::keep::SAVED.to_owned()])
            }
            Err(files::Unwilling) => (Tone::Wrong, vec![text::keep::NOT_SAVED.to_owned()]),
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
            <h2>{text::keep::BACKUP}</h2>
            <p>{text::keep::BACKUP_TEXT}</p>
            <div class="buttons">
                <button type="button" class="button lead" on:click=save>
                    {text::keep::SAVE}
                </button>
                <label class="button file">
                    {text::keep::RESTORE}
                    <input
                        class="unseen"
                        type="file"
                        accept=".json,application/json"
                        node_ref=input
                        on:change=restore
                    />
                </label>
            </div>
            <p class="soft small">{text::keep::RESTORE_TEXT}</p>
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
                <SetAside aside />
            </Show>
        </section>
    }
    .into_any()
}

/// So many things set aside are shown, and so many letters of each: a damaged backup may bring very many.
const SHOWN: usize = 20;
const LETTERS_SHOWN: usize = 4_000;

/// What could not be read, and the way to let it go.
#[component]
fn SetAside(aside: RwSignal<Vec<Quarantined>>) -> impl IntoView {
    let asked = RwSignal::new(false);
    let stays = RwSignal::new(false);
    let ask = move |sure: bool| move |_| asked.set(sure);
    let let_go = move |_| {
        stays.set(store::here().let_quarantined_go().is_err());
        asked.set(false);
        aside.set(store::here().quarantined().unwrap_or_default());
    };
    let list = move || {
        let all = aside.get().into_iter().take(SHOWN);
        all.map(|Quarantined { key, text }| {
            let shown: String = text.chars().take(LETTERS_SHOWN).collect();
            let more = text.chars().count() - shown.chars().count();
            view! {
                <li>
                    <code>{key}</code>
                    <pre tabindex="0">{shown}</pre>
                    {(more > 0).then(|| text::keep::cut_short(more))}
                </li>
            }
        })
        .collect_view()
    };
    view! {
        <details class="more">
            <summary>{text::keep::ASIDE}</summary>
            <p>{text::keep::ASIDE_TEXT}</p>
            <ul class="aside">{list}</ul>
            <div aria-live="polite">
                <Show when=move || stays.get()>
                    <p>{text::keep::ASIDE_STAYS}</p>
                </Show>
                <Show
                    when=move || asked.get()
                    fallback=move || {
                        view! {
                            <button type="button" class="button bare let-aside-go" on:click=ask(true)>
                                {text::keep::ASIDE_GO}
                            </button>
                        }
                    }
                >
                    <p>{text::keep::ASIDE_GO_SURE}</p>
                    <div class="buttons">
                        <button type="button" class="button" on:click=ask(false)>
                            {text::keep::ASIDE_GO_NO}
                        </button>
                        <button type="button" class="button wrong" on:click=let_go>
                            {text::keep::ASIDE_GO_YES}
                        </button>
                    </div>
                </Show>
            </div>
        </details>
    }
    .into_any()
}

async fn bring_back(chosen: &web_sys::File) -> (Tone, Vec<String>) {
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

/// Name of a backup file; `day` as 2026-11-25.
fn file_name(day: &str) -> String {
    format!("evenloop-{day}.json")
}
