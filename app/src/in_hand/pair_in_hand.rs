//! The pair in hand as a screen finds it, followed while the screen is shown.

use leptos::prelude::*;
use leptos::reactive::owner::WeakOwner;

use super::session::Session;
use crate::first_paint;
use crate::store::{OtherWindows, StoreError};
use crate::text;

/// What was found when the screen was shown.
#[derive(Clone)]
pub(crate) enum PairInHand {
    /// Not looked for yet: the page is not alive.
    NotYetLooked,
    /// No pair is in hand.
    None,
    /// It does not open.
    DoesNotOpen(StoreError),
    /// This pair.
    Open(Session),
}

impl PairInHand {
    /// Opens the pair in hand. To be called from an effect.
    fn open() -> Self {
        match Session::open() {
            Ok(Some(session)) => {
                // Where it still stands there, more may come: it is asked to go first.
                if !first_paint::is_shown() {
                    session.take_touches();
                }
                Self::Open(session)
            }
            Ok(None) => Self::None,
            Err(error) => Self::DoesNotOpen(error),
        }
    }
}

/// Follows the pair in hand: looked for once the page is alive, read again when another window has
/// stored something.
pub(crate) fn use_pair_in_hand() -> RwSignal<PairInHand> {
    let pair = RwSignal::new(PairInHand::NotYetLooked);
    let follow = use_context::<OtherWindows>();
    // What is opened lives as long as the screen, not only until the effect runs again. The screen is not held: it
    // owns the effect, and two that hold each other are never put away.
    let screen = Owner::current().map(|owner| owner.downgrade());
    Effect::new(move || {
        if let Some(follow) = follow {
            follow.follow();
        }
        if let PairInHand::Open(session) = pair.get_untracked() {
            session.read_again();
        } else if let Some(screen) = screen.as_ref().and_then(WeakOwner::upgrade) {
            pair.set(screen.with(PairInHand::open));
        }
    });
    pair
}

/// Which sock is looked at, or that both are, in words.
pub(crate) fn whose_sock(session: Session) -> &'static str {
    match session.turn() {
        Some(turn) => text::now::whose(turn),
        None if session.is_together() => text::now::BOTH,
        None => text::now::sock(session.sock()),
    }
}
