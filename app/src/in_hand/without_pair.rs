//! What a screen of the pair in hand shows while it has none to show.

use leptos::prelude::*;

use super::pair_in_hand::PairInHand;
use crate::base::to;
use crate::parts::plain::link;
use crate::parts::{Notice, PageHead, Tone};
use crate::routes::Screen;
use crate::text::now as copy;

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
    let body = match pair {
        PairInHand::NotYetLooked | PairInHand::Open(_) => view! {
            <div class="unless-pairs">{ways_to_a_pair()}</div>
            <p class="soft looking">{copy::WAKING}</p>
        }
        .into_any(),
        PairInHand::None => ways_to_a_pair(),
        PairInHand::DoesNotOpen(error) => view! {
            <Notice tone=Tone::Wrong>
                <p>
                    <strong>{copy::SHUT}</strong>
                </p>
                <p>{copy::why_shut(&error)}</p>
                <div class="buttons">
                    {link("button", to(Screen::Basket.path()), copy::TO_BASKET)}
                    {link("button", to(Screen::Keep.path()), copy::TO_KEEP)}
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
            <h2>{copy::NO_PAIR}</h2>
            <p>{copy::NO_PAIR_TEXT}</p>
            <div class="buttons">
                {link("button lead", to(Screen::Basket.path()), copy::TO_BASKET)}
                {link("button", to(Screen::Measure.path()), copy::TO_MEASURE)}
            </div>
        </div>
    }
    .into_any()
}
