//! Saving everything as a file and bringing it back.

use leptos::prelude::*;

use crate::bring_in::{BringIn, FileReport, NotChosenPairs, shown};
use crate::files;
use crate::parts::Tone;
use crate::store::{self, OtherWindows, Quarantined};
use crate::text;

/// The section.
#[component]
pub(super) fn Backup() -> impl IntoView {
    let said = RwSignal::new(None::<FileReport>);
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
                FileReport::line(Tone::Note, text::settings::SAVED)
            }
            Err(files::Unwilling) => FileReport::line(Tone::Wrong, text::settings::NOT_SAVED),
        }));
    };
    view! {
        <section class="sheet backup">
            <h2>{text::settings::BACKUP}</h2>
            <p>{text::settings::BACKUP_TEXT}</p>
            <div class="buttons">
                <button type="button" class="button lead" on:click=save>
                    {text::settings::SAVE}
                </button>
                <BringIn label=text::settings::RESTORE said after=Callback::new(move |()| look()) />
            </div>
            <p class="soft small">{text::settings::RESTORE_TEXT}</p>
            {shown(said)}
            <NotChosenPairs />
            <Show when=move || !aside.read().is_empty()>
                <SetAside aside />
            </Show>
        </section>
    }
    .into_any()
}

/// The most things set aside that are shown, and the most letters of each: a damaged backup may bring very many.
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
                    {(more > 0).then(|| text::settings::cut_short(more))}
                </li>
            }
        })
        .collect_view()
    };
    view! {
        <details class="more">
            <summary>{text::settings::ASIDE}</summary>
            <p>{text::settings::ASIDE_TEXT}</p>
            <ul class="aside">{list}</ul>
            <div aria-live="polite">
                <Show when=move || stays.get()>
                    <p>{text::settings::ASIDE_STAYS}</p>
                </Show>
                <Show
                    when=move || asked.get()
                    fallback=move || {
                        view! {
                            <button type="button" class="button bare let-aside-go" on:click=ask(true)>
                                {text::settings::ASIDE_GO}
                            </button>
                        }
                    }
                >
                    <p>{text::settings::ASIDE_GO_SURE}</p>
                    <div class="buttons">
                        <button type="button" class="button" on:click=ask(false)>
                            {text::settings::ASIDE_GO_NO}
                        </button>
                        <button type="button" class="button wrong" on:click=let_go>
                            {text::settings::ASIDE_GO_YES}
                        </button>
                    </div>
                </Show>
            </div>
        </details>
    }
    .into_any()
}

/// Name of a backup file; `day` as 2026-11-25.
fn file_name(day: &str) -> String {
    format!("evenloop-{day}.json")
}
