//! What the first paint shows next time, before the app is awake (`public/first.js`): the screen as it stands now,
//! as it will be after each of the next touches, and as it was before the last ones. Every step is drawn by the very
//! parts of the screen, from a pair that was touched in memory only, so it cannot say anything else than they.
//!
//! Made while the hands knit: a step at a time, once nothing was touched for a while, so that no touch waits for it.
//! What makes it comes with what is opened at rest, when the screen is awake. Until then nothing is kept, and what was
//! kept before is shown only where it is still true.
//!
//! The fabric that hangs from the needles is left out: it is ten times the rest, and comes as late by itself.

// The attribute that marks where to split writes foreign functions, which the tool puts in; what it
// marks has to have a result.
#![allow(unsafe_code, clippy::unnecessary_wraps)]

use std::time::Duration;

use evenloop_engine::touch::TouchCounts;
use leptos::ev;
use leptos::leptos_dom::helpers::TimeoutHandle;
use leptos::prelude::*;
use leptos::reactive::owner::WeakOwner;
use leptos::task::spawn_local;
use leptos::wasm_split::{SplitLoaderError, wasm_split};
use serde::Serialize;

use super::fit::{ALONE, LAST, PICTURE};
use super::pad;
use crate::in_hand::Session;
use crate::offline;
use crate::preferences::use_preferences;
use crate::store::{self, Handedness, Settings, StoredText};
use crate::text;

/// By then the page has done what it was opened for.
const AWAKE: Duration = Duration::from_secs(1);
/// Nothing was touched for so long: the next round is being knitted.
const AT_REST: Duration = Duration::from_millis(1_500);
/// Between two steps, so that a touch that comes is answered first.
const BETWEEN: Duration = Duration::from_millis(10);
/// Touches after which the screen is shown whole; more touches are not expected before the app is awake.
const STEPS: i32 = 12;
/// The same back.
const BACK: i32 = 3;
/// Touches after which at least the number is shown.
const NUMBERS: usize = 60;
/// The most markup that is kept, in bytes. Steps further on than that are known by their number only.
const MOST: usize = 96 * 1024;

/// Draws the screen for a pair in hand, without anything that could be done with it.
pub(super) type Draw = fn(Session) -> Vec<AnyView>;

/// What is stored for the script; the names are the script's.
#[derive(Debug, Clone, Default, Serialize)]
struct ShownAhead {
    form: u8,
    build: String,
    conditions: Vec<StoredText>,
    base: String,
    look: &'static str,
    fit: u8,
    alone: u8,
    picture: i32,
    buzz: bool,
    by_needle: bool,
    waking: &'static str,
    pieces: Vec<String>,
    steps: Vec<Vec<usize>>,
    back: Vec<Vec<usize>>,
    numbers: Vec<String>,
}

impl ShownAhead {
    /// Nothing of it drawn yet; `None` where what is at hand is not what is stored.
    fn begin(session: Session, settings: &Settings) -> Option<Self> {
        let (base, conditions) = session.shown_as()?;
        Some(Self {
            form: 1,
            build: offline::own_build()?,
            conditions,
            base,
            look: match settings.hand {
                Handedness::Left => "now left-hand",
                Handedness::Right => "now",
            },
            fit: LAST,
            alone: ALONE,
            picture: PICTURE,
            buzz: settings.buzz,
            by_needle: settings.by_needle,
            waking: text::now::WAKING,
            ..Self::default()
        })
    }

    /// The numbers of pieces, each of which is kept once. `None` where that would be too much.
    fn keep(&mut self, pieces: Vec<String>) -> Option<Vec<usize>> {
        let known = &self.pieces;
        let new = pieces.iter().filter(|piece| !known.contains(piece));
        let bytes: usize = known.iter().chain(new).map(String::len).sum();
        if bytes > MOST {
            return None;
        }
        let mut numbers = Vec::with_capacity(pieces.len());
        for piece in pieces {
            let there = self.pieces.iter().position(|known| *known == piece);
            numbers.push(there.unwrap_or_else(|| {
                self.pieces.push(piece);
                self.pieces.len() - 1
            }));
        }
        Some(numbers)
    }
}

/// What is being made, a step at a time.
#[derive(Clone)]
struct Making {
    shown: ShownAhead,
    session: Session,
    counts: TouchCounts,
    draw: Draw,
    /// Where what is drawn lives until the next step.
    owner: Owner,
    next: i32,
}

impl Making {
    /// Makes the next step; `false` where that was the last one.
    fn go_on(&mut self) -> bool {
        let step = self.next;
        self.next += 1;
        if step <= STEPS {
            match self.drawn(step) {
                Some(pieces) => self.shown.steps.push(pieces),
                None => self.next = STEPS + 1,
            }
        } else if step <= STEPS + BACK {
            match self.drawn(STEPS - step) {
                Some(pieces) => self.shown.back.push(pieces),
                None => self.next = STEPS + BACK + 1,
            }
        } else {
            self.shown.numbers = self.numbers();
            return false;
        }
        true
    }

    /// The least that is of use, at once: the screen as it is, and the numbers.
    fn finish(&mut self) {
        if self.next == 0 {
            self.go_on();
        }
        self.shown.numbers = self.numbers();
        self.store();
    }

    fn store(&self) {
        // Without the screen as it is there is nothing to show. The rest is plain fields that JSON cannot refuse.
        let text = (!self.shown.steps.is_empty()).then(|| serde_json::to_string(&self.shown));
        store::note_shown(text.and_then(Result::ok).as_deref());
    }

    /// The screen after so many touches, piece by piece. `None` where there is nothing left to knit.
    fn drawn(&mut self, steps: i32) -> Option<Vec<usize>> {
        let pieces = self.owner.with(|| {
            let seen = self.session.seen_from(steps, self.counts)?;
            pad::number_shown(seen)?;
            let place = document().create_element("section").ok()?;
            let mut view = (self.draw)(seen).build();
            view.mount(&place, None);
            let children = place.children();
            let pieces: Vec<String> = (0..children.length())
                .filter_map(|index| children.item(index))
                .flat_map(|piece| cut(&piece.outer_html()))
                .collect();
            view.unmount();
            Some(pieces)
        });
        self.owner.cleanup();
        self.shown.keep(pieces?)
    }

    /// What the pad shows after each touch, the first before any; empty where the sock is finished.
    fn numbers(&self) -> Vec<String> {
        let numbers = self.owner.with(|| {
            let mut seen = self.session.seen_from(0, self.counts);
            let mut numbers = Vec::new();
            while let Some(here) = seen
                && numbers.len() <= NUMBERS
            {
                let number = pad::number_shown(here);
                numbers.push(number.map_or_else(String::new, |number| number.to_string()));
                seen = here.seen_from(1, self.counts);
            }
            numbers
        });
        self.owner.cleanup();
        numbers
    }
}

/// Cuts markup before each group of a drawing: most groups are the same from step to step, and each is kept once.
fn cut(markup: &str) -> Vec<String> {
    let (mut pieces, mut piece) = (Vec::new(), String::new());
    for part in markup.split_inclusive('<') {
        // Whatever follows a "<" says what it begins.
        let group = ["defs>", "g "].iter().any(|group| part.starts_with(group));
        if group && piece.len() > 1 {
            piece.pop();
            pieces.push(std::mem::replace(&mut piece, "<".to_owned()));
        }
        piece.push_str(part);
    }
    pieces.push(piece);
    pieces
}

/// Keeps what the first paint shows at what is shown here, for as long as the caller lives.
pub(super) fn keep_shown(session: Session, draw: Draw) {
    let Some(screen) = this_screen() else {
        return;
    };
    Effect::new(move || {
        let screen = screen.clone();
        set_timeout(
            move || {
                // Where it cannot be had, the next first paint shows what the server rendered.
                spawn_local(async move { drop(keep(session, draw, screen).await) });
            },
            AWAKE,
        );
    });
}

/// The same, once what makes it has come.
#[wasm_split(pause, wasm_split_path = ::leptos::wasm_split, fallible)]
fn keep(session: Session, draw: Draw, screen: WeakOwner) -> Result<(), SplitLoaderError> {
    // The screen may have been left meanwhile.
    if let Some(screen) = screen.upgrade() {
        screen.with(|| keep_now(session, draw));
    }
    Ok(())
}

/// What the screen's parts belong to. Not held itself: what is held is never put away, however far away the
/// knitter goes, and the screen stays lit and its voice talks on.
fn this_screen() -> Option<WeakOwner> {
    Owner::current().map(|owner| owner.downgrade())
}

fn keep_now(session: Session, draw: Draw) {
    let preferences = use_preferences();
    let Some(screen) = this_screen() else {
        return;
    };
    let keeper = Keeper {
        waits: StoredValue::new(None),
        making: StoredValue::new(None),
        kept: StoredValue::new(false),
    };
    let begin = move || {
        let settings = preferences.get_untracked();
        let owner = screen.upgrade()?.child();
        let shown = ShownAhead::begin(session, &settings)?;
        Some(Making {
            shown,
            session,
            counts: settings.touch_counts(),
            draw,
            owner,
            next: 0,
        })
    };
    let again = begin.clone();
    Effect::new(move || {
        session.at();
        session.trouble();
        preferences.get();
        keeper.stop();
        if preferences.loaded() {
            let begin = again.clone();
            keeper.after(AT_REST, move || {
                keeper.making.set_value(begin());
                keeper.go_on();
            });
        }
    });
    // A page that goes away may not come back: the least that is of use is kept then.
    let going = window_event_listener(ev::visibilitychange, move |_| {
        let late = preferences.loaded() && keeper.kept.try_get_value() == Some(false);
        if late && document().hidden() {
            let now = keeper.making.try_update_value(Option::take).flatten();
            keeper.stop();
            if let Some(mut now) = now.or_else(&begin) {
                now.finish();
                keeper.kept.set_value(true);
            }
        }
    });
    on_cleanup(move || {
        keeper.stop();
        going.remove();
    });
}

/// What of it is under way.
#[derive(Clone, Copy)]
struct Keeper {
    waits: StoredValue<Option<TimeoutHandle>>,
    making: StoredValue<Option<Making>>,
    /// Whether what is stored is of the place at hand.
    kept: StoredValue<bool>,
}

impl Keeper {
    /// Whatever is under way is of another place by now.
    fn stop(self) {
        if let Some(handle) = self.waits.try_update_value(Option::take).flatten() {
            handle.clear();
        }
        self.making.try_set_value(None);
        self.kept.try_set_value(false);
    }

    fn after(self, wait: Duration, then: impl FnOnce() + 'static) {
        self.waits
            .try_set_value(set_timeout_with_handle(then, wait).ok());
    }

    fn go_on(self) {
        let more = self
            .making
            .try_update_value(|making| making.as_mut().map(Making::go_on))
            .flatten();
        match more {
            Some(true) => self.after(BETWEEN, move || self.go_on()),
            Some(false) => {
                if let Some(made) = self.making.try_update_value(Option::take).flatten() {
                    made.store();
                    self.kept.set_value(true);
                }
            }
            // What is at hand is not what is stored.
            None => store::note_shown(None),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_put_together_are_the_markup() {
        let markup = "<figure><svg><defs><pattern></pattern></defs><path></path><g class=\"band\"><text>é</text></g>\
                      <g class=\"band\"></g><text>8</text></svg></figure>";
        let pieces = cut(markup);
        assert_eq!(pieces.concat(), markup);
        assert_eq!(pieces.len(), 4);
        assert!(pieces[1].starts_with("<defs") && pieces[2].starts_with("<g "));
        assert_eq!(cut("<p>plain</p>"), ["<p>plain</p>"]);
        assert_eq!(cut("<g class=\"a\"></g><g ></g>").len(), 2);
    }
}
