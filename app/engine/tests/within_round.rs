//! Laws of a touch a needle: rounds, places and socks come out as with a touch a round, whatever was touched can
//! be taken back needle by needle, and an older Evenloop reads the same rounds in the log.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

#[allow(dead_code)] // shared with the other laws
mod any;

use any::knittable;
use evenloop_engine::journal::{Event, Journal, read_chunk, write_chunk};
use evenloop_engine::plan::{Plan, make};
use evenloop_engine::recipe::{Method, Recipe, Seating};
use evenloop_engine::tally::{Finding, check_within, seen};
use evenloop_engine::together::{OnNeedles, Sock, last_moved};
use evenloop_engine::touch::{TouchCounts, taken_back, touched};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::within_round::{WithinRound, needles_of_round};
use proptest::prelude::*;

/// A pair on its needles, both socks alike.
struct Pair {
    plan: Plan,
    trace: Trace,
    logs: [Journal; 2],
}

impl Pair {
    fn of(plan: Plan) -> Self {
        let trace = Trace::of(&plan).expect("it can be knitted");
        Self {
            plan,
            trace,
            logs: [Journal::new(), Journal::new()],
        }
    }

    fn on_needles(&self) -> [OnNeedles<'_>; 2] {
        [0, 1].map(|i| OnNeedles {
            plan: &self.plan,
            trace: &self.trace,
            journal: &self.logs[i],
        })
    }

    fn push(&mut self, events: Vec<(Sock, Event)>) {
        for (sock, event) in events {
            self.logs[sock.index()].push(event, &self.trace);
        }
    }

    /// Touches the pad; `false` where nothing is left to do.
    fn touch(&mut self, counts: TouchCounts, now: u64) -> bool {
        let events = touched(self.on_needles(), Sock::First, counts, now);
        let any = !events.is_empty();
        self.push(events);
        any
    }

    fn undo(&mut self, together: bool, now: u64) {
        let socks = if together {
            last_moved(self.on_needles())
        } else {
            &[Sock::First]
        };
        let events = taken_back(self.on_needles(), socks, now);
        self.push(events);
    }

    fn stands(&self) -> [(Position, u8); 2] {
        [0, 1].map(|i| (self.logs[i].position(), self.logs[i].needles()))
    }
}

/// What an older Evenloop makes of a log: needles are letters it does not know.
fn read_by_an_older(log: &Journal, trace: &Trace) -> Journal {
    let past = |event: &Event| match event {
        Event::Needles(at, ..) | Event::NeedlesTakenBack(at, _) => {
            Event::Unknown(*at, "z:1".to_owned())
        }
        event => event.clone(),
    };
    let events: Vec<Event> = log.events().iter().map(past).collect();
    Journal::replay(&events, trace)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    /// Claims: by needle there are more touches and the same rounds; each lies where the simulator has it; Undo
    /// leads back through all of them; the log reads back, and an older reader is at the same rounds.
    #[test]
    fn a_sock_is_the_same_by_needle_and_by_round(recipe in knittable()) {
        let Ok(plan) = make(&recipe) else { return Ok(()) };
        let mut pair = Pair::of(plan);
        let mut seen = Vec::new();
        let mut time = 1_000;
        while let (at, needles) = pair.stands()[0] && at != pair.trace.end() {
            let place = WithinRound { at, needles: usize::from(needles) };
            prop_assert!(place.needles < needles_of_round(&pair.plan, &pair.trace, at));
            prop_assert!(pair.trace.needles_within(place).is_some(), "{place:?}");
            seen.push(pair.stands());
            time += 30;
            prop_assert!(pair.touch(TouchCounts::Needle, time));
            prop_assert!(seen.len() < 20_000, "it comes to no end");
        }
        prop_assert!(!pair.touch(TouchCounts::Needle, time));
        let log = pair.logs[0].clone();
        let rounds = log.events().iter().filter(|event| matches!(event, Event::Done(_))).count();
        let moves: usize = pair.trace.steps.iter().map(|step| step.moves.len()).sum();
        prop_assert_eq!(rounds, moves);
        prop_assert_eq!(read_by_an_older(&log, &pair.trace).position(), log.position());
        for (index, part) in (0..).zip(log.events().chunks(64)) {
            prop_assert_eq!(read_chunk(index, &write_chunk(index, part)), Ok(part.to_vec()));
        }
        while let Some(before) = seen.pop() {
            pair.undo(false, time);
            prop_assert_eq!(pair.stands(), before);
        }
        prop_assert!(!pair.logs[0].can_undo());
    }

    /// The same of two socks at a time: a needle is worked of both, and taken back of both.
    #[test]
    fn two_at_a_time_work_each_needle_of_both(recipe in knittable(), slow in 0_u64..3) {
        let seating = Seating::InstepAndSole;
        let recipe = Recipe { needles: Method::MagicLoop { seating }, ..recipe };
        let Ok(plan) = make(&recipe) else { return Ok(()) };
        let mut pair = Pair::of(plan);
        pair.push(vec![(Sock::First, Event::Together(0, true))]);
        let mut seen = Vec::new();
        let mut time = 1_000;
        while pair.stands().iter().any(|(at, _)| *at != pair.trace.end()) {
            seen.push(pair.stands());
            prop_assert!(pair.touch(TouchCounts::Needle, time));
            // hands can be quicker than the log's seconds
            time += slow;
            prop_assert!(seen.len() < 40_000, "it comes to no end");
            let [first, second] = pair.stands();
            if first.1 > 0 || second.1 > 0 {
                prop_assert_eq!(first, second, "half a round is half a round of both");
            }
        }
        while let Some(before) = seen.pop() {
            pair.undo(true, time);
            prop_assert_eq!(pair.stands(), before);
        }
    }

    /// A count in the middle of a round is right there; where only such a place has it, that is found, and at the
    /// round's beginning it is named first.
    #[test]
    fn half_a_round_is_found_by_its_count(recipe in knittable(), step in any::<prop::sample::Index>()) {
        let Ok(plan) = make(&recipe) else { return Ok(()) };
        let trace = Trace::of(&plan).expect("it can be knitted");
        let rounds: Vec<Position> = (0..trace.steps.len())
            .map(|step| Position { step, mv: 0 })
            .filter(|at| needles_of_round(&plan, &trace, *at) > 1)
            .collect();
        prop_assume!(!rounds.is_empty());
        let at = rounds[step.index(rounds.len())];
        for needles in 1..needles_of_round(&plan, &trace, at) {
            let place = WithinRound { at, needles };
            let counts = trace.needles_within(place).expect("a needle later").per_needle();
            prop_assert_eq!(check_within(&plan, &trace, place, &counts), [Finding::Right]);
            let of_round = &trace.steps[at.step];
            let whole = [of_round.before.per_needle(), of_round.after().per_needle()];
            if whole.iter().all(|whole| *whole != counts) {
                let found = seen::within_rounds(&plan, &trace, &counts);
                prop_assert!(found.contains(&place), "{found:?}");
                let first = check_within(&plan, &trace, at.into(), &counts)[0];
                prop_assert!(matches!(first, Finding::FitsWithin(one) if one.at == at), "{first:?}");
            }
        }
    }
}
