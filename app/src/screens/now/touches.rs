//! What a touch, key or pedal does: it is counted or taken back, felt, stored and told.

use leptos::prelude::*;

use super::announce::{Announced, announce};
use crate::after_paint::after_paint;
use crate::hands::{self, Act, Contact, Guard, Touch};
use crate::in_hand::Session;
use crate::preferences::use_preferences;
use crate::text;

/// How long a counted touch buzzes, in milliseconds.
const BUZZ: u32 = 25;

/// What the parts of the screen do to it.
#[derive(Clone, Copy)]
pub(super) struct Touches {
    /// Something was done.
    pub(super) act: Callback<(Act, Contact)>,
    /// Several rounds are done at once.
    pub(super) several: Callback<usize>,
    /// Raised with every touch that was held to be the one before.
    pub(super) bounced: RwSignal<u32>,
}

impl Touches {
    /// For a screen that is only drawn.
    pub(super) fn none() -> Self {
        Self {
            act: Callback::new(|_| {}),
            several: Callback::new(|_| {}),
            bounced: RwSignal::new(0),
        }
    }
}

/// One way for every touch, key and pedal; each kind is guarded against bouncing by itself.
pub(super) fn touches(session: Session, said: RwSignal<String>) -> Touches {
    let preferences = use_preferences();
    let guards = StoredValue::new([Guard::default(); 2]);
    let bounced = RwSignal::new(0_u32);
    let felt = move |what: Announced| {
        let settings = preferences.get_untracked();
        if settings.buzz {
            hands::buzz(BUZZ);
        }
        after_paint(move || announce(session, said, what, settings));
    };
    let act = Callback::new(move |(act, contact): (Act, Contact)| {
        let which = usize::from(act == Act::Undo);
        let touch = guards.try_update_value(|guards| guards[which].touch(contact));
        if touch != Some(Touch::Counts) {
            bounced.update(|n| *n = n.wrapping_add(1));
            return;
        }
        let (changed, what) = match act {
            Act::Done => {
                let counts = preferences.get_untracked().touch_counts();
                (session.done(counts), Announced::Next)
            }
            Act::Undo => (session.undo(), Announced::After(text::now::TAKEN_BACK)),
        };
        if changed {
            felt(what);
        }
    });
    let several = Callback::new(move |rounds: usize| {
        if session.done_several(rounds) {
            felt(Announced::After(text::now::GONE_TO));
        }
    });
    Touches {
        act,
        several,
        bounced,
    }
}
