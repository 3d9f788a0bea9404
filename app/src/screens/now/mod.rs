//! Now: the round at hand. One hand, one touch a round; where the needles are, what to do on each,
//! what comes next; the hard places move by move.
//!
//! May use the store, the picture, the hands and the parts; must not count anything itself. What is
//! stored is read once the page is alive; the first render shows how a pair is taken in hand, or, where
//! the boot script saw pairs, only that one is picked up.

mod aloud;
mod around;
mod explain;
mod finished;
mod go;
mod head;
mod instruction;
mod knitting;
mod pad;
mod pause;
mod remarks;
pub(crate) mod rounds;
pub(crate) mod session;
mod strip;
mod trouble;
mod turn;

use leptos::prelude::*;

use self::knitting::Knitting;
use self::session::Session;
use crate::base::to;
use crate::parts::plain::link;
use crate::parts::{Notice, PageHead, Tone};
use crate::routes::Screen;
use crate::store::{Follow, StoreError};
use crate::text;

/// What was found when the screen woke.
#[derive(Clone)]
pub enum Hand {
    /// Not yet looked.
    Waking,
    /// No pair is in hand.
    Empty,
    /// It does not open.
    Shut(StoreError),
    /// This pair.
    Holds(Session),
}

impl Hand {
    /// Takes up the pair in hand. To be called from an effect.
    pub(crate) fn take_up() -> Self {
        match Session::open() {
            Ok(Some(session)) => Self::Holds(session),
            Ok(None) => Self::Empty,
            Err(error) => Self::Shut(error),
        }
    }
}

/// Which sock is looked at, or that both are.
pub(crate) fn whose(session: Session) -> &'static str {
    match session.turn() {
        Some(turn) => text::now::whose(turn),
        None if session.is_together() => text::now::BOTH,
        None => text::now::sock(session.sock()),
    }
}

/// Follows the pair in hand: looked for once the page is alive, read again when another window has
/// stored something.
pub(crate) fn hand() -> RwSignal<Hand> {
    let hand = RwSignal::new(Hand::Waking);
    let follow = use_context::<Follow>();
    // What is taken up lives as long as the screen, not only until the effect runs again.
    let screen = Owner::current().unwrap_or_default();
    Effect::new(move || {
        if let Some(follow) = follow {
            follow.follow();
        }
        match hand.get_untracked() {
            Hand::Holds(session) => session.read_again(),
            _ => hand.set(screen.with(Hand::take_up)),
        }
    });
    hand
}

/// The screen.
#[component]
pub fn NowScreen() -> impl IntoView {
    let hand = hand();
    move || match hand.get() {
        Hand::Holds(session) => view! { <Knitting session /> }.into_any(),
        other => view! { <Without hand=other title=Screen::Now.name() /> }.into_any(),
    }
}

/// What a screen shows while it has no pair to show.
#[component]
pub fn Without(
    /// Why there is none.
    hand: Hand,
    /// The screen's name.
    title: &'static str,
) -> impl IntoView {
    let class = match hand {
        Hand::Waking => "screen waking",
        _ => "screen",
    };
    let body = match hand {
        Hand::Waking | Hand::Holds(_) => view! {
            <div class="unless-pairs">{no_pair()}</div>
            <p class="soft looking">{text::now::WAKING}</p>
        }
        .into_any(),
        Hand::Empty => no_pair(),
        Hand::Shut(error) => view! {
            <Notice tone=Tone::Wrong>
                <p>
                    <strong>{text::now::SHUT}</strong>
                </p>
                <p>{trouble::why_shut(&error)}</p>
                <div class="buttons">
                    {link("button", to(Screen::Basket.path()), text::now::TO_BASKET)}
                    {link("button", to(Screen::Keep.path()), text::now::TO_KEEP)}
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
fn no_pair() -> AnyView {
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
