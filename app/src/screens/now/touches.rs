//! What a touch, key or pedal does: it is counted or taken back, felt, stored and told.

use leptos::prelude::*;

use super::announce::{Announced, announce};
use crate::after_paint::after_paint;
use crate::hands::{self, Act, Guard, Touch};
use crate::in_hand::Session;
use crate::preferences::use_preferences;
use crate::text;

/// How long a counted touch buzzes, in milliseconds.
const BUZZ: u32 = 25;

/// What the parts of the screen do to it.
#[derive(Clone, Copy)]
pub(super) struct Touches {
    /// Something was done at a time of the browser's clock.
    pub(super) act: Callback<(Act, f64)>,
    /// Raised with every touch that was held to be the same as the one before.
    pub(super) again: RwSignal<u32>,
}

/// One way for every touch, key and pedal; each kind is guarded against trembling by itself.
pub(super) fn touches(session: Session, said: RwSignal<String>) -> Touches {
    let preferences = use_preferences();
    let guards = StoredValue::new([Guard::default(); 2]);
    let again = RwSignal::new(0_u32);
    let act = Callback::new(move |(act, at): (Act, f64)| {
        let which = usize::from(act == Act::Undo);
        let touch = guards.try_update_value(|guards| guards[which].touch(at));
        if touch != Some(Touch::Counts) {
            again.update(|n| *n = n.wrapping_add(1));
            return;
        }
        let changed = match act {
            Act::Done => session.done(),
            Act::Undo => session.undo(),
        };
        if !changed {
            return;
        }
        let settings = preferences.get_untracked();
        if settings.buzz {
            hands::buzz(BUZZ);
        }
        let what = match act {
            Act::Done => Announced::Next,
            Act::Undo => Announced::After(text::now::TAKEN_BACK),
        };
        after_paint(move || announce(session, said, what, settings));
    });
    Touches { act, again }
}
