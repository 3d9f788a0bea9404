//! A pair by a written pattern has what any pair has: it is stored and read again, its counts are checked, every
//! touch can be taken back, and both socks can be knitted at a time.

use evenloop_engine::journal::{Event, Journal};
use evenloop_engine::plan::Plan;
use evenloop_engine::recipe::{Method, Seating};
use evenloop_engine::sock::by_pattern;
use evenloop_engine::tally::{Finding, check};
use evenloop_engine::text::pattern_finding;
use evenloop_engine::together::{OnNeedles, PairFit, Sock, WhoseTurn, fit, last_moved, turn};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::wire::{read_plan, write_plan};
use serde_json::Value;

use crate::corpus;
use crate::socks::{plan, socks};

/// A whole sock, and the same with a round that does not come out.
fn both() -> Vec<(&'static str, String)> {
    let (name, sound) = socks().swap_remove(0);
    let misprinted = sound.replacen("*K2, p2;", "*K2, p3;", 1);
    assert_ne!(sound, misprinted);
    vec![(name, sound), ("the same misprinted", misprinted)]
}

const ONE_EACH: Method = Method::MagicLoop {
    seating: Seating::InstepAndSole,
};

#[test]
fn it_is_stored_and_read_again() {
    for (name, text) in both() {
        for needles in Method::ALL {
            let (plan, _) = plan(name, &by_pattern(&text, needles));
            assert_eq!(
                read_plan(&write_plan(&plan)),
                Ok(plan),
                "{name}, {needles:?}"
            );
        }
    }
}

#[test]
fn its_counts_are_right_where_they_are_and_wrong_by_one_where_they_are_not() {
    for (name, text) in both() {
        let (plan, trace) = plan(name, &by_pattern(&text, Method::default()));
        let mut asked = 0;
        for step in 1..trace.steps.len() {
            let at = Position { step, mv: 0 };
            let counted = trace.steps[step - 1].after().per_needle();
            if counted.is_empty() || counted.contains(&0) {
                continue;
            }
            asked += 1;
            let found = check(&plan, &trace, at, &counted);
            assert_eq!(
                found.first(),
                Some(&Finding::Right),
                "{name}, {at:?}: {counted:?}"
            );
            let mut off = counted.clone();
            off[0] += 1;
            let found = check(&plan, &trace, at, &off);
            assert_ne!(
                found.first(),
                Some(&Finding::Right),
                "{name}, {at:?}: {off:?}"
            );
        }
        assert!(asked > 100, "{name}: {asked}");
    }
}

struct Pair {
    plan: Plan,
    trace: Trace,
    logs: [Journal; 2],
}

impl Pair {
    fn on_needles(&self) -> [OnNeedles<'_>; 2] {
        [0, 1].map(|i| OnNeedles {
            plan: &self.plan,
            trace: &self.trace,
            journal: &self.logs[i],
        })
    }

    fn places(&self) -> [Position; 2] {
        [0, 1].map(|i| self.logs[i].position())
    }
}

#[test]
fn both_socks_are_knitted_at_a_time_and_every_touch_can_be_taken_back() {
    for (name, text) in both() {
        let (plan, trace) = plan(name, &by_pattern(&text, ONE_EACH));
        assert_eq!(fit(&plan), PairFit::Fits);
        let logs = [Journal::new(), Journal::new()];
        let mut pair = Pair { plan, trace, logs };
        let (mut seen, mut at_once) = (Vec::new(), 0);
        while let Some(now) = turn(pair.on_needles()) {
            assert!(seen.len() < 5_000, "{name}: it comes to no end");
            seen.push((now.socks(), pair.places()));
            at_once += usize::from(now == WhoseTurn::Both);
            for sock in now.socks() {
                let time = u64::try_from(seen.len()).unwrap_or(0);
                pair.logs[sock.index()].push(Event::Done(time), &pair.trace);
            }
        }
        assert_eq!(pair.places(), [pair.trace.end(); 2], "{name}");
        assert!(at_once > 100, "{name}: {at_once}");
        // ripped back a long way, the first sock catches up alone
        let leg = Position { step: 20, mv: 0 };
        let mut ripped = pair.logs[0].clone();
        ripped.push(Event::GoTo(9_000, leg), &pair.trace);
        let [_, second] = &pair.logs;
        let alone = [&ripped, second].map(|journal| OnNeedles {
            plan: &pair.plan,
            trace: &pair.trace,
            journal,
        });
        assert_eq!(turn(alone), Some(WhoseTurn::CatchUp(Sock::First)), "{name}");
        while let Some((socks, places)) = seen.pop() {
            assert_eq!(last_moved(pair.on_needles()), socks, "{name}");
            for sock in socks {
                pair.logs[sock.index()].push(Event::Undo(10_000), &pair.trace);
            }
            assert_eq!(pair.places(), places, "{name}");
        }
    }
}

/// What was found is kept with the plan, at the line that is worked, and told in the same words; a plan of an earlier
/// Evenloop has none, and an earlier one reads past it.
#[test]
fn what_was_found_stays_with_the_plan() {
    let mut met = 0;
    for pattern in corpus() {
        let name = pattern.name;
        let planted = pattern.planted();
        for needles in Method::ALL {
            let (plan, _) = plan(name, &pattern.recipe(needles));
            let stored = write_plan(&plan);
            assert_eq!(read_plan(&stored), Ok(plan.clone()), "{name}");
            assert_eq!(plan.found.len(), planted.len(), "{name}: {:?}", plan.found);
            assert_eq!(stored.contains(r#""found":"#), !planted.is_empty());
            let worked = plan.sections.iter().flat_map(|s| &s.steps);
            let moves: Vec<_> = worked.flat_map(|step| &step.moves).collect();
            for found in &plan.found {
                let what = found.found().expect("this Evenloop knows it");
                assert!(!pattern_finding(&what).is_empty());
                met += usize::from(moves.iter().any(|mv| plan.found_in(mv).any(|f| f == found)));
            }
            let mut document: Value = serde_json::from_str(&stored).expect("JSON");
            document["found"] = Value::Null;
            document.as_object_mut().expect("an object").remove("found");
            let earlier = read_plan(&document.to_string()).expect("it is read all the same");
            assert_eq!(
                earlier,
                Plan {
                    found: Vec::new(),
                    ..plan
                }
            );
        }
    }
    assert!(met > 100, "{met} are told where their line is worked");
}
