//! Two logs of one sock, from two devices, brought together without loss.
//!
//! A log is taken apart into strands, each of which only ever grows at its end: all that changed the place or
//! the plan is one strand; what was noted or weighed at each place is one of its own. Of two logs
//! each strand goes on with the longer one where that begins as the shorter does; where neither does, they
//! have parted, and the knitter has to say which is right. What only binds a log together says nothing about
//! the sock and is not compared. So it makes no difference which of both is brought into which, nor how often,
//! nor in which order three come together.
//!
//! May use the journal and where a plan has its places; must not know how logs are stored or sent.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use crate::journal::{Device, DeviceId, Digest, Event, Journal, Seconds, write_chunk};
use crate::trace::{Position, Trace};

/// How all that changed the place or the plan in our log stands to the same in theirs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Acts {
    /// Both are the same.
    Same,
    /// Ours goes on where theirs ends.
    Ahead,
    /// Theirs goes on where ours ends.
    Behind,
    /// Both go on after this many that they have in common.
    Parted(usize),
}

/// How what was noted and weighed in our log stands to the same in theirs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Remarks {
    /// Both are the same.
    Same,
    /// Ours has all of theirs and more.
    Ahead,
    /// Theirs has all of ours and more.
    Behind,
    /// Each has something that the other lacks, at different places.
    Both,
    /// At some place both have something, and not the same.
    Parted,
}

/// How two logs of one sock stand to each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LogsCompared {
    /// What changed the place or the plan.
    pub acts: Acts,
    /// What was noted and weighed.
    pub remarks: Remarks,
}

/// Something that happened, and on which device, where its log says so.
#[derive(Debug, Clone)]
struct LoggedEvent {
    event: Event,
    device: Option<Device>,
    /// What the log said just before it of the plan that the sock is knitted by.
    plan: Option<(Seconds, Position, Digest)>,
}

impl LoggedEvent {
    /// The device that makes this another event than an equal one of another device: two touches in the same second on
    /// two devices are two rounds. The same note or weight at the same place says the same wherever it was typed.
    fn device_that_counts(&self) -> Option<DeviceId> {
        let device = self.device.as_ref().map(|device| device.id);
        device.filter(|_| !self.event.is_remark())
    }

    /// Whether both logs tell of the same. A log without devices, of an older Evenloop, is taken at its word.
    fn is_same(&self, other: &Self) -> bool {
        let devices = self.device_that_counts().zip(other.device_that_counts());
        self.event == other.event && devices.is_none_or(|(one, other)| one == other)
    }

    /// The same told by both. A device that was given another name has two, and it makes no difference who is asked
    /// first.
    fn and(self, other: Self) -> Self {
        Self {
            event: self.event,
            device: first_of(self.device, other.device),
            plan: first_of(self.plan, other.plan),
        }
    }
}

fn first_of<T: Ord>(one: Option<T>, other: Option<T>) -> Option<T> {
    match (one, other) {
        (Some(one), Some(other)) => Some(one.min(other)),
        (one, other) => one.or(other),
    }
}

/// What was noted at a place, weighed there, or weighed there of one of several yarns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Remarked {
    Note,
    Yarn,
    /// By its number among all yarns.
    OneYarn(u8),
}

/// A log taken apart.
#[derive(Debug, Clone, Default)]
struct Strands {
    acts: Vec<LoggedEvent>,
    remarks: BTreeMap<(Position, Remarked), Vec<LoggedEvent>>,
}

impl Strands {
    fn of(events: &[Event]) -> Self {
        let mut strands = Self::default();
        let (mut device, mut plan) = (None, None);
        for event in events {
            match event {
                Event::OnDevice(_, on) => device = Some(on.clone()),
                Event::Planned(when, at, by) => plan = Some((*when, *at, *by)),
                bond if bond.is_bond() => {}
                event => strands.strand(event).push(LoggedEvent {
                    event: event.clone(),
                    device: device.clone(),
                    plan: plan.take(),
                }),
            }
        }
        strands
    }

    /// The strand that an event belongs to.
    fn strand(&mut self, event: &Event) -> &mut Vec<LoggedEvent> {
        let remarked = match event {
            Event::Note(_, place, _) => (*place, Remarked::Note),
            Event::Weighed(_, place, _) => (*place, Remarked::Yarn),
            Event::WeighedYarn(_, place, yarn, _) => (*place, Remarked::OneYarn(*yarn as u8)),
            _ => return &mut self.acts,
        };
        self.remarks.entry(remarked).or_default()
    }

    /// All of it in one row: by time, as far as that leaves each strand in its own order.
    fn in_one_row(self) -> Vec<LoggedEvent> {
        let mut strands: Vec<_> = std::iter::once(self.acts)
            .chain(self.remarks.into_values())
            .map(|strand| strand.into_iter().peekable())
            .collect();
        let mut row = Vec::new();
        loop {
            let heads = strands.iter_mut().enumerate();
            let heads = heads.filter_map(|(at, strand)| Some((strand.peek()?.event.at(), at)));
            let Some((_, first)) = heads.min() else {
                return row;
            };
            row.extend(strands[first].next());
        }
    }
}

/// How many events two strands have in common at their beginnings.
fn in_common(ours: &[LoggedEvent], theirs: &[LoggedEvent]) -> usize {
    let both = ours.iter().zip(theirs);
    both.take_while(|(ours, theirs)| ours.is_same(theirs))
        .count()
}

/// Which of two strands goes on where the other ends; `None` where both go on.
fn longer(ours: &[LoggedEvent], theirs: &[LoggedEvent]) -> Option<Ordering> {
    let common = in_common(ours, theirs);
    let one_ends = common == ours.len() || common == theirs.len();
    one_ends.then(|| ours.len().cmp(&theirs.len()))
}

/// How two logs of one sock stand to each other.
pub fn compare(ours: &[Event], theirs: &[Event]) -> LogsCompared {
    let (ours, theirs) = (Strands::of(ours), Strands::of(theirs));
    let acts = match longer(&ours.acts, &theirs.acts) {
        Some(Ordering::Equal) => Acts::Same,
        Some(Ordering::Greater) => Acts::Ahead,
        Some(Ordering::Less) => Acts::Behind,
        None => Acts::Parted(in_common(&ours.acts, &theirs.acts)),
    };
    let places = ours.remarks.keys().chain(theirs.remarks.keys());
    let mut remarks = Remarks::Same;
    for place in places {
        let at = |side: &Strands| side.remarks.get(place).cloned().unwrap_or_default();
        remarks = match (longer(&at(&ours), &at(&theirs)), remarks) {
            (None, _) => {
                return LogsCompared {
                    acts,
                    remarks: Remarks::Parted,
                };
            }
            (Some(Ordering::Equal), before) => before,
            (Some(Ordering::Greater), Remarks::Same | Remarks::Ahead) => Remarks::Ahead,
            (Some(Ordering::Less), Remarks::Same | Remarks::Behind) => Remarks::Behind,
            (Some(_), _) => Remarks::Both,
        };
    }
    LogsCompared { acts, remarks }
}

/// A log with all that is in either of two, for a sock that is knitted by the plan of this trace; the same
/// whichever is ours. `None` where they have parted. Neither log is the beginning of it.
pub fn joined(ours: &[Event], theirs: &[Event], trace: &Trace) -> Option<Journal> {
    let (mut all, theirs) = (Strands::of(ours), Strands::of(theirs));
    all.acts = longest(all.acts, theirs.acts)?;
    for (place, strand) in theirs.remarks {
        let ours = all.remarks.remove(&place).unwrap_or_default();
        all.remarks.insert(place, longest(ours, strand)?);
    }
    let mut journal = Journal::new();
    for LoggedEvent {
        event,
        device,
        plan,
    } in all.in_one_row()
    {
        if let Some(device) = device {
            journal.go_on_with(&device, event.at(), trace);
        }
        if let Some((when, at, by)) = plan {
            journal.push_chained(Event::Planned(when, at, by), trace);
        }
        journal.push_chained(event, trace);
    }
    Some(journal)
}

/// The longer of two strands; `None` where both go on.
fn longest(ours: Vec<LoggedEvent>, theirs: Vec<LoggedEvent>) -> Option<Vec<LoggedEvent>> {
    longer(&ours, &theirs)?;
    let (mut ours, mut theirs) = (ours.into_iter(), theirs.into_iter());
    let row = std::iter::from_fn(|| match (ours.next(), theirs.next()) {
        (Some(one), Some(other)) => Some(one.and(other)),
        (one, other) => one.or(other),
    });
    Some(row.collect())
}

/// All that changed the place or the plan, oldest first.
pub fn acts(events: &[Event]) -> Vec<Event> {
    let is_act = |event: &&Event| !event.is_bond() && !event.is_remark();
    events.iter().filter(is_act).cloned().collect()
}

/// The digest of what a log says of its sock: the same exactly for logs that compare the same. Only where one of them
/// does not say on which device a step was done, as an older Evenloop's, are there two digests for the same.
pub fn digest_of_log(events: &[Event]) -> Digest {
    let row = Strands::of(events).in_one_row();
    let devices = row.iter().filter_map(LoggedEvent::device_that_counts);
    let devices: Vec<String> = devices.map(|id| id.to_string()).collect();
    let row: Vec<Event> = row.into_iter().map(|told| told.event).collect();
    Digest::of(&write_chunk(0, &row)).and(&devices.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::journal::{CHUNK_EVENTS, follows, read_chunk};
    use crate::plan::make;
    use crate::recipe::Recipe;
    use proptest::prelude::*;

    fn trace() -> Trace {
        Trace::of(&make(&Recipe::default()).expect("a sock")).expect("it can be knitted")
    }

    fn device(number: u64) -> Device {
        Device {
            id: DeviceId::new(number),
            name: format!("phone {number}"),
        }
    }

    const fn at(step: usize) -> Position {
        Position { step, mv: 0 }
    }

    /// Something that happens on one of a few devices: a touch, a note, a weighing. The seconds are few, so that
    /// devices often do something in the same one.
    fn any_event() -> impl Strategy<Value = Event> {
        let when = 1_000_u64..1_008;
        prop_oneof![
            4 => when.clone().prop_map(Event::Done),
            1 => when.clone().prop_map(Event::Undo),
            1 => (when.clone(), 0_usize..9).prop_map(|(when, step)| Event::GoTo(when, at(step))),
            2 => (when.clone(), 0_usize..9).prop_map(|(when, step)| Event::Needles(when, at(step), 1)),
            1 => (when.clone(), 0_usize..9).prop_map(|(when, step)| Event::NeedlesTakenBack(when, at(step))),
            2 => (when.clone(), 0_usize..3).prop_map(|(when, step)| {
                Event::Note(when, at(step), format!("note {when}"))
            }),
            1 => (when, 0_usize..3).prop_map(|(when, step)| {
                Event::Weighed(when, at(step), Some(400))
            }),
        ]
    }

    /// A log after another, as a device writes it.
    fn gone_on(log: &[Event], with: &[Event], on: u64, trace: &Trace) -> Vec<Event> {
        let mut journal = Journal::replay(log, trace);
        for event in with {
            journal.go_on_with(&device(on), event.at(), trace);
            journal.record(event.clone(), trace, Digest::of("plan"));
        }
        journal.events().to_vec()
    }

    /// What a log says of its sock, in an order of its own.
    fn says(events: &[Event]) -> Digest {
        digest_of_log(events)
    }

    fn join(a: &[Event], b: &[Event], trace: &Trace) -> Option<Vec<Event>> {
        joined(a, b, trace).map(|journal| journal.events().to_vec())
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn it_makes_no_difference_who_is_brought_into_whom(
            common in prop::collection::vec(any_event(), 0..5),
            tails in prop::collection::vec(prop::collection::vec(any_event(), 0..4), 3),
        ) {
            let trace = trace();
            let common = gone_on(&[], &common, 1, &trace);
            let logs: Vec<_> = (2..)
                .zip(&tails)
                .map(|(on, tail)| gone_on(&common, tail, on, &trace))
                .collect();
            let (a, b, c) = (&logs[0], &logs[1], &logs[2]);
            // either way round, to the byte
            prop_assert_eq!(join(a, b, &trace), join(b, a, &trace));
            // once more changes nothing
            prop_assert_eq!(says(&join(a, a, &trace).expect("the same")), says(a));
            if let Some(ab) = join(a, b, &trace) {
                prop_assert_eq!(join(&ab, b, &trace), Some(ab.clone()));
                prop_assert_eq!(join(a, &ab, &trace), Some(ab.clone()));
                let compared = compare(&ab, b);
                prop_assert!(matches!(compared.acts, Acts::Same | Acts::Ahead));
                prop_assert!(matches!(compared.remarks, Remarks::Same | Remarks::Ahead));
            }
            // three in any order, wherever both ways can be gone
            let left = join(a, b, &trace).and_then(|ab| join(&ab, c, &trace));
            let right = join(b, c, &trace).and_then(|bc| join(a, &bc, &trace));
            prop_assert_eq!(left, right);
        }

        #[test]
        fn nothing_is_lost_and_what_parted_is_not_joined(
            common in prop::collection::vec(any_event(), 0..5),
            tails in prop::collection::vec(prop::collection::vec(any_event(), 0..5), 2),
        ) {
            let trace = trace();
            let common = gone_on(&[], &common, 1, &trace);
            let [a, b] = [0, 1].map(|side| gone_on(&common, &tails[side], side as u64 + 2, &trace));
            let compared = compare(&a, &b);
            let parted = matches!(compared.acts, Acts::Parted(_)) || compared.remarks == Remarks::Parted;
            let both = join(&a, &b, &trace);
            prop_assert_eq!(both.is_none(), parted);
            let own = |log: &[Event]| -> Vec<Event> {
                log.iter().filter(|event| !event.is_bond()).cloned().collect()
            };
            if let Some(both) = both {
                for event in own(&a).iter().chain(&own(&b)) {
                    prop_assert!(both.contains(event), "{:?} is gone", event);
                }
                prop_assert!(own(&both).len() <= own(&a).len() + own(&b).len());
            }
            // the other way round says the reverse
            let back = compare(&b, &a);
            prop_assert_eq!(compared.acts == Acts::Ahead, back.acts == Acts::Behind);
            prop_assert_eq!(compared.remarks == Remarks::Ahead, back.remarks == Remarks::Behind);
            prop_assert_eq!(compared.acts == Acts::Same, back.acts == Acts::Same);
            // the same digest exactly where they say the same
            let same = compared == LogsCompared { acts: Acts::Same, remarks: Remarks::Same };
            prop_assert_eq!(same, says(&a) == says(&b));
        }
    }

    #[test]
    fn what_only_binds_a_log_together_makes_no_difference() {
        let trace = trace();
        let touches: Vec<Event> = (1..5).map(Event::Done).collect();
        let here = gone_on(&[], &touches, 1, &trace);
        let mut there = Journal::replay(&here, &trace);
        let brought = Event::Restored(9, there.position(), Digest::of("plan"));
        there.go_on_with(&device(2), 9, &trace);
        there.record(brought, &trace, Digest::of("plan"));
        let same = LogsCompared {
            acts: Acts::Same,
            remarks: Remarks::Same,
        };
        assert_eq!(compare(&here, there.events()), same);
        let on = gone_on(&here, &[Event::Done(20)], 1, &trace);
        assert_eq!(compare(&on, there.events()).acts, Acts::Ahead);
    }

    #[test]
    fn a_joined_log_is_chained_and_says_where_each_part_was_knitted() {
        let trace = trace();
        let touches: Vec<Event> = (0..3 * CHUNK_EVENTS as u64).map(Event::Done).collect();
        let begun = gone_on(&[], &touches[..2], 1, &trace);
        let knitted = gone_on(&begun, &touches[2..], 1, &trace);
        let weighed = gone_on(&begun, &[Event::Weighed(90, at(2), Some(412))], 2, &trace);
        let both = joined(&knitted, &weighed, &trace).expect("nothing contradicts");
        assert_eq!(
            both.position(),
            Journal::replay(&knitted, &trace).position()
        );
        assert_eq!(both.weighings(), [(at(2), 412)]);
        let mut before: Option<String> = None;
        for (index, part) in (0..).zip(both.events().chunks(CHUNK_EVENTS)) {
            let text = write_chunk(index, part);
            let events = read_chunk(index, &text).expect("it reads back");
            assert!(before.is_none_or(|before| follows(&events, &before)));
            before = Some(text);
        }
        let devices: Vec<u64> = both
            .events()
            .iter()
            .filter_map(|event| match event {
                Event::OnDevice(_, on) if *on == device(1) => Some(1),
                Event::OnDevice(..) => Some(2),
                _ => None,
            })
            .collect();
        assert_eq!(devices, [1, 2, 1]);
    }

    #[test]
    fn touches_of_one_second_on_two_devices_are_two() {
        let trace = trace();
        let common = gone_on(&[], &[Event::Done(1), Event::Done(2)], 1, &trace);
        let a = gone_on(&common, &[Event::Done(5)], 1, &trace);
        let b = gone_on(&common, &[Event::Done(5), Event::Done(6)], 2, &trace);
        let before = acts(&common).len();
        assert_eq!(compare(&a, &b).acts, Acts::Parted(before));
        assert_eq!(compare(&b, &a).acts, Acts::Parted(before));
        assert_eq!(joined(&a, &b, &trace), None);
        let also = gone_on(&common, &[Event::Done(5)], 2, &trace);
        assert_ne!(digest_of_log(&a), digest_of_log(&also));
        // on one device the file is only older
        let later = gone_on(&a, &[Event::Done(6)], 1, &trace);
        assert_eq!(compare(&a, &later).acts, Acts::Behind);
    }

    #[test]
    fn the_same_note_of_one_second_on_two_devices_is_one() {
        let trace = trace();
        let common = gone_on(&[], &[Event::Done(1)], 1, &trace);
        let note = Event::Note(5, at(1), "snug".to_owned());
        let a = gone_on(&common, std::slice::from_ref(&note), 1, &trace);
        let b = gone_on(&common, &[note], 2, &trace);
        assert_eq!(compare(&a, &b).remarks, Remarks::Same);
        assert_eq!(digest_of_log(&a), digest_of_log(&b));
        let both = joined(&a, &b, &trace).expect("nothing contradicts");
        assert_eq!(compare(both.events(), &a).remarks, Remarks::Same);
    }

    #[test]
    fn needles_of_a_round_go_along_with_the_rounds() {
        let trace = trace();
        let gone = [Event::GoTo(20, at(20)), Event::Needles(20, at(20), 1)];
        let common = gone_on(&[], &[Event::Done(1), Event::GoTo(5, at(12))], 1, &trace);
        let a = gone_on(&common, &gone, 1, &trace);
        // noted in the same second as the way there
        let b = gone_on(&common, &[Event::Weighed(20, at(3), Some(400))], 2, &trace);
        assert_eq!(
            compare(&a, &common).acts,
            Acts::Ahead,
            "half a round is further"
        );
        let both = joined(&a, &b, &trace).expect("nothing contradicts");
        assert_eq!((both.position(), both.needles()), (at(20), 1));
        // the way there and the needle are still left as one
        assert_eq!(both.undo(30).len(), 2);
        // half a round here and a whole one there went different ways
        let half = gone_on(&common, &[Event::Needles(9, at(12), 1)], 1, &trace);
        let whole = gone_on(&common, &[Event::Done(10)], 2, &trace);
        assert!(matches!(compare(&half, &whole).acts, Acts::Parted(_)));
        assert_eq!(joined(&half, &whole, &trace), None);
    }

    #[test]
    fn different_notes_at_one_place_part_and_at_two_places_do_not() {
        let trace = trace();
        let note = |when, step, text: &str| Event::Note(when, at(step), text.to_owned());
        let common = gone_on(&[], &[Event::Done(1)], 1, &trace);
        let a = gone_on(&common, &[note(5, 1, "snug")], 1, &trace);
        let b = gone_on(&common, &[note(6, 1, "loose")], 2, &trace);
        assert_eq!(compare(&a, &b).remarks, Remarks::Parted);
        let c = gone_on(&common, &[note(6, 2, "loose")], 2, &trace);
        assert_eq!(compare(&a, &c).remarks, Remarks::Both);
        // rewritten on the device that had it
        let d = gone_on(&a, &[note(7, 1, "still snug")], 2, &trace);
        assert_eq!(compare(&a, &d).remarks, Remarks::Behind);
    }
}
