//! Basket: all pairs, each with how far it is. Opening one takes it in hand.
//!
//! May use the store and the parts. What is stored is read once the page is alive; the first render
//! shows what an empty basket shows, or only that it is looked into where the boot script saw pairs.

mod card;
mod notices;
mod pictures;
mod why;

use evenloop_engine::text::Typed;
use leptos::prelude::*;
use leptos::task::spawn_local;

use self::card::PairCard;
use self::notices::{Install, again, install_notice, remind, taken_out, tell_install, try_out};
use crate::after_paint::after_paint;
use crate::base::to;
use crate::bring_in::{self, BringIn, FileReport, PasteIn};
use crate::fabric::FabricPicture;
use crate::parts::plain::link;
use crate::parts::{FabricFigure, Folded, Notice, PageHead, Tone, said};
use crate::preferences::use_preferences;
use crate::recovery::Recovery;
use crate::routes::{self, Screen};
use crate::starters::{STARTERS, Starter};
use crate::store::{self, OtherWindows, PairHead, PairId, Practice, StoreError};
use crate::text;
use crate::{lazy_pictures, lazy_store};

/// How many rounds without a backup are worth a reminder.
const WORTH_A_BACKUP: u32 = 150;

/// How many cards fill the tallest phone.
const IN_SIGHT: usize = 8;

/// What is in the basket, once looked at.
#[derive(Clone, PartialEq)]
enum BasketState {
    /// Not yet looked at.
    Looking,
    /// No access.
    Trouble(StoreError),
    /// These.
    Pairs(Contents),
}

#[derive(Clone, PartialEq)]
#[allow(clippy::struct_excessive_bools)] // each is a sentence of its own
struct Contents {
    pairs: Vec<PairHead>,
    current: Option<PairId>,
    /// There are more, and what reads them cannot be had.
    unread: bool,
    /// Something could not be read and lies aside.
    aside: bool,
    /// Rounds since the last backup, when that is worth saying.
    unsaved: Option<u32>,
    /// What the pair is called that was taken out last and can be put back.
    out: Option<Typed>,
    /// Whether the tiny sock is offered, or lies in the basket.
    practice: Practice,
    nearly_full: bool,
    lasts: bool,
}

/// With the pairs as they were found.
fn look(pairs: Vec<PairHead>, unread: bool) -> Result<Contents, StoreError> {
    Ok(Contents {
        unread,
        current: store::here().current(),
        aside: store::here().any_quarantined()?,
        unsaved: unsaved(&pairs)?,
        out: store::here().taken_out()?.map(Typed::new),
        practice: practice(&pairs),
        nearly_full: store::nearly_full()?,
        lasts: store::lasts(),
        pairs,
    })
}

/// Whether there is a tiny sock; it is not offered any more once a sock is finished.
fn practice(pairs: &[PairHead]) -> Practice {
    let first_is_done = |head: &PairHead| head.progress.finished || head.progress.sock > 1;
    match store::here().practice() {
        Practice::Unasked if pairs.iter().any(first_is_done) => Practice::Over,
        practice => practice,
    }
}

/// Rounds since the last backup, when there are many and no reminder was put off just now.
fn unsaved(pairs: &[PairHead]) -> Result<Option<u32>, StoreError> {
    let (since, put_off) = store::here().since_backup(pairs)?;
    Ok((since.min(put_off) >= WORTH_A_BACKUP).then_some(since))
}

/// The screen.
#[component]
pub fn BasketScreen() -> impl IntoView {
    let follow = use_context::<OtherWindows>();
    let found = RwSignal::new(BasketState::Looking);
    // A change made on this screen.
    let changed = Trigger::new();
    // Once they were all there they stay: what is read stays where it is when a pair changes.
    let lots = RwSignal::new(1);
    let brought = RwSignal::new(None::<FileReport>);
    let install = RwSignal::new(Install::Unknown);
    Effect::new(move || {
        changed.track();
        if let Some(follow) = follow {
            follow.follow();
        }
        let set = move |looked: Result<Contents, StoreError>| {
            if let Ok(contents) = &looked {
                tell_install(contents.pairs.is_empty(), install);
            }
            found.set(looked.map_or_else(BasketState::Trouble, BasketState::Pairs));
        };
        match store::here().heads() {
            Ok((pairs, false)) => set(look(pairs, false)),
            // Rarely, heads are lost; they are made again from plan and logs.
            Ok((known, true)) => spawn_local(async move {
                set(match lazy_store::all_pairs().await {
                    Ok(pairs) => look(pairs, false),
                    Err(StoreError::NotLoaded) => look(known, true),
                    Err(error) => Err(error),
                });
            }),
            Err(error) => set(Err(error)),
        }
    });
    view! {
        <div class="screen basket">
            <PageHead title=Screen::Basket.name() />
            {bring_in::shown(brought)}
            {use_context::<Recovery>().map(Recovery::notice)}
            {move || match found.get() {
                BasketState::Looking => {
                    view! {
                        <div class="unless-pairs">
                            <Empty brought changed socks=false />
                        </div>
                        <p class="soft looking">{text::basket::LOOKING}</p>
                    }
                        .into_any()
                }
                BasketState::Trouble(error) => {
                    view! {
                        <Notice tone=Tone::Wrong>
                            <p>{why::shut(&error)}</p>
                        </Notice>
                    }
                        .into_any()
                }
                BasketState::Pairs(contents) => shown(contents, Signals { lots, changed, brought, install }).into_any(),
            }}
        </div>
    }
}

/// What the screen holds beside what it has found.
#[derive(Clone, Copy)]
struct Signals {
    lots: RwSignal<usize>,
    changed: Trigger,
    brought: RwSignal<Option<FileReport>>,
    install: RwSignal<Install>,
}

fn shown(contents: Contents, signals: Signals) -> impl IntoView {
    let Signals {
        lots,
        changed,
        brought,
        install,
    } = signals;
    let Contents {
        pairs,
        current,
        unread,
        aside,
        unsaved,
        out,
        practice,
        nearly_full,
        lasts,
    } = contents;
    let empty = pairs.is_empty() && !unread;
    let (finished, going): (Vec<_>, Vec<_>) =
        pairs.into_iter().partition(|head| head.progress.finished);
    // What leads the hand is the pair at hand, where there is one to knit on.
    let goes_on = going
        .iter()
        .any(|head| Some(&head.id) == current.as_ref() && head.readable);
    let another = if goes_on { "button" } else { "button lead" };
    let cards = move |heads: Vec<PairHead>| {
        view! { <ul class="cards">{in_lots(heads, current.clone(), lots, changed)}</ul> }
    };
    let going = (!going.is_empty()).then(|| cards.clone()(going));
    let finished = (!finished.is_empty()).then(|| {
        view! {
            <section class="finished">
                <h2>{text::basket::FINISHED}</h2>
                {cards(finished)}
            </section>
        }
    });
    let mind = |text: &'static str, to_keep: bool| {
        view! {
            <Notice tone=Tone::Mind>
                <p>{text}</p>
                {to_keep
                    .then(|| {
                        view! {
                            <p>
                                {link("", to(Screen::Settings.path()), text::basket::TO_SETTINGS)}
                            </p>
                        }
                    })}
            </Notice>
        }
    };
    view! {
        {out.map(|name| taken_out(&name, changed))}
        {(!empty).then(|| try_out(&practice, changed))}
        {(!lasts).then(|| mind(text::basket::WILL_NOT_LAST, false))}
        {unread.then(|| again(changed))}
        {aside.then(|| mind(text::basket::SET_ASIDE, true))}
        {nearly_full.then(|| mind(text::basket::NEARLY_FULL, true))}
        {if empty {
            // Below: what stood there before the page woke stays where it is.
            view! {
                <Empty brought changed socks=true />
                {try_out(&practice, changed)}
            }
                .into_any()
        } else {
            view! {
                {going}
                <p>
                    {link(another, to(Screen::Measure.path()), text::basket::ANOTHER)}
                </p>
                <p>
                    {link("button", to(Screen::Pattern.path()), text::basket::PATTERN)}
                </p>
                {finished}
                {unsaved.map(|steps| remind(steps, changed))}
                <Show when=move || install.get() == Install::Said>{install_notice(install)}</Show>
            }
                .into_any()
        }}
        <Starters />
    }
}

/// The cards of many pairs, a screen full of them with each frame: the first are seen as soon as if there
/// were no more, and none keeps a touch waiting.
fn in_lots(
    heads: Vec<PairHead>,
    current: Option<PairId>,
    lots: RwSignal<usize>,
    changed: Trigger,
) -> Vec<AnyView> {
    let all = heads.len().div_ceil(IN_SIGHT);
    Effect::new(move || {
        let seen = lots.get();
        if seen < all {
            // The screen may have been left meanwhile; of two lists the other may have asked, too.
            after_paint(move || {
                if lots.try_get_untracked() == Some(seen) {
                    lots.set(seen + 1);
                }
            });
        }
    });
    let card = move |nth: Option<usize>, head: &PairHead| {
        let at_hand = current.as_ref() == Some(&head.id);
        view! { <PairCard head=head.clone() at_hand nth changed /> }
    };
    heads
        .chunks(IN_SIGHT)
        .enumerate()
        .map(|(lot, heads)| {
            let (heads, card) = (heads.to_vec(), card.clone());
            let due = Memo::new(move |_| lot < lots.get());
            let made = move || {
                // Of many pairs the first ones have a picture: those that are in sight.
                let nth = |at| (lot == 0).then_some(at);
                let cards = heads.iter().enumerate();
                due.get()
                    .then(|| cards.map(|(at, head)| card(nth(at), head)).collect_view())
            };
            made.into_any()
        })
        .collect()
}

/// Recipes to begin with, read only when they are unfolded.
#[component]
fn Starters() -> impl IntoView {
    let preferences = use_preferences();
    let list = move || {
        let starters = STARTERS.iter().enumerate().map(|(nth, starter)| {
            let href = to(&routes::measure_ready(&starter.link()));
            let picture = pictures::in_turn(nth, move || {
                let (link, hues) = (starter.link(), preferences.get_untracked().hues);
                async move { lazy_pictures::of_link(link, hues).await }
            });
            view! {
                <li>
                    <FabricFigure class="of-starter" picture />
                    <h3>{starter.name}</h3>
                    <p>{said(starter.about)}</p>
                    {link("button", href, view! { {text::basket::TO_FORM}
                        <span class="unseen">{text::basket::of_starter(starter.name)}</span> })}
                </li>
            }
        });
        view! {
            <p>{text::basket::STARTERS_TEXT}</p>
            <ul class="starters">{starters.collect_view()}</ul>
        }
        .into_any()
    };
    view! { <Folded class="more" summary=text::basket::STARTERS.into_any() inside=Box::new(list) /> }
}

/// An empty basket; in one piece, because a browser reads it cheaper than the app makes it.
const BASKET: &str = r#"<path class="wool" d="M70 40a26 26 0 1 1 52 0M84 22c14-6 26 4 30 18M78 30c14-6 30 0 34 12"/><path class="sticks" d="M60 8l44 52M140 8 98 58"/><path class="wicker" d="M30 50h140l-14 52a10 10 0 0 1-10 8H54a10 10 0 0 1-10-8z"/><path class="weave" d="M36 70h128M41 90h118M70 50l6 60M100 50v60M130 50l-6 60"/><path class="yarn" d="M170 62c18 2 20 22 6 26s-14 20 6 22"/>"#;

/// Of which ready recipes an empty basket shows the socks.
const IN_EMPTY: [usize; 3] = [1, 2, 3];

/// What stands in an empty basket: some real socks, as soon as they are drawn, and the basket till then.
fn picture_of_empty(socks: bool) -> AnyView {
    let preferences = use_preferences();
    let pictures = socks.then(|| {
        IN_EMPTY.map(|nth| {
            pictures::in_turn(nth, move || {
                // Each in another of the knitter's colours.
                let mut hues = preferences.get_untracked().hues;
                hues.rotate_left(nth % 4);
                let link = STARTERS.get(nth).map(Starter::link).unwrap_or_default();
                async move { lazy_pictures::of_link(link, hues).await }
            })
        })
    });
    let drawn = Memo::new(move |_| {
        let all = |pictures: &[Signal<Option<FabricPicture>>; 3]| {
            pictures.iter().all(|picture| picture.read().is_some())
        };
        pictures.as_ref().is_some_and(all)
    });
    let shown = move || match pictures.filter(|_| drawn.get()) {
        Some(pictures) => pictures
            .into_iter()
            .map(|picture| view! { <FabricFigure class="of-empty" picture /> })
            .collect_view()
            .into_any(),
        None => view! {
            <svg
                class="empty-drawing"
                viewBox="0 0 200 120"
                aria-hidden="true"
                focusable="false"
                inner_html=BASKET
            ></svg>
        }
        .into_any(),
    };
    view! { <div class="empty-picture">{shown}</div> }.into_any()
}

/// Invites to measure, or to bring in what was knitted elsewhere: in an installed app, which begins empty. With
/// `socks` some of the ready recipes are shown.
#[component]
fn Empty(brought: RwSignal<Option<FileReport>>, changed: Trigger, socks: bool) -> impl IntoView {
    let after = Callback::new(move |()| changed.notify());
    let installed = RwSignal::new(false);
    Effect::new(move || installed.set(store::is_installed()));
    view! {
        <section class="empty">
            {picture_of_empty(socks)}
            <h2>{text::basket::EMPTY}</h2>
            <p>{text::basket::EMPTY_TEXT}</p>
            {link("button lead", to(Screen::Measure.path()), text::basket::EMPTY_BUTTON)}
            {link("button", to(Screen::Pattern.path()), text::basket::PATTERN)}
            <p>{text::permanence::BRING_IN_TEXT}</p>
            {move || installed.get().then(|| view! { <PasteIn said=brought after /> })}
            <BringIn label=text::permanence::BRING_IN said=brought after />
        </section>
    }
    .into_any()
}
