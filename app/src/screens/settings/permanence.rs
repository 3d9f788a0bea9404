//! How well what is stored is kept on this device, and what can be done for it.

use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::clipboard;
use crate::moment::moment;
use crate::preferences::use_preferences;
use crate::store::{self, AppleDevice, COMPARED_BY, OtherWindows, Permanence};
use crate::text;

/// How both copies of what is stored stand to each other.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Copies {
    /// Whether the second one has all.
    whole: bool,
    /// When both were last found to be the same, in seconds since 1970.
    compared: Option<u64>,
}

impl Copies {
    fn look() -> Self {
        let compared = store::copies_last_the_same();
        Self {
            // What nobody has compared yet may differ.
            whole: compared.is_some() && store::second_copy_is_whole(),
            compared,
        }
    }
}

/// The section; what it says is known only once the page is awake.
#[component]
pub(super) fn StoragePermanence() -> impl IntoView {
    let permanence = RwSignal::new(None::<Permanence>);
    let copies = RwSignal::new(Copies::look());
    let since = RwSignal::new(None::<u32>);
    let no_promise = RwSignal::new(false);
    let follow = use_context::<OtherWindows>();
    Effect::new(move || {
        if let Some(follow) = follow {
            follow.follow();
        }
        copies.set(Copies::look());
        since.set(since_backup());
    });
    Effect::new(move || {
        spawn_local(async move {
            let found = store::permanence().await;
            // The screen may have been left meanwhile.
            permanence.try_set(Some(found));
        });
        let look_again = move || {
            copies.try_set(Copies::look());
        };
        if let Ok(waiting) = set_timeout_with_handle(look_again, COMPARED_BY) {
            on_cleanup(move || waiting.clear());
        }
    });
    let ask = move |_| {
        spawn_local(async move {
            let found = store::ask_to_stay().await;
            no_promise.try_set(found != Permanence::Kept);
            permanence.try_set(Some(found));
        });
    };
    view! {
        <section class="step permanence">
            <h2>{text::permanence::TITLE}</h2>
            <div aria-live="polite">
                {move || permanence.get().map(|permanence| kept(permanence, copies))}
                <Show when=move || no_promise.get()>
                    <p>{text::permanence::NO_PROMISE}</p>
                </Show>
            </div>
            <Show when=move || permanence.get() == Some(Permanence::MayBeEvicted { can_ask: true })>
                <div class="buttons">
                    <button type="button" class="button ask-to-stay" on:click=ask>
                        {text::permanence::ASK}
                    </button>
                </div>
            </Show>
            {move || {
                since
                    .get()
                    .map(|steps| {
                        view! { <p class="since-backup">{text::permanence::since_backup(steps)}</p> }
                    })
            }}
        </section>
    }
    .into_any()
}

/// Rounds and rows since the last backup; nothing where that is not known, or there is nothing to save.
fn since_backup() -> Option<u32> {
    let (pairs, unread) = store::here().heads().ok()?;
    if unread || pairs.is_empty() {
        return None;
    }
    let (since, _) = store::here().since_backup(&pairs).ok()?;
    Some(since)
}

/// What is said of it.
fn kept(permanence: Permanence, copies: RwSignal<Copies>) -> AnyView {
    let preferences = use_preferences();
    let copies = (permanence != Permanence::GoneWithWindow).then(|| {
        let said = move || match copies.get() {
            Copies { whole: true, .. } => text::permanence::TWICE,
            Copies { whole: false, .. } => text::permanence::ONCE,
        };
        let compared = move || {
            let when = copies.get().compared?;
            let when = moment(when, preferences.get().style.english);
            Some(text::permanence::compared(&when))
        };
        view! { <p class="copies">{said} " " {compared}</p> }
    });
    let how_long = match permanence {
        Permanence::GoneWithWindow => text::permanence::GONE_WITH_WINDOW,
        Permanence::Kept => text::permanence::KEPT,
        Permanence::MayBeEvicted { .. } => text::permanence::MAY_BE_EVICTED,
        Permanence::MayBeClearedUnvisited(_) => text::permanence::MAY_BE_CLEARED,
    };
    let way = match permanence {
        Permanence::MayBeClearedUnvisited(device) => Some(way_into_installed(device)),
        _ => None,
    };
    view! {
        {copies}
        <p class="how-long">{how_long}</p>
        {way}
    }
    .into_any()
}

/// The steps that take everything into the installed app: nothing but its own window can write into its storage, so the
/// basket is copied here and pasted there.
fn way_into_installed(device: AppleDevice) -> impl IntoView {
    let said = RwSignal::new(None::<&'static str>);
    let copy = move |_| {
        let basket = store::here().backup(store::now()).ok();
        let copied = basket.map(|text| clipboard::copy(&text));
        spawn_local(async move {
            let copied = match copied {
                Some(copied) => copied.await.is_ok(),
                None => false,
            };
            said.try_set(Some(if copied {
                text::permanence::COPIED
            } else {
                text::permanence::NOT_COPIED
            }));
        });
    };
    let add = match device {
        AppleDevice::Handheld => text::permanence::STEP_HOME_SCREEN,
        AppleDevice::Computer => text::permanence::STEP_DOCK,
    };
    let steps = [
        text::permanence::STEP_COPY,
        add,
        text::permanence::STEP_PASTE,
    ];
    view! {
        <p>{text::permanence::OWN_STORAGE}</p>
        <ol>{steps.map(|step| view! { <li>{step}</li> }).collect_view()}</ol>
        <div class="buttons">
            <button type="button" class="button copy-basket" on:click=copy>
                {text::permanence::COPY}
            </button>
        </div>
        {move || said.get().map(|said| view! { <p>{said}</p> })}
    }
}
