//! The pair in hand: opened once and shared by every screen that shows or changes it. What a touch
//! does to its logs, whose turn it is, what was noted on the way, and how the place is changed.
//!
//! May use the store, the engine and the parts; must not know any screen. Nothing in here computes a
//! count: places and needles come from the traces.

mod jump;
mod pair_in_hand;
mod remarks;
mod rounds;
mod session;
mod totals;
mod two_at_a_time;
#[cfg(test)]
pub(crate) mod typed;
mod without_pair;

pub(crate) use jump::confirm_jump;
pub(crate) use pair_in_hand::{PairInHand, use_pair_in_hand, whose_sock};
pub(crate) use remarks::remarks_at;
pub(crate) use rounds::Rounds;
pub(crate) use session::{JumpScope, Session, SockInHand};
pub(crate) use totals::{Totals, about};
pub(crate) use two_at_a_time::{NotTogether, SeatedAnew};
pub(crate) use without_pair::WithoutPair;
