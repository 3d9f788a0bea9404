//! What hands know of casting on, binding off and loops. Where no source is named a row is common
//! practice; anyone can try it with a rope and two sticks.

use evenloop_engine::plan::{Caution, Plan, SectionKind};
use evenloop_engine::recipe::{
    BindOff, CastOn, Cuff, Direction, Edge, Heel, HeelOpening, Method, Recipe, Rib, Stretch, Toe,
    ToeCastOn,
};
use evenloop_engine::text::{Wording, instructions};
use evenloop_engine::trace::{Position, Trace};
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
    (ToeCastOn::Wrapped, [false, false], WOUND_FROM_BEHIND),
];
/// Wound up behind both needles and down before them, the points to the right, each stitch has its right leg in
/// front; after the last time the yarn goes between the needles.
const WOUND_FROM_BEHIND: &str = "picturehealer.com and knitting.about.com, Turkish cast on";

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
const CAST_ON_TAILS: [(CastOn, u32, &str); 5] = [
    (CastOn::LongTail, 3, PRACTICE),
    (CastOn::TwistedLongTail, 4, MEMORY),
    (CastOn::Tubular, 3, MEMORY),
    (CastOn::KnittedOn, 0, PRACTICE),
    (CastOn::SlipKnot, 0, MEMORY),
];

/// The same for binding off.
const BIND_OFF_TAILS: [(BindOff, u32, &str); 5] = [
    (BindOff::Plain, 0, PRACTICE),
    (BindOff::Sewn, 3, PRACTICE),
    // a row of grafted stitches; as for the toe's graft
    (BindOff::Tubular, 4, PRACTICE),
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
        heel: Heel::Afterthought {
            opening: HeelOpening::WasteYarn,
        },
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

/// How each loop of a tubular cast-on is worked in its two rounds: the knit loops, laid by the strand
/// behind with their right leg behind the needle, are knitted through the back loop and the purl loops slipped with
/// the yarn in front; then the other way round, with the yarn behind. From memory; anyone can lay the
/// two strands with a rope.
#[test]
fn a_tubular_edge_works_each_kind_of_loop_by_itself() {
    for (rib, crosses) in [
        (Rib::OneByOne, false),
        (Rib::Twisted, false),
        (Rib::TwoByTwo, true),
    ] {
        let recipe = |direction| Recipe {
            direction,
            cast_on: CastOn::Tubular,
            bind_off: BindOff::Tubular,
            cuff: Cuff {
                edge: Edge::Rib(rib),
                ..Cuff::default()
            },
            ..sock_of(64)
        };
        let down = cuff_rounds(&recipe(Direction::CuffDown));
        let up = cuff_rounds(&recipe(Direction::ToeUp));
        let by_turns = |knit: Do, purl: Do| -> Vec<Do> {
            std::iter::repeat_n([knit, purl], 32).flatten().collect()
        };
        let last = up.len() - 1;
        let rows = [
            (&down[0], by_turns(Do::KnitBack(1), Do::SlipInFront(1))),
            (&down[1], by_turns(Do::Slip(1), Do::Purl(1))),
            (&up[last - 1], by_turns(Do::Knit(1), Do::SlipInFront(1))),
            (&up[last], by_turns(Do::Slip(1), Do::Purl(1))),
        ];
        for (nth, (is, due)) in rows.into_iter().enumerate() {
            assert_eq!(is, &due, "{rib:?}, row {nth} ({MEMORY})");
        }
        // Two rounds that work each stitch once are one round high (worked out by hand).
        let plain = |direction| {
            cuff_rounds(&Recipe {
                cast_on: CastOn::LongTail,
                bind_off: BindOff::YarnOver,
                ..recipe(direction)
            })
            .len()
        };
        assert_eq!(down.len(), plain(Direction::CuffDown) + 1, "{rib:?}");
        assert_eq!(up.len(), plain(Direction::ToeUp) + 1, "{rib:?}");
        // A rib of two and two wants one stitch in four to change places with its neighbour, the knit one
        // in front.
        let crossed = |round: &[Do]| {
            let cross = |op: &&Do| {
                matches!(
                    op,
                    Do::Cross {
                        over: 1,
                        under: 1,
                        purl: true,
                        ..
                    }
                )
            };
            round.iter().filter(cross).count()
        };
        let due = if crosses { 16 } else { 0 };
        assert_eq!(crossed(&down[2]), due, "{rib:?} ({PRACTICE})");
        assert_eq!(crossed(&up[last - 2]), due, "{rib:?} ({PRACTICE})");
    }
}

/// The operations of each round of the cuff, without needle ends.
fn cuff_rounds(recipe: &Recipe) -> Vec<Vec<Do>> {
    let page = page(recipe);
    let cuff = page.sections.iter().find(|s| s.kind == "cuff");
    let rounds = cuff.map(|cuff| &cuff.steps[..]).unwrap_or_default().iter();
    rounds
        .filter(|step| step.form == "round")
        .map(|step| {
            let ops = step.moves[0].ops.iter();
            ops.filter(|op| **op != Do::NextNeedle).cloned().collect()
        })
        .collect()
}

/// What has to be told to who casts on so for the first time: how it begins, where the strands are, round what
/// the needle goes. The long-tail one has its frames.
const CAST_ONS_TOLD: [(CastOn, &[&str], &str); 4] = [
    (
        CastOn::TwistedLongTail,
        &[
            "the tail round the thumb",
            "over the index finger",
            "under both strands of the thumb’s loop",
            "over the far one down into the loop",
            "draw the strand down through it",
        ],
        PRACTICE,
    ),
    (
        CastOn::KnittedOn,
        &["Begin with a slip knot", "out of the one before"],
        PRACTICE,
    ),
    (CastOn::SlipKnot, &["put it onto the needle"], MEMORY),
    (
        CastOn::Tubular,
        &["slip knot", "over the thumb", "over the index finger"],
        MEMORY,
    ),
];

#[test]
fn a_cast_on_is_told_from_its_first_loop() {
    for (cast_on, told, source) in CAST_ONS_TOLD {
        let recipe = Recipe {
            cast_on,
            ..sock_of(64)
        };
        let note = note(&recipe, Position { step: 0, mv: 0 });
        for words in told {
            assert!(note.contains(words), "{words:?} ({source}): {note}");
        }
    }
}

/// A turn leaves a gap, and later rows work what lies beside it together; stitches just picked up are knitted
/// through the back loop once. Common practice, no source.
#[test]
fn a_knitter_of_a_first_heel_is_told_what_her_hands_do() {
    for needles in Method::ALL {
        let recipe = Recipe {
            needles,
            ..sock_of(64)
        };
        let plan = plan(&recipe);
        let first_of = |kind| {
            let sections = plan.sections.iter().take_while(|s| s.kind != kind);
            let step = sections.map(|s| s.steps.len()).sum();
            note(&recipe, Position { step, mv: 0 })
        };
        let turn = first_of(SectionKind::HeelTurn);
        assert!(
            turn.contains(
                "Each turn leaves a gap; later rows work the two stitches beside it together"
            ),
            "{turn}"
        );
        let gusset = first_of(SectionKind::Gusset);
        assert!(
            gusset.contains("picked-up stitches are knitted through the back loop this once"),
            "{needles:?}: {gusset}"
        );
    }
}

fn note(recipe: &Recipe, at: Position) -> String {
    let plan = plan(recipe);
    let trace = Trace::of(&plan).ok();
    let said = trace.and_then(|trace| instructions(&plan, &trace, at, Wording::default()));
    said.and_then(|said| said.note).unwrap_or_default()
}

/// How far edges stretch beside each other, least first: common practice, no source, but where a row
/// says from memory.
const CAST_ONS_BY_STRETCH: [(CastOn, Stretch, &str); 5] = [
    (CastOn::KnittedOn, Stretch::Firm, PRACTICE),
    (CastOn::LongTail, Stretch::Usual, PRACTICE),
    (CastOn::Tubular, Stretch::AsRib, PRACTICE),
    (CastOn::TwistedLongTail, Stretch::Most, PRACTICE),
    (CastOn::SlipKnot, Stretch::Most, MEMORY),
];

/// The same for binding off.
const BIND_OFFS_BY_STRETCH: [(BindOff, Stretch, &str); 5] = [
    (BindOff::Plain, Stretch::Firm, PRACTICE),
    (BindOff::WorkedTogether, Stretch::Usual, MEMORY),
    (BindOff::Sewn, Stretch::AsRib, PRACTICE),
    (BindOff::Tubular, Stretch::AsRib, PRACTICE),
    (BindOff::YarnOver, Stretch::Most, PRACTICE),
];

#[test]
fn edges_stretch_in_the_order_of_the_tables() {
    for (cast_on, stretch, source) in CAST_ONS_BY_STRETCH {
        assert_eq!(cast_on.stretch(), stretch, "{cast_on:?} ({source})");
    }
    for (bind_off, stretch, source) in BIND_OFFS_BY_STRETCH {
        assert_eq!(bind_off.stretch(), stretch, "{bind_off:?} ({source})");
    }
    assert!(CAST_ONS_BY_STRETCH.is_sorted_by_key(|row| row.1));
    assert!(BIND_OFFS_BY_STRETCH.is_sorted_by_key(|row| row.1));
}

/// A firm edge is warned of where it has far to stretch, a stretchy one never: common practice, no source.
#[test]
fn only_a_firm_edge_is_warned_of() {
    let warns = |recipe: &Recipe| plan(recipe).outcome.cautions.contains(&Caution::FirmEdge);
    for (cast_on, stretch, source) in CAST_ONS_BY_STRETCH {
        let recipe = Recipe {
            cast_on,
            ..Recipe::default()
        };
        assert_eq!(
            warns(&recipe),
            stretch == Stretch::Firm,
            "{cast_on:?} ({source})"
        );
    }
    for (bind_off, stretch, source) in BIND_OFFS_BY_STRETCH {
        let recipe = Recipe {
            direction: Direction::ToeUp,
            bind_off,
            ..Recipe::default()
        };
        assert_eq!(
            warns(&recipe),
            stretch == Stretch::Firm,
            "{bind_off:?} ({source})"
        );
        // A hem's live stitches are sewn down, whatever else was chosen.
        let hem = Recipe {
            cuff: Cuff {
                edge: Edge::Hem { picot: false },
                ..Cuff::default()
            },
            ..recipe
        };
        assert!(!warns(&hem), "{bind_off:?} under a hem ({PRACTICE})");
    }
}

/// A hem from the toe up: every live stitch is sewn down, none bound off, with a thread of three times the edge.
/// Common practice, no source.
#[test]
fn a_hem_from_the_toe_up_is_sewn_from_live_stitches() {
    for picot in [false, true] {
        let recipe = Recipe {
            cuff: Cuff {
                edge: Edge::Hem { picot },
                ..Cuff::default()
            },
            ..toe_up(ToeCastOn::Magic)
        };
        let page = page(&recipe);
        let last = page.sections.last().expect("an end");
        let ops: Vec<&Do> = last
            .steps
            .iter()
            .flat_map(|s| &s.moves)
            .flat_map(|m| &m.ops)
            .collect();
        assert!(ops.contains(&&Do::SewDown(64)), "{ops:?} ({PRACTICE})");
        assert!(!ops.iter().any(|op| matches!(op, Do::BindOff(_))));
        assert!(
            is_the_tail(plan(&recipe).outcome.bind_off_tail, 3),
            "({PRACTICE})"
        );
    }
}

/// A chain of waste yarn takes nothing of the sock's own yarn, and gives as many loops back as were laid:
/// one fewer whole ones and half a one at the end. Worked out by hand, like the loops above a waste yarn.
#[test]
fn a_provisional_cast_on_takes_no_yarn_and_gives_its_loops_back() {
    let toe = |toe_cast_on| Recipe {
        toe: Toe::ShortRow,
        ..toe_up(toe_cast_on)
    };
    let chained = plan(&toe(ToeCastOn::Provisional)).outcome;
    let magic = plan(&toe(ToeCastOn::Magic)).outcome;
    assert_eq!(chained.stitches, magic.stitches);
    assert_eq!(
        magic.stitches_worked - chained.stitches_worked,
        64,
        "two loops a pair"
    );
    let page = page(&toe(ToeCastOn::Provisional));
    let steps = page.sections.iter().flat_map(|s| &s.steps);
    let mut opened = steps.flat_map(|s| &s.moves).flat_map(|m| &m.ops);
    assert!(opened.any(|op| *op == Do::OpenProvisional(32)));
}

/// The loops on both sides of a snipped row are those of a row of waste yarn: the sole's row and the leg's.
/// Common practice, no source.
#[test]
fn a_snipped_row_is_opened_like_one_of_waste_yarn() {
    let heel = |opening| Recipe {
        heel: Heel::Afterthought { opening },
        ..sock_of(64)
    };
    let late = |recipe: &Recipe| {
        let page = page(recipe);
        let late = page.sections.into_iter().find(|s| s.kind == "late-heel");
        late.expect("it is there").steps[1..].to_vec()
    };
    let [snipped, waste] = HeelOpening::ALL.map(|opening| late(&heel(opening)));
    assert_eq!(snipped, waste, "({PRACTICE})");
    let page = page(&heel(HeelOpening::Snipped));
    let any = |wanted: &dyn Fn(&Do) -> bool| {
        let steps = page.sections.iter().flat_map(|s| &s.steps);
        steps
            .flat_map(|s| &s.moves)
            .flat_map(|m| &m.ops)
            .any(wanted)
    };
    assert!(any(&|op| *op == Do::Snip(32)));
    assert!(!any(&|op| matches!(op, Do::Waste(_) | Do::OpenWaste(_))));
}

/// The stretchiest way is the usual one from the toe up, since the edge has to pass the heel: common
/// practice, no source.
#[test]
fn a_sock_from_the_toe_up_is_bound_off_with_yarn_overs() {
    assert_eq!(Recipe::default().bind_off, BindOff::YarnOver);
}
