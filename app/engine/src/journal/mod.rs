//! What has been knitted: an append-only log of events, and its replay to a place in the plan.
//!
//! Nothing is ever taken out of the log: undoing is an event too, and so is rewriting a note. Time
//! enters as an argument. How it is stored is `chunk`'s business.
//!
//! May use positions, traces and the letters of yarns. Must not know where its text is kept, the other sock's log, or
//! a sentence.
//!
//! ```
//! use evenloop_engine::journal::{Event, Journal, read_chunk, write_chunk};
//! use evenloop_engine::plan::make;
//! use evenloop_engine::recipe::Recipe;
//! use evenloop_engine::trace::{Position, Trace};
//!
//! let plan = make(&Recipe::default())?;
//! let trace = Trace::of(&plan)?;
//! let mut journal = Journal::new();
//! for event in [Event::Begin(100), Event::GoTo(160, Position { step: 5, mv: 0 })] {
//!     journal.push(event, &trace);
//! }
//! journal.push(Event::Done(200), &trace);
//! journal.push(Event::Done(230), &trace);
//! journal.push(Event::Undo(231), &trace);
//! assert_eq!(journal.position(), Position { step: 6, mv: 0 });
//!
//! // stored as text, read again and replayed: the same place
//! let text = write_chunk(0, journal.events());
//! let events = read_chunk(0, &text)?;
//! assert_eq!(Journal::replay(&events, &trace), journal);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod chunk;
mod device;
mod digest;
mod event;

pub use chunk::{CHUNK_EVENTS, ChunkError, read_chunk, write_chunk};
pub use device::{DEVICE_NAME_LIMIT, Device, DeviceId, tidy_device_name};
pub use digest::Digest;
pub use event::{Decigrams, Event, Jump, NOTE_LIMIT, Remark, Seconds, tidy_note};

use crate::stitch::Yarn;
use crate::trace::{Position, Trace};

/// The log of one sock, with its replay kept at hand so that a touch costs the same however long
/// the log is.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Journal {
    events: Vec<Event>,
    /// Every place so far that was not undone, oldest first; the last one is now.
    places: Vec<Position>,
    /// By place.
    remarks: Vec<Remark>,
    /// Whether both socks are knitted two at a time.
    together: bool,
    /// Whether the log says when the sock was begun.
    begun: bool,
    /// The digest of the plan that the log was last said to be knitted by.
    plan: Option<Digest>,
    /// What was replanned and can be taken back, oldest first.
    replans: Vec<Replan>,
    /// The device on which the log was last said to be knitted.
    device: Option<Device>,
    /// Every time that needles of a round were worked and neither that nor its round was undone, oldest first.
    part_rounds: Vec<PartRound>,
}

/// Needles of a round that are worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct PartRound {
    /// How many changes of place could be undone then: tells which round it is.
    undoable: usize,
    /// So many needles.
    needles: u8,
    /// Whether it came together with a change of place, and goes with it.
    with_place: bool,
}

/// A replan that can be taken back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Replan {
    /// Number of its event in the log, from 0.
    pub event: usize,
    /// How many changes of place could be undone then.
    undoable: usize,
    /// How often needles of a round had been worked then.
    part_rounds: usize,
}

/// How many replans can be taken back, one after the other.
pub const REPLANS_KEPT: usize = 3;

impl Journal {
    /// An empty log: nothing knitted.
    pub const fn new() -> Self {
        Self {
            events: Vec::new(),
            places: Vec::new(),
            remarks: Vec::new(),
            together: false,
            begun: false,
            plan: None,
            replans: Vec::new(),
            device: None,
            part_rounds: Vec::new(),
        }
    }

    /// Replays a log on a plan.
    pub fn replay(events: &[Event], trace: &Trace) -> Self {
        let mut journal = Self::new();
        for event in events {
            journal.push(event.clone(), trace);
        }
        journal
    }

    /// Adds that what comes now is done on this device, where the log does not say so already.
    pub fn go_on_with(&mut self, device: &Device, now: Seconds, trace: &Trace) {
        if self.device.as_ref() != Some(device) {
            self.push_chained(Event::OnDevice(now, device.clone()), trace);
        }
    }

    /// Adds something that happened just now to a sock knitted by the plan of this digest, and before it what the
    /// log has to say first: that the sock was begun, which plan it is knitted by, and at the beginning
    /// of a chunk the digest of the chunk before.
    pub fn record(&mut self, event: Event, trace: &Trace, plan: Digest) {
        let at = event.at();
        if !self.begun && !matches!(event, Event::Begin(_) | Event::Replanned(..)) {
            self.push_chained(Event::Begin(at), trace);
        }
        let says_plan = matches!(
            event,
            Event::Begin(_) | Event::Replanned(..) | Event::PlanTakenBack(..)
        );
        if self.plan != Some(plan) && !says_plan {
            self.push_chained(Event::Planned(at, self.position(), plan), trace);
        }
        self.push_chained(event, trace);
    }

    /// Adds an event, and where a chunk begins with it, the digest of the chunk before.
    pub(crate) fn push_chained(&mut self, event: Event, trace: &Trace) {
        if !self.events.is_empty() && self.events.len().is_multiple_of(CHUNK_EVENTS) {
            let number = self.events.len() / CHUNK_EVENTS - 1;
            let before = digest_of_chunk(&self.events, number);
            self.push(Event::Chained(event.at(), before), trace);
        }
        self.push(event, trace);
    }

    /// Adds an event. One that cannot be (done past the end, a place that is not in the plan,
    /// nothing to undo) is kept in the log and leaves the place as it is.
    ///
    /// Whatever the plan, each round done and each change of place is one thing to undo: a log that was
    /// begun on another plan, of which all that is knitted stayed, comes to the same place.
    pub fn push(&mut self, event: Event, trace: &Trace) {
        let here = self.position();
        match &event {
            Event::Done(_) => self.places.push(trace.advance(here)),
            Event::GoTo(_, to) if trace.contains(*to) => self.places.push(*to),
            Event::GoTo(..) => self.places.push(here),
            Event::Note(_, place, text) if trace.contains(*place) => {
                self.remark(*place, |remark| remark.note.clone_from(text));
            }
            Event::Weighed(_, place, grams) if trace.contains(*place) => {
                self.remark(*place, |remark| remark.weighed = *grams);
            }
            Event::WeighedYarn(_, place, yarn, grams) if trace.contains(*place) => {
                self.remark(*place, |remark| remark.yarns[*yarn as usize] = *grams);
            }
            Event::Undo(_) => {
                self.places.pop();
                let left = self.places.len();
                self.part_rounds.retain(|part| part.undoable <= left);
                self.forget_replans();
            }
            Event::Needles(at, place, needles) if *place == here => {
                let before = self.events.iter().rev().find(|event| !event.is_bond());
                self.part_rounds.push(PartRound {
                    undoable: self.places.len(),
                    needles: *needles,
                    with_place: matches!(before, Some(Event::GoTo(then, _)) if then == at),
                });
            }
            Event::NeedlesTakenBack(_, place) if *place == here => {
                if self.part_round().is_some() {
                    self.part_rounds.pop();
                    self.forget_replans();
                }
            }
            Event::Together(_, together) => self.together = *together,
            Event::Begin(_) => self.begun = true,
            Event::OnDevice(_, device) => self.device = Some(device.clone()),
            Event::Planned(.., plan) => self.plan = Some(*plan),
            Event::Replanned(.., plan) => {
                self.plan = Some(*plan);
                self.replans.push(Replan {
                    event: self.events.len(),
                    undoable: self.places.len(),
                    part_rounds: self.part_rounds.len(),
                });
                let too_many = self.replans.len().saturating_sub(REPLANS_KEPT);
                self.replans.drain(..too_many);
            }
            Event::PlanTakenBack(.., plan) => {
                self.plan = Some(*plan);
                self.replans.pop();
            }
            Event::Restored(..)
            | Event::Chained(..)
            | Event::Needles(..)
            | Event::NeedlesTakenBack(..)
            | Event::Note(..)
            | Event::Weighed(..)
            | Event::WeighedYarn(..)
            | Event::Unknown(..) => {}
        }
        self.events.push(event);
    }

    /// Forgets what was replanned after something that is undone now.
    fn forget_replans(&mut self) {
        let (places, parts) = (self.places.len(), self.part_rounds.len());
        self.replans
            .retain(|replan| replan.undoable <= places && replan.part_rounds <= parts);
    }

    /// What is worked of the round at hand.
    fn part_round(&self) -> Option<PartRound> {
        let last = self.part_rounds.last().copied();
        last.filter(|part| part.undoable == self.places.len())
    }

    fn remark(&mut self, place: Position, change: impl FnOnce(&mut Remark)) {
        let index = match self.remarks.binary_search_by_key(&place, |r| r.place) {
            Ok(index) => index,
            Err(index) => {
                let remark = Remark {
                    place,
                    note: String::new(),
                    weighed: None,
                    yarns: Default::default(),
                };
                self.remarks.insert(index, remark);
                index
            }
        };
        if let Some(remark) = self.remarks.get_mut(index) {
            change(remark);
            if remark.note.is_empty() && remark.weights().next().is_none() {
                self.remarks.remove(index);
            }
        }
    }

    /// The move to be done next.
    pub fn position(&self) -> Position {
        self.places.last().copied().unwrap_or_default()
    }

    /// How many needles of the round at hand are worked, in the order in which they are worked; 0 at its
    /// beginning.
    pub fn needles(&self) -> u8 {
        self.part_round().map_or(0, |part| part.needles)
    }

    /// When needles of the round at hand were worked last; `None` at its beginning.
    pub(crate) fn needles_since(&self) -> Option<Seconds> {
        self.part_round()?;
        let last = |event: &&Event| matches!(event, Event::Needles(..));
        self.events.iter().rev().find(last).map(Event::at)
    }

    /// What an undo adds to the log: it takes back a needle, a change of place, or both where they came
    /// together. Nothing where there is nothing of that kind.
    pub fn undo(&self, now: Seconds) -> Vec<Event> {
        let needles = Event::NeedlesTakenBack(now, self.position());
        match self.part_round() {
            Some(part) if part.with_place => vec![needles, Event::Undo(now)],
            Some(_) => vec![needles],
            None if self.places.is_empty() => Vec::new(),
            None => vec![Event::Undo(now)],
        }
    }

    /// Where an undo leads.
    pub fn position_before(&self) -> Position {
        let before = self.places.len().checked_sub(2);
        before
            .and_then(|index| self.places.get(index).copied())
            .unwrap_or_default()
    }

    /// The last change of place that was not undone: a [`Event::Done`] or a [`Event::GoTo`].
    pub fn last_move(&self) -> Option<&Event> {
        let mut undone = 0_usize;
        for event in self.events.iter().rev() {
            match event {
                Event::Undo(_) => undone += 1,
                Event::Done(_) | Event::GoTo(..) if undone == 0 => return Some(event),
                Event::Done(_) | Event::GoTo(..) => undone -= 1,
                _ => {}
            }
        }
        None
    }

    /// Whether this sock's log says that the pair is knitted two at a time.
    pub const fn together(&self) -> bool {
        self.together
    }

    /// Whether there is anything to undo.
    pub fn can_undo(&self) -> bool {
        !self.places.is_empty() || self.part_round().is_some() || self.last_replan().is_some()
    }

    /// The replan that would be taken back next: nothing that moved the place came after it.
    pub fn last_replan(&self) -> Option<Replan> {
        let last = self.replans.last().copied();
        last.filter(|replan| {
            replan.undoable == self.places.len() && replan.part_rounds == self.part_rounds.len()
        })
    }

    /// All replans that can still be taken back, oldest first.
    pub fn replans(&self) -> &[Replan] {
        &self.replans
    }

    /// The digest of the plan that the log says it is knitted by; `None` in a log of an older Evenloop.
    pub const fn plan(&self) -> Option<Digest> {
        self.plan
    }

    /// The device on which the log says that it was last knitted; `None` in a log of an older Evenloop.
    pub const fn device(&self) -> Option<&Device> {
        self.device.as_ref()
    }

    /// When something last happened to the sock itself, or was noted of it.
    pub fn last_at(&self) -> Option<Seconds> {
        let mut own = self.events.iter().rev().filter(|event| !event.is_bond());
        own.next().map(Event::at)
    }

    /// Whether anything was ever written.
    pub fn is_empty(&self) -> bool {
        self.events.is_empty()
    }

    /// Everything that happened, oldest first.
    pub fn events(&self) -> &[Event] {
        &self.events
    }

    /// Everything noted and weighed, by place.
    pub fn remarks(&self) -> &[Remark] {
        &self.remarks
    }

    /// What was noted and weighed at a place.
    pub fn remark_at(&self, place: Position) -> Option<&Remark> {
        let index = self.remarks.binary_search_by_key(&place, |r| r.place);
        self.remarks.get(index.ok()?)
    }

    /// The weighings that still stand, in the order in which they were made.
    pub fn weighings(&self) -> Vec<(Position, Decigrams)> {
        self.weighings_of(None)
    }

    /// The same of one of several yarns, or of the one there is.
    pub fn weighings_of(&self, which: Option<Yarn>) -> Vec<(Position, Decigrams)> {
        let mut out: Vec<(Position, Decigrams)> = Vec::new();
        for event in &self.events {
            let (yarn, place, grams) = match event {
                Event::Weighed(_, place, grams) => (None, place, grams),
                Event::WeighedYarn(_, place, yarn, grams) => (Some(*yarn), place, grams),
                _ => continue,
            };
            if yarn == which {
                out.retain(|(other, _)| other != place);
                out.extend(grams.map(|grams| (*place, grams)));
            }
        }
        out.retain(|(place, _)| self.remark_at(*place).is_some());
        out
    }

    /// Where the knitting went back or on by more than the next move, and was left so.
    pub fn jumps(&self, trace: &Trace) -> Vec<Jump> {
        let mut from = Position::default();
        let mut out = Vec::new();
        for to in &self.places {
            if *to != trace.advance(from) && *to != from {
                out.push(Jump { from, to: *to });
            }
            from = *to;
        }
        out
    }
}

/// The digest of a whole chunk of a log, as the chunk after it says it.
fn digest_of_chunk(events: &[Event], number: usize) -> Digest {
    let part = events.chunks(CHUNK_EVENTS).nth(number).unwrap_or_default();
    let index = u32::try_from(number).unwrap_or(u32::MAX);
    Digest::of(&write_chunk(index, part))
}

/// Whether a chunk follows the text of the one before it: it says so, or was written by an older Evenloop,
/// which did not say.
pub fn follows(chunk: &[Event], before: &str) -> bool {
    match chunk.first() {
        Some(Event::Chained(_, digest)) => *digest == Digest::of(before),
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::make;
    use crate::recipe::Recipe;

    fn trace() -> Trace {
        Trace::of(&make(&Recipe::default()).expect("a sock")).expect("it can be knitted")
    }

    const fn at(step: usize) -> Position {
        Position { step, mv: 0 }
    }

    #[test]
    fn a_note_is_replaced_and_taken_away_but_stays_in_the_log() {
        let trace = trace();
        let mut journal = Journal::new();
        for text in ["snug here", "still snug"] {
            journal.push(Event::Note(1, at(9), text.to_owned()), &trace);
        }
        journal.push(Event::Weighed(2, at(9), Some(412)), &trace);
        let remark = journal.remark_at(at(9)).expect("a remark");
        assert_eq!((&*remark.note, remark.weighed), ("still snug", Some(412)));
        assert_eq!(journal.position(), at(0), "a note is no round");
        assert!(!journal.can_undo());
        journal.push(Event::Note(3, at(9), String::new()), &trace);
        journal.push(Event::Weighed(4, at(9), None), &trace);
        assert_eq!(journal.remarks(), []);
        assert_eq!(journal.events().len(), 5);
        // a place that is not in the plan is nowhere to be shown
        journal.push(Event::Note(5, at(99_999), "lost".to_owned()), &trace);
        assert_eq!(journal.remarks(), []);
    }

    #[test]
    fn yarns_are_weighed_each_by_itself() {
        let trace = trace();
        let mut journal = Journal::new();
        for (step, yarn, grams) in [(4, Yarn::A, 480), (4, Yarn::B, 310), (9, Yarn::B, 305)] {
            journal.push(Event::WeighedYarn(1, at(step), yarn, Some(grams)), &trace);
        }
        assert_eq!(journal.weighings(), []);
        assert_eq!(journal.weighings_of(Some(Yarn::A)), [(at(4), 480)]);
        assert_eq!(
            journal.weighings_of(Some(Yarn::B)),
            [(at(4), 310), (at(9), 305)]
        );
        let both: Vec<_> = journal
            .remark_at(at(4))
            .expect("weighed")
            .weights()
            .collect();
        assert_eq!(both, [(Some(Yarn::A), 480), (Some(Yarn::B), 310)]);
        journal.push(Event::WeighedYarn(2, at(9), Yarn::B, None), &trace);
        assert_eq!(journal.weighings_of(Some(Yarn::B)), [(at(4), 310)]);
        assert_eq!(journal.remark_at(at(9)), None, "nothing is left there");
    }

    #[test]
    fn weighings_come_in_the_order_made() {
        let trace = trace();
        let mut journal = Journal::new();
        for (step, grams) in [(40, Some(500)), (9, Some(450)), (40, Some(430)), (9, None)] {
            journal.push(Event::Weighed(1, at(step), grams), &trace);
        }
        assert_eq!(journal.weighings(), [(at(40), 430)]);
    }

    #[test]
    fn going_back_is_remembered_until_it_is_undone() {
        let trace = trace();
        let mut journal = Journal::new();
        journal.push(Event::GoTo(1, at(30)), &trace);
        journal.push(Event::Done(2), &trace);
        journal.push(Event::GoTo(3, at(12)), &trace);
        let first = Jump {
            from: at(0),
            to: at(30),
        };
        let back = Jump {
            from: at(31),
            to: at(12),
        };
        assert_eq!(journal.jumps(&trace), [first, back]);
        journal.push(Event::Undo(4), &trace);
        assert_eq!(journal.jumps(&trace), [first]);
        assert_eq!(journal.position(), at(31));
    }

    #[test]
    fn a_log_comes_to_the_same_place_on_a_plan_that_was_made_anew() {
        let knit = |leg| {
            let plan = make(&Recipe {
                leg: crate::units::Length::cm(leg),
                ..Recipe::default()
            });
            Trace::of(&plan.expect("a sock")).expect("it can be knitted")
        };
        let (long, short) = (knit(24), knit(8));
        let end = long.end();
        // on to the end of the long sock, past it, back, and here and there undone
        let mut events = vec![Event::Begin(0), Event::GoTo(1, at(20)), Event::Done(2)];
        events.extend([Event::GoTo(3, end), Event::Done(4), Event::Undo(5)]);
        events.extend([
            Event::Undo(6),
            Event::Done(7),
            Event::GoTo(8, at(end.step - 3)),
        ]);
        events.extend((0..9).map(|n| Event::Done(9 + n)));
        events.extend((0..9).map(|n| Event::Undo(20 + n)));
        events.extend([Event::Undo(30), Event::Done(31)]);
        let [on_long, on_short] = [&long, &short].map(|trace| Journal::replay(&events, trace));
        assert_eq!(on_long.position(), at(23));
        assert_eq!(on_short.position(), at(23));
        assert_eq!(on_long.places.len(), on_short.places.len());
    }

    #[test]
    fn what_is_recorded_says_its_plan_and_the_chunk_before() {
        let trace = trace();
        let (one, other) = (Digest::of("one"), Digest::of("other"));
        let mut journal = Journal::new();
        journal.record(Event::Done(7), &trace, one);
        let begun = [
            Event::Begin(7),
            Event::Planned(7, at(0), one),
            Event::Done(7),
        ];
        assert_eq!(journal.events(), begun);
        for n in 0..200 {
            journal.record(Event::Done(8 + n), &trace, one);
        }
        let chunks: Vec<_> = journal.events().chunks(CHUNK_EVENTS).collect();
        assert_eq!(chunks.len(), 4);
        for (number, pair) in (0..).zip(chunks.windows(2)) {
            let before = write_chunk(number, pair[0]);
            assert!(matches!(pair[1][0], Event::Chained(..)));
            assert!(follows(pair[1], &before));
            assert!(!follows(pair[1], &before.replacen('d', "u", 1)));
        }
        // once only, until it is knitted by another plan
        let says = |journal: &Journal| {
            let all = journal.events().iter();
            all.filter(|event| matches!(event, Event::Planned(..)))
                .count()
        };
        assert_eq!(says(&journal), 1);
        journal.record(Event::Done(900), &trace, other);
        assert_eq!((says(&journal), journal.plan()), (2, Some(other)));
        assert_eq!(Journal::replay(journal.events(), &trace), journal);
    }

    #[test]
    fn a_log_of_an_older_evenloop_says_its_plan_when_it_is_gone_on_with() {
        let trace = trace();
        let plan = Digest::of("plan");
        let older: Vec<_> = std::iter::once(Event::Begin(1))
            .chain((0..9).map(|n| Event::Done(2 + n)))
            .collect();
        let mut journal = Journal::replay(&older, &trace);
        assert_eq!(journal.plan(), None);
        let here = journal.position();
        journal.record(Event::Done(60), &trace, plan);
        assert_eq!(
            &journal.events()[10..],
            [Event::Planned(60, here, plan), Event::Done(60)]
        );
    }

    #[test]
    fn a_plan_made_anew_is_taken_back_before_the_rounds_before_it() {
        let trace = trace();
        let digests = ["a", "b", "c", "d", "e"].map(Digest::of);
        let mut journal = Journal::new();
        journal.record(Event::Done(1), &trace, digests[0]);
        journal.record(Event::Done(2), &trace, digests[0]);
        let here = journal.position();
        journal.record(Event::Replanned(3, here, digests[1]), &trace, digests[1]);
        assert_eq!(journal.position(), here, "a new plan is no round");
        let replan = journal.last_replan().expect("it can be taken back");
        assert_eq!(
            journal.events()[replan.event],
            Event::Replanned(3, here, digests[1])
        );
        // a round done comes off first
        journal.record(Event::Done(4), &trace, digests[1]);
        assert_eq!(journal.last_replan(), None);
        journal.record(Event::Undo(5), &trace, digests[1]);
        assert_eq!(journal.last_replan(), Some(replan));
        journal.record(
            Event::PlanTakenBack(6, here, digests[0]),
            &trace,
            digests[0],
        );
        assert_eq!(
            (journal.last_replan(), journal.plan()),
            (None, Some(digests[0]))
        );
        assert_eq!(journal.position(), here);
        // an Undo past it, as an older Evenloop does it, leaves the new plan
        journal.record(Event::Replanned(7, here, digests[1]), &trace, digests[1]);
        journal.record(Event::Undo(8), &trace, digests[1]);
        assert_eq!((journal.last_replan(), journal.replans().len()), (None, 0));
        // and only the last few are kept
        for digest in &digests[1..] {
            journal.record(Event::Replanned(9, here, *digest), &trace, *digest);
        }
        assert_eq!(journal.replans().len(), REPLANS_KEPT);
        assert_eq!(Journal::replay(journal.events(), &trace), journal);
    }

    #[test]
    fn needles_of_a_round_come_and_go_without_moving_the_place() {
        let trace = trace();
        let mut journal = Journal::new();
        journal.push(Event::GoTo(1, at(20)), &trace);
        journal.push(Event::Needles(2, at(20), 1), &trace);
        assert_eq!((journal.position(), journal.needles()), (at(20), 1));
        // of another round, as when two windows were at odds
        journal.push(Event::Needles(3, at(19), 2), &trace);
        assert_eq!(journal.needles(), 1);
        journal.push(Event::Done(4), &trace);
        assert_eq!((journal.position(), journal.needles()), (at(21), 0));
        // the round's last needle comes off, then the one before, then the way there
        let undo = |journal: &mut Journal, expected: &[Event]| {
            let events = journal.undo(5);
            assert_eq!(events, expected);
            for event in events {
                journal.push(event, &trace);
            }
        };
        undo(&mut journal, &[Event::Undo(5)]);
        assert_eq!((journal.position(), journal.needles()), (at(20), 1));
        undo(&mut journal, &[Event::NeedlesTakenBack(5, at(20))]);
        assert_eq!((journal.position(), journal.needles()), (at(20), 0));
        undo(&mut journal, &[Event::Undo(5)]);
        assert_eq!(journal.position(), at(0));
        assert!(!journal.can_undo() && journal.undo(6).is_empty());
    }

    #[test]
    fn a_place_within_a_round_is_gone_to_and_left_as_one() {
        let trace = trace();
        let mut journal = Journal::new();
        journal.push(Event::Done(1), &trace);
        journal.push(Event::GoTo(2, at(20)), &trace);
        journal.push(
            Event::Chained(2, Digest::of("a chunk ends in between")),
            &trace,
        );
        journal.push(Event::Needles(2, at(20), 1), &trace);
        assert_eq!(
            journal.undo(3),
            [Event::NeedlesTakenBack(3, at(20)), Event::Undo(3)]
        );
        for event in journal.undo(3) {
            journal.push(event, &trace);
        }
        assert_eq!(
            (journal.position(), journal.needles()),
            (trace.advance(at(0)), 0)
        );
        assert_eq!(Journal::replay(journal.events(), &trace), journal);
    }

    #[test]
    fn a_plan_made_anew_within_a_round_goes_before_the_needle() {
        let trace = trace();
        let digests = ["a", "b"].map(Digest::of);
        let mut journal = Journal::new();
        journal.record(Event::GoTo(1, at(20)), &trace, digests[0]);
        journal.record(Event::Needles(2, at(20), 1), &trace, digests[0]);
        journal.record(Event::Replanned(3, at(20), digests[1]), &trace, digests[1]);
        assert_eq!(journal.needles(), 1, "what is knitted stays");
        assert!(journal.last_replan().is_some());
        journal.record(Event::Needles(4, at(20), 2), &trace, digests[1]);
        assert_eq!(
            journal.last_replan(),
            None,
            "a needle later comes off first"
        );
        journal.record(Event::NeedlesTakenBack(5, at(20)), &trace, digests[1]);
        assert!(journal.last_replan().is_some());
        // an Undo past it, as where the plans before are not kept any more
        journal.record(Event::NeedlesTakenBack(6, at(20)), &trace, digests[1]);
        assert_eq!((journal.needles(), journal.replans().len()), (0, 0));
    }

    #[test]
    fn an_older_evenloop_counts_the_same_rounds_past_the_needles() {
        let trace = trace();
        let events = [
            Event::GoTo(1, at(20)),
            Event::Needles(2, at(20), 1),
            Event::Done(3),
            Event::Needles(4, at(21), 1),
            Event::NeedlesTakenBack(5, at(21)),
            Event::Needles(6, at(21), 1),
            Event::Done(7),
        ];
        let unknown = |event: &Event| match event {
            Event::Needles(at, ..) | Event::NeedlesTakenBack(at, _) => {
                Event::Unknown(*at, "m:20:0:1".to_owned())
            }
            event => event.clone(),
        };
        let older: Vec<Event> = events.iter().map(unknown).collect();
        let [ours, theirs] = [&events[..], &older].map(|log| Journal::replay(log, &trace));
        assert_eq!(ours.position(), theirs.position());
        assert_eq!(ours.position(), at(22));
        assert_eq!(ours.position_before(), theirs.position_before());
    }

    #[test]
    fn notes_are_kept_tidy() {
        assert_eq!(tidy_note("  k2tog \n  missed "), "k2tog \n  missed");
        assert_eq!(tidy_note(" \n\t "), "");
        assert_eq!(tidy_note(&"é".repeat(400)).chars().count(), NOTE_LIMIT);
    }
}
