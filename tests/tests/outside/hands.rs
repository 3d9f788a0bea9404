//! What hands know of casting on, binding off and loops. Where no source is named a row is common
//! practice; anyone can try it with a rope and two sticks.

use evenloop_engine::plan::Plan;
use evenloop_engine::recipe::{BindOff, CastOn, Direction, Heel, Recipe, Toe, ToeCastOn};
use evenloop_engine::units::Length;
use evenloop_tests::model::page::Do;

use super::{MEMORY, PRACTICE, page, plan, sock_of};

fn toe_up(toe_cast_on: ToeCastOn) -> Recipe {
    Recipe {
        direction: Direction::ToeUp,
        toe_cast_on,
        ..sock_of(64)
    }
}

/// Columns: cast-on, whether needle 1 and needle 2 are knitted through the back loop in the first
/// round, source.
const CLOSED: [(ToeCastOn, [bool; 2], &str); 2] = [
    (ToeCastOn::Magic, [false, true], MEMORY),
    (ToeCastOn::Wrapped, [false, false], MEMORY),
];

#[test]
fn each_needle_of_a_closed_cast_on_is_knitted_as_its_loops_lie() {
    for (cast_on, through_the_back, source) in CLOSED {
        let page = page(&toe_up(cast_on));
        let toe = page
            .sections
            .iter()
            .find(|s| s.kind == "toe")
            .expect("it is there");
        let first = toe
            .steps
            .iter()
            .find(|s| s.form == "round")
            .expect("a round");
        let needles: Vec<bool> = first.moves[0]
            .ops
            .split(|op| *op == Do::NextNeedle)
            .filter(|ops| !ops.is_empty())
            .map(|ops| ops.iter().all(|op| matches!(op, Do::KnitBack(_))))
            .collect();
        assert_eq!(needles, through_the_back, "{cast_on:?} ({source})");
    }
}

/// How many times the edge's width a tail is, without the 20 cm to hold and weave in. Columns: cast-on,
/// times, source.
const CAST_ON_TAILS: [(CastOn, u32, &str); 4] = [
    (CastOn::LongTail, 3, PRACTICE),
    (CastOn::TwistedLongTail, 4, MEMORY),
    (CastOn::KnittedOn, 0, PRACTICE),
    (CastOn::SlipKnot, 0, MEMORY),
];

/// The same for binding off.
const BIND_OFF_TAILS: [(BindOff, u32, &str); 4] = [
    (BindOff::Plain, 0, PRACTICE),
    (BindOff::Sewn, 3, PRACTICE),
    (BindOff::YarnOver, 0, PRACTICE),
    (BindOff::WorkedTogether, 0, MEMORY),
];

/// 64 stitches at 30 to 10 cm.
const EDGE_TENTHS: u32 = 2133;

fn is_the_tail(tail: Length, times: u32) -> bool {
    // told in whole centimetres or fives of them
    tail.0.abs_diff(times * EDGE_TENTHS + 2000) <= 260
}

#[test]
fn a_tail_is_so_many_times_the_edge() {
    for (cast_on, times, source) in CAST_ON_TAILS {
        let tail = plan(&Recipe {
            cast_on,
            ..sock_of(64)
        })
        .outcome
        .cast_on_tail;
        assert!(is_the_tail(tail, times), "{cast_on:?}: {tail} ({source})");
    }
    for (bind_off, times, source) in BIND_OFF_TAILS {
        let recipe = Recipe {
            bind_off,
            ..toe_up(ToeCastOn::Magic)
        };
        let tail = plan(&recipe).outcome.bind_off_tail;
        assert!(is_the_tail(tail, times), "{bind_off:?}: {tail} ({source})");
    }
}

/// Stitches left on each needle at the toe's end, for so many around.
const TOE_ENDS: [(u16, u16, &str); 9] = [
    (36, 6, PRACTICE),
    (48, 8, PRACTICE),
    (56, 8, PRACTICE),
    (60, 8, PRACTICE),
    (64, 8, PRACTICE),
    (72, 10, PRACTICE),
    (80, 10, PRACTICE),
    (88, 12, PRACTICE),
    (96, 12, PRACTICE),
];

#[test]
fn toes_end_as_the_table_says() {
    for (around, each, source) in TOE_ENDS {
        let ends = |plan: Plan| plan.outcome.graft_pairs;
        assert_eq!(ends(plan(&sock_of(around))), each, "{around} ({source})");
    }
}

/// A stitch picked up in each corner at both ends of the two needles of a late heel, and closed through
/// the back loop in the next round: common practice, no source.
#[test]
fn a_late_heel_picks_up_four_corner_stitches_and_closes_them() {
    let page = page(&Recipe {
        heel: Heel::Afterthought,
        toe: Toe::Round,
        ..sock_of(64)
    });
    let heel = page
        .sections
        .iter()
        .find(|s| s.kind == "late-heel")
        .expect("it is there");
    let rounds: Vec<_> = heel.steps.iter().filter(|s| s.form == "round").collect();
    let count = |round: usize, wanted: &Do| {
        rounds[round].moves[0]
            .ops
            .iter()
            .filter(|op| *op == wanted)
            .count()
    };
    assert_eq!(count(0, &Do::PickUpCorner), 4);
    assert_eq!(count(1, &Do::KnitBack(1)), 4);
}

/// The stretchiest way is the usual one from the toe up, since the edge has to pass the heel: common
/// practice, no source.
#[test]
fn a_sock_from_the_toe_up_is_bound_off_with_yarn_overs() {
    assert_eq!(Recipe::default().bind_off, BindOff::YarnOver);
}
