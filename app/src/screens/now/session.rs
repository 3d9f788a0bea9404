//! The pair in hand: its plan knitted through once, its logs, and what a touch does to them.
//!
//! A touch adds one event, stores the end of the log and moves the place: the same work however
//! long the sock is. What the basket shows is noted after the screen has been painted.

use std::time::Duration;

use evenloop_engine::journal::{Decigrams, Event, Journal, Seconds, tidy_note};
use evenloop_engine::needles::Needles;
use evenloop_engine::plan::Plan;
use evenloop_engine::stitch::Yarn;
use evenloop_engine::trace::{Position, Trace};
use leptos::prelude::*;

use crate::store::{self, OpenPair, PairHead, Pattern, StoreError};

/// The sock on the needles, to be looked at.
#[derive(Debug, Clone, Copy)]
pub(crate) struct InHand<'a> {
    /// Name and progress of the pair.
    pub(crate) head: &'a PairHead,
    /// What this sock is knitted by.
    pub(crate) plan: &'a Plan,
    /// The same, knitted through.
    pub(crate) trace: &'a Trace,
    /// Its log.
    pub(crate) journal: &'a Journal,
    /// The first sock, while the second one is on the needles.
    pub(crate) first: Option<(&'a Pattern, &'a Journal)>,
    /// What of the pair's logs had to be set aside when it was opened.
    pub(crate) trouble: Option<&'a StoreError>,
    /// Both socks.
    pub(crate) pair: &'a OpenPair,
}

impl<'a> InHand<'a> {
    fn of(pair: &'a OpenPair, sock: u8) -> Self {
        let [first_pattern, second_pattern] = &pair.patterns;
        let [first, second] = &pair.journals;
        let (pattern, journal, before) = if sock == 2 {
            (second_pattern, second, Some((&**first_pattern, first)))
        } else {
            (first_pattern, first, None)
        };
        Self {
            head: &pair.head,
            plan: &pattern.plan,
            trace: &pattern.trace,
            journal,
            first: before,
            trouble: pair.trouble.as_ref(),
            pair,
        }
    }
}

/// An opened pair and the place in it, shared by the parts of a screen.
#[derive(Debug, Clone, Copy)]
pub struct Session {
    pair: StoredValue<OpenPair>,
    sock: RwSignal<u8>,
    at: RwSignal<Position>,
    /// Why what was touched last is not stored.
    trouble: RwSignal<Option<StoreError>>,
}

impl Session {
    /// Opens the pair in hand; `None` when there is none.
    ///
    /// # Errors
    /// Why it does not open.
    pub(crate) fn open() -> Result<Option<Self>, StoreError> {
        let Some(id) = store::current() else {
            return Ok(None);
        };
        let pair = store::open(&id)?;
        let sock = pair.head.place.sock;
        let at = InHand::of(&pair, sock).journal.position();
        Ok(Some(Self {
            pair: StoredValue::new(pair),
            sock: RwSignal::new(sock),
            at: RwSignal::new(at),
            trouble: RwSignal::new(None),
        }))
    }

    /// Looks at the sock on the needles.
    pub(crate) fn with<T>(self, look: impl FnOnce(InHand<'_>) -> T) -> T {
        let sock = self.sock.get_untracked();
        self.pair.with_value(|pair| look(InHand::of(pair, sock)))
    }

    /// The next move to be done; follows it.
    pub(crate) fn at(self) -> Position {
        self.at.get()
    }

    /// The next move to be done, without following it.
    pub(crate) fn at_untracked(self) -> Position {
        self.at.get_untracked()
    }

    /// What should be on each needle now, without following it; empty where nothing is on them.
    pub(crate) fn per_needle_untracked(self) -> Vec<u16> {
        let at = self.at_untracked();
        self.with(|pair| {
            pair.trace
                .needles_at(at)
                .map(Needles::per_needle)
                .unwrap_or_default()
        })
    }

    /// The sock on the needles, 1 or 2; follows it.
    pub(crate) fn sock(self) -> u8 {
        self.sock.get()
    }

    /// Why the last touches are not stored; follows it.
    pub(crate) fn trouble(self) -> Option<StoreError> {
        self.trouble.get()
    }

    /// Whether this sock is finished; follows the place.
    pub(crate) fn is_finished(self) -> bool {
        let at = self.at.get();
        self.with(|pair| at == pair.trace.end())
    }

    /// Whether there is anything to take back; follows the place.
    pub(crate) fn can_undo(self) -> bool {
        self.at.track();
        self.sock.track();
        self.with(|pair| pair.journal.can_undo())
    }

    /// The round, row or move at hand is done. `false` past the end.
    pub(crate) fn done(self) -> bool {
        let finished = self
            .at
            .with_untracked(|at| self.with(|pair| *at == pair.trace.end()));
        if !finished {
            self.record(Event::Done);
        }
        !finished
    }

    /// Takes the last step back. `false` when there is none.
    pub(crate) fn undo(self) -> bool {
        let can = self.with(|pair| pair.journal.can_undo());
        if can {
            self.record(Event::Undo);
        }
        can
    }

    /// Goes on at another place; the one before stays in the log.
    pub(crate) fn go_to(self, to: Position) {
        self.record(|at| Event::GoTo(at, to));
    }

    /// Writes something at the move at hand, in place of what was written there.
    pub(crate) fn note(self, text: &str) {
        let (place, text) = (self.at_untracked(), tidy_note(text));
        self.record(|at| Event::Note(at, place, text.clone()));
    }

    /// Notes what the yarn, or one of several, weighs at the move at hand; `None` takes an earlier
    /// weighing away.
    pub(crate) fn weigh(self, which: Option<Yarn>, grams: Option<Decigrams>) {
        let place = self.at_untracked();
        self.record(|at| match which {
            Some(yarn) => Event::WeighedYarn(at, place, yarn, grams),
            None => Event::Weighed(at, place, grams),
        });
    }

    /// Begins the second sock.
    pub(crate) fn second_sock(self) {
        self.sock.set(2);
        self.record(Event::Begin);
    }

    /// Reads again what another window has stored, unless something here still waits for that.
    pub(crate) fn read_again(self) {
        if self.trouble.with_untracked(Option::is_some) {
            return;
        }
        if let Ok(pair) = self.with(|pair| store::open(&pair.head.id)) {
            self.take(pair);
        }
    }

    fn take(self, pair: OpenPair) {
        if self.pair.with_value(|before| *before == pair) {
            return;
        }
        let sock = pair.head.place.sock;
        let at = InHand::of(&pair, sock).journal.position();
        self.pair.set_value(pair);
        if self.sock.get_untracked() != sock {
            self.sock.set(sock);
        }
        // Even where the place is the same: notes and plan may not be.
        self.at.set(at);
    }

    fn record(self, event: impl Fn(Seconds) -> Event) {
        let event = event(store::now());
        let mut stored = self.push(event.clone());
        if stored == Err(StoreError::Behind)
            && let Ok(pair) = self.with(|pair| store::open(&pair.head.id))
        {
            // Another window went on: go on from where it is, and do again what was just done.
            self.take(pair);
            stored = self.push(event);
        }
        self.at.set(self.with(|pair| pair.journal.position()));
        let trouble = stored.err();
        if self.trouble.with_untracked(|before| *before != trouble) {
            self.trouble.set(trouble);
        }
        self.note_place_later();
    }

    fn push(self, event: Event) -> Result<(), StoreError> {
        let sock = self.sock.get_untracked();
        self.pair
            .try_update_value(|pair| {
                let OpenPair {
                    head,
                    patterns: [first, second],
                    journals: [first_log, second_log],
                    ..
                } = pair;
                let (pattern, journal) = if sock == 2 {
                    (second, second_log)
                } else {
                    (first, first_log)
                };
                write(journal, event, &pattern.trace);
                store::append(&head.id, sock, journal)
            })
            .unwrap_or(Ok(()))
    }

    /// The basket's note is made once the touch has been painted: it only repeats what the log says.
    fn note_place_later(self) {
        after_paint(move || {
            // The screen may have been left in between; the next opening notes it.
            let _ = self.pair.try_with_value(|pair| {
                let place = pair.place();
                // It is worked out again when the pair is opened.
                let _ = store::note_place(&pair.head.id, &place);
            });
        });
    }
}

/// Does something that may wait until the eye has its answer.
pub(super) fn after_paint(then: impl FnOnce() + 'static) {
    request_animation_frame(move || set_timeout(then, Duration::ZERO));
}

/// Adds an event; the first one of a sock begins it.
fn write(journal: &mut Journal, event: Event, trace: &Trace) {
    if journal.is_empty() && !matches!(event, Event::Begin(_)) {
        journal.push(Event::Begin(event.at()), trace);
    }
    journal.push(event, trace);
}
