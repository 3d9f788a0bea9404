//! What a screen of the pair in hand shows while it has none to show.

use leptos::prelude::*;

use super::pair_in_hand::PairInHand;
use crate::base::to;
use crate::first_paint::let_go;
use crate::parts::plain::link;
use crate::parts::{Notice, PageHead, Tone};
use crate::routes::Screen;
use crate::store::StoreError;
use crate::text;

#[component]
pub(crate) fn WithoutPair(
    /// Why there is none.
    pair: PairInHand,
    /// The screen's name.
    title: &'static str,
) -> impl IntoView {
    let class = match pair {
        PairInHand::NotYetLooked => "screen waking",
        _ => "screen",
    };
    if !matches!(pair, PairInHand::NotYetLooked) {
        // What was shown of a pair before the app was awake is not there.
        Effect::new(let_go);
    }
    let body = match pair {
        PairInHand::NotYetLooked | PairInHand::Open(_) => view! {
            <div class="unless-pairs">{ways_to_a_pair()}</div>
            <p class="soft looking">{text::now::WAKING}</p>
        }
        .into_any(),
        PairInHand::None => ways_to_a_pair(),
        PairInHand::DoesNotOpen(error) => view! {
            <Notice tone=Tone::Wrong>
                <p>
                    <strong>{text::now::SHUT}</strong>
                </p>
                <p>{why_shut(&error)}</p>
                <div class="buttons">
                    {link("button", to(Screen::Basket.path()), text::now::TO_BASKET)}
                    {link("button", to(Screen::Settings.path()), text::now::TO_SETTINGS)}
                </div>
            </Notice>
        }
        .into_any(),
    };
    view! {
        <div class=class>
            <PageHead title />
            {body}
        </div>
    }
    .into_any()
}

/// The ways to a pair. May stand there for a moment when there is one after all, so it denies nothing.
fn ways_to_a_pair() -> AnyView {
    view! {
        <div class="sheet">
            <h2>{text::now::NO_PAIR}</h2>
            <p>{text::now::NO_PAIR_TEXT}</p>
            <div class="buttons">
                {link("button lead", to(Screen::Basket.path()), text::now::TO_BASKET)}
                {link("button", to(Screen::Measure.path()), text::now::TO_MEASURE)}
            </div>
        </div>
    }
    .into_any()
}

/// Why a pair does not open.
const fn why_shut(error: &StoreError) -> &'static str {
    match error {
        StoreError::Denied => text::now::SHUT_DENIED,
        StoreError::NotThere => text::now::SHUT_TAKEN_OUT,
        StoreError::Damaged { .. } => text::now::SHUT_DAMAGED,
        StoreError::Newer { .. } => text::now::SHUT_NEWER,
        StoreError::Full
        | StoreError::Behind
        | StoreError::Elsewhere
        | StoreError::OtherPlan(_)
        | StoreError::NotLoaded => text::now::SHUT_JUST_NOW,
    }
}
