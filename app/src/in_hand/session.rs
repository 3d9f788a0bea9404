//! The pair in hand: its plan knitted through once, its logs, and what a touch does to them.
//!
//! A touch adds one event (to both logs where the socks are knitted two at a time), stores the end of
//! the log and moves the place: the same work however long the sock is. What the basket shows is noted
//! after the screen has been painted.

use evenloop_engine::journal::{Decigrams, Event, Journal, Seconds, tidy_note};
use evenloop_engine::needles::Needles;
use evenloop_engine::plan::{Plan, Step, StepForm};
use evenloop_engine::stitch::Yarn;
use evenloop_engine::together::{self, Sock, WhoseTurn};
use evenloop_engine::touch::{self, TouchCounts};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::wire;
use evenloop_engine::within_round::WithinRound;
use leptos::prelude::*;

use super::two_at_a_time::{NotTogether, SeatedAnew, seated_for_two, to_be_seated};
use crate::after_paint::after_paint;
use crate::recovery::Recovery;
use crate::store::{
    self, KnittedPlan, NewPlans, OpenPair, PairHead, StoreError, StoredText, TakenTouches,
};

/// The sock on the needles, to be looked at.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SockInHand<'a> {
    /// Name and progress of the pair.
    pub(crate) head: &'a PairHead,
    /// What this sock is knitted by.
    pub(crate) plan: &'a Plan,
    /// The same, knitted through.
    pub(crate) trace: &'a Trace,
    /// Its log.
    pub(crate) journal: &'a Journal,
    /// The first sock, while the second one follows it.
    pub(crate) first: Option<(&'a KnittedPlan, &'a Journal)>,
    /// What of the pair's logs had to be set aside when it was opened.
    pub(crate) trouble: Option<&'a StoreError>,
    /// Both socks.
    pub(crate) pair: &'a OpenPair,
}

impl<'a> SockInHand<'a> {
    fn of(pair: &'a OpenPair, sock: Sock) -> Self {
        let (pattern, journal) = (&pair.patterns[sock.index()], &pair.journals[sock.index()]);
        let follows = sock == Sock::Second && !together::is_together(pair.on_needles());
        Self {
            head: &pair.head,
            plan: &pattern.plan,
            trace: &pattern.trace,
            journal,
            first: follows.then(|| (&*pair.patterns[0], &pair.journals[0])),
            trouble: pair.trouble.as_ref(),
            pair,
        }
    }
}

/// How far a change of place goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum JumpScope {
    /// The sock that is looked at.
    Sock,
    /// Both socks that are knitted two at a time.
    Pair,
}

/// An opened pair and the place in it, shared by the parts of a screen.
#[derive(Debug, Clone, Copy)]
pub struct Session {
    pair: StoredValue<OpenPair>,
    /// The sock that is looked at: the one whose turn it is, unless the knitter asks for the other.
    sock: RwSignal<Sock>,
    at: RwSignal<Position>,
    /// Why what was touched last is not stored.
    trouble: RwSignal<Option<StoreError>>,
    /// Where it is said that the storage was emptied.
    recovery: Option<Recovery>,
}

impl Session {
    /// Opens the pair in hand; `None` when there is none.
    ///
    /// # Errors
    /// Why it does not open.
    pub(crate) fn open() -> Result<Option<Self>, StoreError> {
        let Some(id) = store::here().current() else {
            return Ok(None);
        };
        // Should the device not be stored, rounds are noted without it, as an older Evenloop did.
        let _ = store::here().this_device();
        let pair = store::here().open(&id)?;
        let session = Self::of(pair);
        // What was counted while there was no room is still here and still waits.
        let waits = store::waits().then_some(StoreError::Full);
        session.trouble.set(waits);
        Ok(Some(session))
    }

    /// A pair as it is at hand. Lives as long as the reactive owner in which it is made.
    pub(super) fn of(pair: OpenPair) -> Self {
        let sock = pair.whose_turn();
        let at = pair.journals[sock.index()].position();
        Self {
            pair: StoredValue::new(pair),
            sock: RwSignal::new(sock),
            at: RwSignal::new(at),
            trouble: RwSignal::new(None),
            recovery: use_context(),
        }
    }

    /// The same pair, to look at what will be shown after so many touches, or after so many times Undo where the
    /// number is below zero. Nothing is stored. `None` where it does not go so far.
    pub(crate) fn seen_from(self, steps: i32, counts: TouchCounts) -> Option<Self> {
        let mut pair = self.pair.with_value(OpenPair::clone);
        for _ in 0..steps.unsigned_abs() {
            let goes = if steps > 0 {
                pair.look_ahead(counts)
            } else {
                pair.look_back(counts)
            };
            if !goes {
                return None;
            }
        }
        Some(Self::of(pair))
    }

    /// What the pair is at hand as: see [`store::base`]; and what has to be stored for that to be true.
    pub(crate) fn shown_as(self) -> Option<(String, Vec<StoredText>)> {
        let conditions = self
            .pair
            .with_value(|pair| store::here().conditions_of_shown(pair))?;
        Some((self.pair.with_value(store::base), conditions))
    }

    /// Takes the touches that were made on this pair before the app was awake.
    pub(crate) fn take_touches(self) -> TakenTouches {
        let taken = self
            .pair
            .try_update_value(|pair| store::here().take_touches(pair))
            .unwrap_or_default();
        if taken.counted > 0 {
            self.note_trouble(taken.trouble.clone());
            self.note_progress_later();
            self.look_at_turn();
        }
        taken
    }

    /// Takes all touches that were made before the app was awake; tells how many belong to nothing as it is now.
    pub(crate) fn take_all_touches(self) -> usize {
        if self.take_touches().trouble.is_some() {
            // They were counted in memory, or wait for the next start.
            return 0;
        }
        store::here().take_stray_touches()
    }

    /// Looks at the sock on the needles.
    pub(crate) fn with<T>(self, look: impl FnOnce(SockInHand<'_>) -> T) -> T {
        self.with_sock(self.sock.get_untracked(), look)
    }

    /// Looks at one of both.
    pub(crate) fn with_sock<T>(self, sock: Sock, look: impl FnOnce(SockInHand<'_>) -> T) -> T {
        self.pair
            .with_value(|pair| look(SockInHand::of(pair, sock)))
    }

    /// The next move to be done; follows it.
    pub(crate) fn at(self) -> Position {
        self.at.get()
    }

    /// The next move to be done, without following it.
    pub(crate) fn at_untracked(self) -> Position {
        self.at.get_untracked()
    }

    /// The place of the sock that is looked at, within its round, without following it.
    pub(crate) fn place_untracked(self) -> WithinRound {
        self.with(|pair| WithinRound {
            at: pair.journal.position(),
            needles: usize::from(pair.journal.needles()),
        })
    }

    /// How many needles of the round at hand are worked, by all socks whose turn it is; follows the place.
    pub(crate) fn needles_worked(self) -> usize {
        self.needle_at_hand().map_or(0, |(nth, _)| nth - 1)
    }

    /// Which needle of the round at hand comes next, counted from 1, and of how many; `None` where it is not
    /// worked needle by needle. Follows the place.
    pub(crate) fn needle_at_hand(self) -> Option<(usize, usize)> {
        let turn = self.turn();
        let turn = turn.unwrap_or_else(|| WhoseTurn::InTurn(self.sock.get_untracked()));
        self.pair
            .with_value(|pair| touch::needle_at_hand(pair.on_needles(), turn.socks()))
    }

    /// What should be on each needle now, without following it; empty where nothing is on them.
    pub(crate) fn per_needle_untracked(self) -> Vec<u16> {
        let place = self.place_untracked();
        self.with(|pair| {
            pair.trace
                .needles_within(place)
                .map(Needles::per_needle)
                .unwrap_or_default()
        })
    }

    /// The sock that is looked at; follows it.
    pub(crate) fn sock(self) -> Sock {
        self.sock.get()
    }

    /// Whether both are knitted two at a time; follows the place.
    pub(crate) fn is_together(self) -> bool {
        self.at.track();
        self.pair
            .with_value(|pair| together::is_together(pair.on_needles()))
    }

    /// Whose turn it is, where both are knitted two at a time and not finished; follows the place.
    pub(crate) fn turn(self) -> Option<WhoseTurn> {
        self.at.track();
        self.sock.track();
        self.pair.with_value(turn)
    }

    /// Whose turn it is after the touch at hand, and its place then; follows the place.
    pub(crate) fn turn_after(self) -> Option<(WhoseTurn, Position)> {
        let now = self.turn()?;
        self.pair.with_value(|pair| {
            let socks = pair.on_needles();
            let mut places = socks.map(|sock| sock.journal.position());
            for sock in now.socks() {
                let place = &mut places[sock.index()];
                *place = socks[sock.index()].trace.advance(*place);
            }
            let then = together::turn_at(socks, places)?;
            Some((then, places[then.sock().index()]))
        })
    }

    /// Looks at one of both socks, until the next touch.
    pub(crate) fn look_at(self, sock: Sock) {
        if self.sock.get_untracked() != sock {
            self.sock.set(sock);
        }
        let at = self.with(|pair| pair.journal.position());
        // Even where the place is the same: notes and plan may not be.
        self.at.set(at);
    }

    /// Looks at the sock whose turn it is.
    pub(crate) fn look_at_turn(self) {
        self.look_at(self.pair.with_value(OpenPair::whose_turn));
    }

    /// Why the last touches are not stored; follows it.
    pub(crate) fn trouble(self) -> Option<StoreError> {
        self.trouble.get()
    }

    /// Whether this sock is finished, or both where they are knitted two at a time; follows the place.
    pub(crate) fn is_finished(self) -> bool {
        let at = self.at.get();
        if self.is_together() {
            self.turn().is_none()
        } else {
            self.with(|pair| at == pair.trace.end())
        }
    }

    /// Whether there is anything to take back; follows the place.
    pub(crate) fn can_undo(self) -> bool {
        self.at.track();
        self.sock.track();
        let sock = self.sock.get_untracked();
        self.pair.with_value(|pair| pair.can_undo(sock))
    }

    /// The round, row or move at hand is done, or a needle of it where a touch counts that. `false` past the end.
    pub(crate) fn done(self, counts: TouchCounts) -> bool {
        let sock = self.sock.get_untracked();
        let events = self
            .pair
            .with_value(|pair| pair.touched(sock, counts, store::now()));
        if events.is_empty() {
            return false;
        }
        self.record_all(&events);
        self.look_at_turn();
        true
    }

    /// Rounds or rows from here to the end of the section that a touch each would count, the one at hand among
    /// them. None in a walk, nor where two socks at a time are not at the same place.
    pub(crate) fn rounds_ahead(self) -> usize {
        if self.turn().is_some_and(|turn| turn != WhoseTurn::Both) {
            return 0;
        }
        let at = self.at();
        self.with(|pair| {
            let section = |step: usize| pair.trace.steps.get(step).map(|seen| seen.section);
            let counted = |step: &usize| {
                let is_round = |step: &Step| step.form != StepForm::Walk;
                section(*step) == section(at.step) && pair.plan.step(*step).is_some_and(is_round)
            };
            (at.step..pair.trace.steps.len())
                .take_while(counted)
                .count()
        })
    }

    /// Several rounds are done at once: one entry of the log, so that one touch of Undo takes it back.
    /// `false` where there are not so many.
    pub(crate) fn done_several(self, rounds: usize) -> bool {
        let (at, ahead) = untrack(|| (self.at(), self.rounds_ahead()));
        if rounds == 0 || rounds > ahead {
            return false;
        }
        let to = Position {
            step: at.step + rounds,
            mv: 0,
        };
        self.go_to(to.into(), JumpScope::Pair);
        true
    }

    /// Goes through what a touch does, and leaves everything as it is.
    pub(crate) fn rehearse(self) {
        let sock = self.sock.get_untracked();
        self.pair
            .with_value(|pair| store::rehearse_record(pair, sock, Event::Done(store::now())));
    }

    /// Takes the last step back, or what the rest was replanned by since. `false` when there is neither.
    pub(crate) fn undo(self) -> bool {
        let sock = self.sock.get_untracked();
        let emptied = self.store_again_if_emptied();
        let undone = self
            .pair
            .try_update_value(|pair| store::here().undo(pair, sock, store::now()));
        let Some(undone) = undone else {
            return false;
        };
        let undone = emptied.map_or(undone, Err);
        let taken_back = undone != Ok(false);
        self.note_trouble(undone.err());
        self.note_progress_later();
        self.look_at_turn();
        taken_back
    }

    /// Goes on at another place; the one before stays in the log. Where both socks go, the other one
    /// goes to the same place in its own plan, and stays where its plan has none.
    pub(crate) fn go_to(self, to: WithinRound, reach: JumpScope) {
        let sock = self.sock.get_untracked();
        let WithinRound { at: to, needles } = to;
        let mut places = [None; 2];
        places[sock.index()] = Some(to);
        if reach == JumpScope::Pair && untrack(|| self.is_together()) {
            let other = sock.other();
            places[other.index()] = self.pair.with_value(|pair| {
                let [there, here] = [other, sock].map(|one| &pair.patterns[one.index()].trace);
                if to == here.end() {
                    Some(there.end())
                } else {
                    there.counterpart(here, to)
                }
            });
        }
        let now = store::now();
        let needles = u8::try_from(needles).unwrap_or(u8::MAX);
        let mut events = Vec::new();
        for (sock, place) in Sock::BOTH.into_iter().zip(places) {
            let Some(place) = place else {
                continue;
            };
            let here = self.with_sock(sock, |pair| pair.journal.position());
            if place != here {
                events.push((sock, Event::GoTo(now, place)));
            }
            let worked = self.with_sock(sock, |pair| pair.journal.needles());
            if needles > 0 || (place == here && worked > 0) {
                events.push((sock, Event::Needles(now, place, needles)));
            }
        }
        self.record_all(&events);
        self.look_at_turn();
    }

    /// Writes something at the move at hand, in place of what was written there.
    pub(crate) fn note(self, text: &str) {
        let (place, text) = (self.at_untracked(), tidy_note(text));
        self.remark(|at| Event::Note(at, place, text.clone()));
    }

    /// Notes what the yarn, or one of several, weighs at the move at hand; `None` takes an earlier
    /// weighing away.
    pub(crate) fn weigh(self, which: Option<Yarn>, grams: Option<Decigrams>) {
        let place = self.at_untracked();
        self.remark(|at| match which {
            Some(yarn) => Event::WeighedYarn(at, place, yarn, grams),
            None => Event::Weighed(at, place, grams),
        });
    }

    fn remark(self, event: impl Fn(Seconds) -> Event) {
        let sock = self.sock.get_untracked();
        self.record(WhoseTurn::InTurn(sock).socks(), |at, _| event(at));
        self.look_at(sock);
    }

    /// Begins the second sock.
    pub(crate) fn second_sock(self) {
        self.record(&[Sock::Second], |at, _| Event::Begin(at));
        self.look_at_turn();
    }

    /// Knits both socks two at a time from here on, or one after the other again. What is not knitted
    /// yet is seated so that both fit.
    ///
    /// # Errors
    /// Why it cannot be; nothing is changed then.
    pub(crate) fn set_together(
        self,
        wanted: bool,
        seated: &dyn Fn(&SeatedAnew) -> Result<Plan, NotTogether>,
    ) -> Result<(), NotTogether> {
        if !wanted {
            self.record(&[Sock::First], |at, _| Event::Together(at, false));
            self.look_at_turn();
            return Ok(());
        }
        if let Some(error) = self.store_again_if_emptied() {
            return Err(NotTogether::Store(error));
        }
        let changed = self.pair.with_value(|pair| {
            let plans = seated_for_two(pair, seated)?.map(|(first, second)| {
                let second = second.as_ref().map(wire::write_plan);
                NewPlans::Both(wire::write_plan(&first), second)
            });
            let (id, standing) = (&pair.head.id, pair.standing());
            store::here()
                .change_rest(id, &standing, plans, Some(true), store::now())
                .map_err(NotTogether::Store)
        });
        match changed {
            Ok(pair) => {
                self.pair.set_value(pair);
                self.look_at_turn();
                Ok(())
            }
            Err(error) => {
                if error == NotTogether::Store(StoreError::Elsewhere) {
                    // What is asked again is asked for the place where the pair is now.
                    self.read_again();
                }
                Err(error)
            }
        }
    }

    /// The socks that have to be seated otherwise before both are knitted two at a time.
    ///
    /// # Errors
    /// Why they cannot be.
    pub(crate) fn to_be_seated(self) -> Result<Vec<SeatedAnew>, NotTogether> {
        let both = self.pair.with_value(to_be_seated)?;
        Ok(both.into_iter().flatten().collect())
    }

    /// Reads again what another window has stored, unless something here still waits for that.
    pub(crate) fn read_again(self) {
        if self.trouble.with_untracked(Option::is_some) {
            return;
        }
        if let Ok(pair) = self.with(|pair| store::here().open(&pair.head.id))
            && self.pair.with_value(|before| *before != pair)
        {
            self.pair.set_value(pair);
            self.look_at_turn();
        }
    }

    /// Adds an event to the log of each of these socks, at one and the same second.
    fn record(self, socks: &[Sock], event: impl Fn(Seconds, Sock) -> Event) {
        let now = store::now();
        let events: Vec<_> = socks
            .iter()
            .map(|sock| (*sock, event(now, *sock)))
            .collect();
        self.record_all(&events);
    }

    /// Adds events to the logs, all of them or none.
    fn record_all(self, events: &[(Sock, Event)]) {
        let emptied = self.store_again_if_emptied();
        let stored = self
            .pair
            .try_update_value(|pair| store::here().record(pair, events));
        self.note_trouble(emptied.or(stored.and_then(Result::err)));
        self.note_progress_later();
    }

    /// Stores the pair again where the browser's storage was emptied under this page; says why it cannot.
    fn store_again_if_emptied(self) -> Option<StoreError> {
        let again = self
            .pair
            .try_with_value(|pair| store::here().store_again_if_emptied(pair))?;
        if again == Ok(true)
            && let Some(recovery) = self.recovery
        {
            recovery.note_emptied();
        }
        again.err()
    }

    fn note_trouble(self, trouble: Option<StoreError>) {
        if self.trouble.with_untracked(|before| *before != trouble) {
            self.trouble.set(trouble);
        }
    }

    /// The basket's note is made once the touch has been painted: it only repeats what the log says.
    fn note_progress_later(self) {
        after_paint(move || {
            // The screen may have been left in between; the next opening notes it.
            let _ = self.pair.try_with_value(|pair| {
                let progress = pair.progress();
                // It is worked out again when the pair is opened.
                let _ = store::here().note_progress(&pair.head.id, &progress);
            });
        });
    }
}

/// The turn of a pair that is knitted two at a time.
fn turn(pair: &OpenPair) -> Option<WhoseTurn> {
    let socks = pair.on_needles();
    together::is_together(socks)
        .then(|| together::turn(socks))
        .flatten()
}
