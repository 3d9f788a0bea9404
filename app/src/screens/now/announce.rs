//! Says where the work is: always to the screen reader, and aloud where the knitter has asked for it.

use evenloop_engine::text as engine_text;
use evenloop_engine::text::Instructions;
use leptos::prelude::*;

use super::{aloud, turn};
use crate::hands;
use crate::in_hand::{Session, remarks_at};
use crate::store::Settings;
use crate::text;

/// What is announced.
#[derive(Clone, Copy)]
pub(super) enum Announced {
    /// What comes next; where that is the same round once more, only that it is.
    Next,
    /// This first, and then everything.
    After(&'static str),
    /// Everything, aloud: it was asked for.
    Asked,
}

/// Says where the work is now, in whole words however they are written: always to the screen reader, and aloud
/// where the knitter has asked for it.
pub(super) fn announce(
    session: Session,
    said: RwSignal<String>,
    what: Announced,
    settings: Settings,
) {
    // The screen may have been left meanwhile.
    if said.is_disposed() {
        return;
    }
    let style = engine_text::Wording {
        form: engine_text::WordForm::Spoken,
        ..settings.style
    };
    let remarks = untrack(|| remarks_at(session, session.at(), style));
    let place = untrack(|| {
        let Some(now) = at_hand(session, style) else {
            return text::now::finished(session.sock()).to_owned();
        };
        let turn = session.turn();
        let worked = session.needles_worked();
        if matches!(what, Announced::Next) && remarks.is_empty() && worked > 0 {
            return aloud::needle_at_hand(&now, turn::beside(session, style).as_ref(), worked);
        }
        if matches!(what, Announced::Next) && remarks.is_empty() && turn::is_the_same_again(session)
        {
            return aloud::same_again(&now, turn);
        }
        aloud::move_at_hand(&now, turn, turn::beside(session, style).as_ref())
    });
    let before = match what {
        Announced::Next | Announced::Asked => None,
        Announced::After(words) => Some(words.to_owned()),
    };
    let told = before
        .into_iter()
        .chain([place])
        .chain(remarks)
        .collect::<Vec<_>>()
        .join(" ");
    if settings.speech || matches!(what, Announced::Asked) {
        hands::say(&told);
    }
    said.set(told);
}

/// What is to be done now; nothing when the sock is finished. Follows the place.
pub(super) fn at_hand(session: Session, style: engine_text::Wording) -> Option<Instructions> {
    let (at, style) = (session.at(), turn::wording(session, style));
    session.with(|pair| engine_text::instructions(pair.plan, pair.trace, at, style))
}
