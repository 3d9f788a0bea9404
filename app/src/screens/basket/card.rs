//! One pair in the basket: what it is called, how far it is, and what can be done with it.

use evenloop_engine::text::{Typed, Wording};
use leptos::html::Input;
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::NavigateOptions;

use super::{pictures, why};
use crate::base::{to, use_go};
use crate::parts::plain::link;
use crate::parts::{FabricFigure, Folded, Icon, Notice, ShownText, Sign, Tone};
use crate::preferences::use_preferences;
use crate::routes::{self, Screen};
use crate::store::{self, NAME_LIMIT, PairHead, StoreError};
use crate::text;
use crate::{lazy_pictures, lazy_store, pair_place};

/// The card.
#[component]
pub(super) fn PairCard(
    /// The pair.
    head: PairHead,
    /// Whether it is the pair at hand.
    at_hand: bool,
    /// Which card of the basket it is, from 0; none for one that goes without a picture.
    nth: Option<usize>,
    /// Called when the basket has changed.
    changed: Trigger,
) -> impl IntoView {
    let preferences = use_preferences();
    let picture = nth.filter(|_| head.readable).map(|nth| {
        let id = head.id.clone();
        pictures::in_turn(nth, move || {
            let (id, hues) = (id.clone(), preferences.get_untracked().hues);
            async move { lazy_pictures::of_pair(id, hues).await }
        })
    });
    let figure = picture.map(|picture| view! { <FabricFigure class="of-card" picture /> });
    let said = RwSignal::new(None::<(Tone, String)>);
    let go = use_go();
    let id = head.id.clone();
    // A link, for everything that a browser does with links.
    let open = move |event: leptos::ev::MouseEvent| {
        if event.button() != 0 || event.ctrl_key() || event.meta_key() {
            // Another window opens at once, and says itself what does not open.
            if let Err(error) = store::here().set_current(&id) {
                event.prevent_default();
                said.set(Some((Tone::Wrong, why::shut(&error).to_owned())));
            }
            return;
        }
        event.prevent_default();
        let (id, go) = (id.clone(), go.clone());
        // A pair that does not open stays here and says why.
        spawn_local(async move {
            match lazy_store::take_in_hand(id).await {
                Ok(None) => go(Screen::Now.path(), NavigateOptions::default()),
                // Once it is said, the next touch opens it.
                Ok(Some(trouble)) => said.set(Some((Tone::Mind, why::opens_with_less(&trouble)))),
                Err(error) => said.set(Some((Tone::Wrong, why::shut(&error).to_owned()))),
            }
        });
    };
    let goes_on = at_hand && head.readable && !head.progress.finished;
    let place = place(&head);
    let bars = head.readable.then(|| bars(&head));
    let name = head.name.clone();
    let now = to(Screen::Now.path());
    view! {
        <li class="sheet card" class:current=at_hand>
            <a class="open" href=now rel="external" on:click=open>
                {figure}
                <span class="words">
                    <span class="name">{name}</span>
                    <span class="place">{place.shown()}</span>
                    {goes_on.then(|| view! { <span class="tag">{text::basket::KNIT_ON}</span> })}
                </span>
                <Icon sign=Sign::Onward />
            </a>
            {bars}
            {move || {
                said.get()
                    .map(|(tone, text)| {
                        view! {
                            <Notice tone>
                                <p>{text}</p>
                            </Notice>
                        }
                    })
            }}
            <More head changed said />
        </li>
    }
    .into_any()
}

/// Which sock is on the needles, and where.
fn place(head: &PairHead) -> ShownText {
    if !head.readable {
        return text::basket::UNREADABLE.into();
    }
    let progress = head.progress.clone();
    ShownText::from(move |wording: Wording| pair_place::words(&progress, wording))
}

/// How far both socks are, as two bands of rib.
fn bars(head: &PairHead) -> impl IntoView + use<> {
    let place = &head.progress;
    let (first, second) = match (place.both, place.sock, place.finished) {
        (_, _, true) => (place.total, place.total),
        (Some([first, second]), ..) => (first, second),
        (None, 2, _) => (place.total, place.done),
        (None, ..) => (place.done, 0),
    };
    let total = place.total;
    let band = move |sock: u8, done: u32| {
        let label = text::basket::progress(sock, done, total);
        view! {
            <span aria-hidden="true">{text::basket::name_of(sock)}</span>
            <progress max=total value=done aria-label=label></progress>
            <span aria-hidden="true">{text::basket::rounds(done, total)}</span>
        }
    };
    view! { <div class="bands">{band(1, first)} {band(2, second)}</div> }
}

/// All else that can be done with a pair, folded away and made only when it is unfolded.
#[component]
fn More(head: PairHead, changed: Trigger, said: RwSignal<Option<(Tone, String)>>) -> impl IntoView {
    let label = text::basket::more_of(&Typed::new(&*head.name));
    let summary = view! {
        {text::basket::MORE}
        <span class="unseen">{label}</span>
    };
    let inside = Box::new(move || doings(head.clone(), changed, said));
    view! { <Folded class="more" summary=summary.into_any() inside /> }
}

fn doings(head: PairHead, changed: Trigger, said: RwSignal<Option<(Tone, String)>>) -> AnyView {
    let name = NodeRef::<Input>::new();
    let field = format!("name-{}", head.id);
    let id = StoredValue::new(head.id.clone());
    let go = use_go();
    let done = move |result: Result<(), StoreError>| match result {
        // Taken out in another window: gone is gone.
        Ok(()) | Err(StoreError::NotThere) => changed.notify(),
        Err(StoreError::NotLoaded) => {
            said.set(Some((Tone::Wrong, text::basket::NOT_LOADED.to_owned())));
        }
        Err(_) => said.set(Some((Tone::Wrong, text::basket::NOT_STORED.to_owned()))),
    };
    let rename = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        if let Some(name) = name.get_untracked() {
            done(id.with_value(|id| store::here().rename(id, &name.value(), store::now())));
        }
    };
    let take_out = move |_| {
        spawn_local(async move {
            done(lazy_store::take_out(id.get_value()).await.map(drop));
        });
    };
    let again = move |_| {
        let go = go.clone();
        spawn_local(async move {
            match lazy_store::again_path(id.get_value()).await {
                Ok(path) => go(&path, NavigateOptions::default()),
                Err(error) => said.set(Some((Tone::Wrong, why::shut(&error).to_owned()))),
            }
        });
    };
    // Not the form's field: what that says of errors and units is large, and nothing here is ever wrong.
    view! {
        <form class="rename" on:submit=rename>
            <div class="field">
                <div class="words">
                    <label for=field.clone()>{text::basket::NAME}</label>
                </div>
                <div class="entry">
                    <input
                        id=field.clone()
                        name=field
                        type="text"
                        autocomplete="off"
                        spellcheck="false"
                        maxlength=NAME_LIMIT.to_string()
                        value=head.name.clone()
                        node_ref=name
                    />
                </div>
            </div>
            <button type="submit" class="button">
                {text::basket::RENAME}
            </button>
        </form>
        <div class="buttons">
            {link("button", to(&routes::plan_of(&head.id)), text::basket::PLAN)}
            <button type="button" class="button" on:click=again>
                {text::basket::AGAIN}
            </button>
            <button type="button" class="button wrong" on:click=take_out>
                {text::basket::TAKE_OUT}
            </button>
        </div>
    }
    .into_any()
}
