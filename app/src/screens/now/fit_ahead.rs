//! The room of the words that come next is looked for while the hands knit: no touch waits for it. They are drawn by the
//! parts of the screen, into a screen of the same size that nobody sees and that goes at once.

use std::time::Duration;

use leptos::prelude::*;
use web_sys::Element;

use super::announce::at_hand;
use super::fit::{Fits, alike};
use super::head::long_told;
use super::next::next;
use super::notes::Above;
use super::turn;
use crate::in_hand::Session;
use crate::preferences::use_preferences;
use crate::store::Settings;

/// Nothing was touched for so long: the answer to the touch before is painted, with its picture.
const AT_REST: Duration = Duration::from_millis(300);

/// Draws the words of a screen, and what stands around them.
pub(super) type Draw = fn(Session) -> Vec<AnyView>;

/// Looks for the room of what comes next at each place, for as long as the caller lives.
pub(super) fn fit_ahead(session: Session, fits: Fits, above: Memo<Above>, draw: Draw) {
    let preferences = use_preferences();
    // Not held itself: what is held is never put away.
    let Some(screen) = Owner::current().map(|owner| owner.downgrade()) else {
        return;
    };
    let touched = StoredValue::new(0_u32);
    Effect::new(move || {
        session.at();
        touched.update_value(|count| *count = count.wrapping_add(1));
        let now = touched.get_value();
        let screen = screen.clone();
        let look = move || {
            // The screen may have been left, or more have been touched meanwhile.
            if touched.try_get_value() != Some(now) {
                return;
            }
            // What stands above is not drawn there.
            if above.try_get_untracked() != Some(Above::default()) {
                return;
            }
            let Some(parts) = screen.upgrade().map(|screen| screen.child()) else {
                return;
            };
            parts.with(|| look(session, fits, draw, &preferences.get_untracked()));
            parts.cleanup();
        };
        set_timeout(look, AT_REST);
    });
}

/// What stands around the words and may take another line, all figures alike.
fn around(session: Session, settings: &Settings) -> [String; 3] {
    let style = turn::wording(session, settings.style);
    let heading = at_hand(session, settings.style).map(|now| now.heading);
    let long = long_told(session, settings.unit);
    let next = next(session, style).whole().to_owned();
    [heading.unwrap_or_default(), long.unwrap_or_default(), next].map(|text| alike(&text))
}

fn look(session: Session, fits: Fits, draw: Draw, settings: &Settings) -> Option<()> {
    let next = session.seen_from(1, settings.touch_counts())?;
    // Where nothing is on the needles, another picture stands there.
    if next.per_needle_untracked().iter().all(|on| *on == 0) {
        return None;
    }
    // What is done once more has its room already, unless what stands around it is another or longer.
    let known = untrack(|| {
        turn::is_the_same_again(next) && around(session, settings) == around(next, settings)
    });
    if known {
        return None;
    }
    let shown = document()
        .query_selector(".now:not(.first)")
        .ok()
        .flatten()?;
    let unseen: Element = document().create_element("section").ok()?;
    unseen.set_class_name(&format!("{} ahead", shown.class_name()));
    let mut view = draw(next).build();
    view.mount(&unseen, None);
    if shown.parent_element()?.append_child(&unseen).is_ok() {
        fits.look_ahead(&unseen);
    }
    view.unmount();
    unseen.remove();
    Some(())
}
