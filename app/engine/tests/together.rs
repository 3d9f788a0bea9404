//! Laws of two at a time: both socks are knitted whole, in an order that needles allow, and whatever
//! was touched can be taken back touch by touch.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

#[allow(dead_code)] // shared with the other laws
mod any;

use any::knittable;
use evenloop_engine::journal::{Event, Journal};
use evenloop_engine::plan::{Plan, SectionKind, StepForm, make};
use evenloop_engine::recipe::{Method, Recipe, Seating};
use evenloop_engine::together::{OnNeedles, PairFit, Sock, WhoseTurn, fit, last_moved, turn};
use evenloop_engine::trace::{Position, Trace};
use proptest::prelude::*;

/// A pair on its needles.
struct Pair {
    plans: [Plan; 2],
    traces: [Trace; 2],
    logs: [Journal; 2],
}

impl Pair {
    fn of(plans: [Plan; 2]) -> Self {
        let traces = [0, 1].map(|i| Trace::of(&plans[i]).expect("it can be knitted"));
        let logs = [Journal::new(), Journal::new()];
        Self {
            plans,
            traces,
            logs,
        }
    }

    fn on_needles(&self) -> [OnNeedles<'_>; 2] {
        [0, 1].map(|i| OnNeedles {
            plan: &self.plans[i],
            trace: &self.traces[i],
            journal: &self.logs[i],
        })
    }

    fn turn(&self) -> Option<WhoseTurn> {
        turn(self.on_needles())
    }

    fn push(&mut self, sock: Sock, event: Event) {
        let i = sock.index();
        self.logs[i].push(event, &self.traces[i]);
    }

    fn places(&self) -> [Position; 2] {
        [0, 1].map(|i| self.logs[i].position())
    }

    /// What a sock does next.
    fn next(&self, sock: Sock) -> (SectionKind, StepForm, usize) {
        let (i, at) = (sock.index(), self.logs[sock.index()].position());
        let seen = &self.traces[i].steps[at.step];
        let form = self.plans[i].step(at.step).expect("a step").form;
        (seen.kind, form, seen.index)
    }
}

/// Both socks of a recipe, seated so that they fit on one needle.
fn plans(recipe: Recipe, loops: bool) -> Option<[Plan; 2]> {
    let seating = Seating::InstepAndSole;
    let needles = if loops {
        Method::MagicLoop { seating }
    } else {
        Method::TwoCirculars { seating }
    };
    let first = Recipe { needles, ..recipe };
    let second = first.second_sock().unwrap_or_else(|| first.clone());
    Some([make(&first).ok()?, make(&second).ok()?])
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// Claims: touched until nothing is left, both logs say the same as two socks knitted one after the
    /// other, no touch was for nothing, and undoing each touch leads back through every pair of places.
    #[test]
    fn both_socks_are_knitted_whole_and_every_touch_can_be_taken_back(
        recipe in knittable(), loops in any::<bool>(), slow in 0_u64..3,
    ) {
        let Some(plans) = plans(recipe, loops) else { return Ok(()) };
        let mut pair = Pair::of(plans);
        let mut seen = Vec::new();
        let most: usize = pair.traces.iter().flat_map(|t| &t.steps).map(|s| s.moves.len()).sum();
        let mut time = 1_000;
        while let Some(now) = pair.turn() {
            prop_assert!(seen.len() < most, "it comes to no end");
            prop_assert!(!matches!(now, WhoseTurn::CatchUp(_)) || pair.plans[0] != pair.plans[1],
                "{now:?}: alike and level, nobody is behind");
            if now == WhoseTurn::Both {
                prop_assert_eq!(pair.next(Sock::First), pair.next(Sock::Second));
            }
            seen.push((now.socks(), pair.places()));
            for sock in now.socks() {
                pair.push(*sock, Event::Done(time));
            }
            // hands can be quicker than the log's seconds
            time += slow;
        }
        for (i, trace) in pair.traces.iter().enumerate() {
            let mut alone = Journal::new();
            while alone.position() != trace.end() {
                alone.push(Event::Done(0), trace);
            }
            prop_assert_eq!(alone.events().len(), pair.logs[i].events().len());
            prop_assert_eq!(pair.logs[i].position(), trace.end());
        }
        while let Some((socks, places)) = seen.pop() {
            prop_assert_eq!(last_moved(pair.on_needles()), socks, "at {:?}", places);
            for sock in socks {
                pair.push(*sock, Event::Undo(time));
            }
            prop_assert_eq!(pair.places(), places);
        }
        prop_assert!(last_moved(pair.on_needles()).is_empty());
    }

    /// Claims: a sock that is behind is worked alone, and only until both are level.
    #[test]
    fn a_sock_that_is_behind_catches_up(recipe in knittable(), back in 0_usize..60, second in any::<bool>()) {
        let Some(plans) = plans(recipe, true) else { return Ok(()) };
        let mut pair = Pair::of(plans);
        let leg = pair.traces[0].steps.iter().rposition(|s| s.kind == SectionKind::Leg);
        let leg = Position { step: leg.unwrap_or(0), mv: 0 };
        let Some(place) = pair.traces[1].counterpart(&pair.traces[0], leg) else { return Ok(()) };
        pair.push(Sock::First, Event::GoTo(5, leg));
        pair.push(Sock::Second, Event::GoTo(5, place));
        prop_assert_eq!(last_moved(pair.on_needles()), &Sock::BOTH);
        let sock = if second { Sock::Second } else { Sock::First };
        let ripped = Position { step: leg.step.saturating_sub(back), mv: 0 };
        pair.push(sock, Event::GoTo(9, ripped));
        let mut touches = 0;
        while let Some(WhoseTurn::CatchUp(one)) = pair.turn() {
            prop_assert_eq!(one, sock);
            pair.push(sock, Event::Done(10 + touches));
            touches += 1;
        }
        prop_assert!(touches > 0 || back == 0 || leg.step == 0 || matches!(pair.turn(), Some(WhoseTurn::InTurn(_))));
        prop_assert_eq!(pair.logs[sock.other().index()].events().len(), 1, "the other waits");
    }
}

#[test]
fn flap_rows_go_together_and_the_turn_one_after_the_other() {
    use SectionKind::{CastOn, Close, Cuff, Foot, Gusset, HeelFlap, HeelTurn, Leg, PickUp, Toe};
    let recipe = Recipe {
        stitches: Some(48),
        ..Recipe::default()
    };
    assert!(matches!(
        fit(&make(&recipe).expect("a sock")),
        PairFit::Seated(Method::MagicLoop {
            seating: Seating::InstepAndSole
        })
    ));
    let mut pair = Pair::of(plans(recipe, true).expect("a pair"));
    let mut told: Vec<(SectionKind, WhoseTurn)> = Vec::new();
    let mut time = 0;
    while let Some(now) = pair.turn() {
        let kind = pair.next(now.sock()).0;
        if told.last() != Some(&(kind, now)) {
            told.push((kind, now));
        }
        time += 60;
        for sock in now.socks() {
            pair.push(*sock, Event::Done(time));
        }
    }
    let (first, second) = (
        WhoseTurn::InTurn(Sock::First),
        WhoseTurn::InTurn(Sock::Second),
    );
    assert_eq!(
        told,
        [
            (CastOn, first),
            (CastOn, second),
            (Cuff, WhoseTurn::Both),
            (Leg, WhoseTurn::Both),
            (HeelFlap, WhoseTurn::Both),
            (HeelTurn, first),
            (HeelTurn, second),
            // heel and left edge, turn, instep, turn, right edge and sole, turn, instep
            (PickUp, first),
            (PickUp, second),
            (PickUp, first),
            (PickUp, second),
            (PickUp, first),
            (Gusset, WhoseTurn::Both),
            (Foot, WhoseTurn::Both),
            (Toe, WhoseTurn::Both),
            (Close, first),
            (Close, second),
        ]
    );
}
