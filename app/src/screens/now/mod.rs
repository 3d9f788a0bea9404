//! Now: the round at hand. One hand, one touch a round; where the needles are, what to do on each,
//! what comes next; the hard places move by move.
//!
//! May use the pair in hand, the picture, the hands and the parts; must not count anything itself, and
//! knows no other screen. The first render shows how a pair is taken in hand, or, where the boot script
//! saw pairs, only that one is picked up.

mod ahead;
mod aloud;
mod announce;
mod came_to;
mod explain;
mod finished;
mod fit;
mod fit_ahead;
mod head;
mod hung;
mod in_pattern;
mod instruction;
mod knitting;
mod listening;
mod next;
mod notes;
mod pad;
mod pause;
mod practice;
mod strip;
mod touches;
mod trouble;
mod turn;
#[cfg(test)]
mod typed;

use leptos::prelude::*;

use self::knitting::Knitting;
use crate::in_hand::{PairInHand, WithoutPair, use_pair_in_hand};
use crate::routes::Screen;

/// The screen.
#[component]
pub fn NowScreen() -> impl IntoView {
    let pair = use_pair_in_hand();
    move || match pair.get() {
        PairInHand::Open(session) => view! { <Knitting session /> }.into_any(),
        other => view! { <WithoutPair pair=other title=Screen::Now.name() /> }.into_any(),
    }
}
