//! How a motif lies on the front, and how its rounds count.

use evenloop_engine::foot::Foot;
use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::recipe::{
    Direction, Girth, Method, Motif, MotifPlacement, Recipe, RoundsBy, Seating,
};
use evenloop_engine::stitch::Op;
use evenloop_engine::swatch::{PatternRounds, PatternSwatch, Swatch};
use evenloop_engine::text::{Wording, instructions};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::units::Length;
use evenloop_engine::written_ops::write_ops;

use super::{GAUGE, PRACTICE, plan};

#[allow(clippy::expect_used, reason = "the rows are written here")]
fn front(rows: &[&str], balance: u16, edge: u16) -> Motif {
    Motif {
        rows: rows.iter().map(|row| row.parse().expect("a row")).collect(),
        place: MotifPlacement::Front,
        balance,
        edge,
        ..Motif::default()
    }
}

fn sock(motif: Motif, needles: Method) -> Recipe {
    Recipe {
        foot: Foot {
            length: Length::cm(26),
            circumference: None,
            heel_diagonal: None,
        },
        motif: Some(motif),
        stitches: Some(64),
        needles,
        ..Recipe::default()
    }
}

/// The front in the first round of the leg.
fn first_front(plan: &Plan) -> String {
    let leg = plan.sections.iter().find(|s| s.kind == SectionKind::Leg);
    let ops = leg.map_or(&[][..], |leg| &leg.steps[0].moves[0].ops);
    let mut needles = ops.split(|op| *op == Op::Next);
    write_ops(needles.nth(1).unwrap_or_default())
}

const MAGIC: Method = Method::MagicLoop {
    seating: Seating::EvenHalves,
};

/// Rows of a repeat, its balancing and edge stitches; what lies on a front of 32, and why.
type Row<'a> = (&'a [&'a str], u16, u16, &'a str, &'a str);

/// A multiple so and so many plus what balances it, edge stitches beside it, as near to the middle as
/// whole stitches allow.
#[test]
fn a_panel_lies_in_the_middle_and_its_sides_are_alike() {
    let rows: [Row<'_>; 6] = [
        (&["p2 k4"], 2, 0, "row1 [p2 k4]5 p2", PRACTICE),
        (&["p2 k4"], 2, 1, "k2 p1 row1 [p2 k4]4 p2 p1 k2", PRACTICE),
        (&["k1 p1"], 1, 0, "row1 [k1 p1]15 k1 k1", PRACTICE),
        (
            &["p1 cr2/2 p1"],
            0,
            1,
            "p1 row1 [p1 cr2/2 p1]5 p1",
            PRACTICE,
        ),
        (&["k7"], 0, 2, "p2 row1 k28 p2", PRACTICE),
        // begun where its yarn overs lie within it, and as near to the middle as 25 of 32 can lie
        (
            &["k1 yo ssk k3 k2tog yo"],
            1,
            0,
            "k3 row1 [k2 k2tog yo k1 yo ssk k1]3 k1 k4",
            PRACTICE,
        ),
    ];
    for (repeat, balance, edge, due, source) in rows {
        let found = first_front(&plan(&sock(front(repeat, balance, edge), MAGIC)));
        assert_eq!(found, due, "{repeat:?}: {source}");
    }
}

/// Yarn overs at a needle's end slide off: the repeat is begun elsewhere where that helps (common practice,
/// no source); a mesh of nothing else is told how to be held.
#[test]
fn a_yarn_over_lies_at_a_needles_end_only_where_nothing_else_is_possible() {
    let lace = &[
        "k1 yo ssk k3 k2tog yo",
        "k8",
        "k2 yo ssk k1 k2tog yo k1",
        "k8",
    ];
    for needles in [
        MAGIC,
        Method::MagicLoop {
            seating: Seating::InstepAndSole,
        },
        Method::FourDpns,
        Method::FiveDpns,
    ] {
        for place in [MotifPlacement::Front, MotifPlacement::AllRound] {
            for direction in [Direction::CuffDown, Direction::ToeUp] {
                let motif = Motif {
                    place,
                    ..front(lace, 0, 0)
                };
                let plan = plan(&Recipe {
                    direction,
                    ..sock(motif, needles)
                });
                let moves = plan.sections.iter().flat_map(|s| &s.steps);
                for mv in moves.flat_map(|s| &s.moves) {
                    for needle in mv.ops.split(|op| *op == Op::Next) {
                        let told = write_ops(needle);
                        let ends = told.trim_end_matches(|c: char| c.is_ascii_digit() || c == ']');
                        let named = told.split_once("row").map_or("", |(before, _)| before);
                        let begins = told[named.len()..]
                            .trim_start_matches("row")
                            .trim_start_matches(|c: char| c.is_ascii_digit() || " [".contains(c));
                        let loose = ends.ends_with("yo")
                            || ends.ends_with("yo-")
                            || (named.is_empty() && begins.starts_with("yo"));
                        assert!(!loose, "{needles:?} {place:?}: {told}");
                    }
                }
            }
        }
    }
}

/// 25 rounds of 2 mm where 20 of 2.5 mm were: heel and toe of the foot are plain, the leg is not. By hand.
#[test]
fn patterned_rounds_count_where_the_pattern_is_worked() {
    let swatch = Swatch {
        rounds: 40,
        pattern_rounds: Some(PatternRounds {
            rounds: 50,
            height: Length::cm(10),
        }),
        ..GAUGE
    };
    let plain = plan(&Recipe {
        swatch: Swatch {
            pattern_rounds: None,
            ..swatch
        },
        ..sock(front(&["p2 k4"], 2, 0), MAGIC)
    });
    for (place, by, leg) in [
        // 16 cm less 5 of cuff, which is 20 rounds
        (MotifPlacement::AllRound, RoundsBy::Plain, 55),
        (MotifPlacement::Front, RoundsBy::Plain, 44),
        // half way between 2.5 and 2 mm: 110 / 2.25 = 48.9
        (MotifPlacement::Front, RoundsBy::Between, 49),
        (MotifPlacement::Front, RoundsBy::Pattern, 55),
    ] {
        let motif = Motif {
            place,
            rounds_by: by,
            ..front(&["k2 p2"], 0, 0)
        };
        let recipe = Recipe {
            swatch,
            leg: Length::cm(16),
            cuff: evenloop_engine::recipe::Cuff {
                length: Length::cm(5),
                ..Recipe::default().cuff
            },
            ..sock(motif, MAGIC)
        };
        let outcome = plan(&recipe).outcome;
        let rounds = |kind| super::steps(&outcome, kind);
        assert_eq!(rounds(SectionKind::Cuff), 20);
        assert_eq!(rounds(SectionKind::Leg), leg, "{place:?} {by:?}");
        assert!(
            outcome.leg_length.0.abs_diff(1600) <= 13,
            "{}",
            outcome.leg_length
        );
        assert!(
            outcome.foot_length.0.abs_diff(2500) <= 13,
            "{}",
            outcome.foot_length
        );
        let instep = rounds(SectionKind::Gusset) + rounds(SectionKind::Foot);
        let before = super::steps(&plain.outcome, SectionKind::Gusset)
            + super::steps(&plain.outcome, SectionKind::Foot);
        assert_eq!(instep > before, by != RoundsBy::Plain, "{place:?} {by:?}");
    }
}

/// A front that draws in by a fifth is made up for at the back: 32 stitches at 0.8 of 3.33 mm are 85 mm, the
/// calf of 30 cm less 10 % wants 270, so 185 mm of plain back: 55.5 stitches, 11.7 pairs more than 32. By hand.
#[test]
fn a_calf_behind_a_narrow_front_has_more_stitches() {
    let top = |pattern| {
        let recipe = Recipe {
            swatch: Swatch { pattern, ..GAUGE },
            leg: Length::cm(30),
            calf: vec![Girth {
                height: Length::cm(20),
                circumference: Length::cm(30),
            }],
            ..sock(front(&["p2 k4 p2"], 0, 0), MAGIC)
        };
        plan(&recipe).outcome.cast_on
    };
    let narrow = PatternSwatch {
        stitches: 30,
        width: Length::cm(8),
    };
    let alike = PatternSwatch {
        width: Length::cm(10),
        ..narrow
    };
    // 270 mm are 81 stitches: 8.5 pairs more than 64, an even number of them at the cuff
    assert_eq!(top(Some(alike)), 64 + 2 * 10);
    assert_eq!(top(Some(narrow)), 64 + 2 * 12);
}

/// A panel that is odd on an even front, or even on an odd one, has one plain stitch more on one side: said
/// once, where it begins, with what would put it in the middle (common practice, no source). A panel that
/// has balancing stitches is meant as it is.
#[test]
fn a_panel_half_a_stitch_off_the_middle_is_called_so_once() {
    let said = "The panel of 27 stitches lies half a stitch off the middle: 2 plain stitches before it, 3 plain stitches after it. A balancing stitch would put it in the middle.";
    let meant = "The panel of 29 stitches lies half a stitch off the middle: 1 plain stitch before it, 2 plain stitches after it.";
    for (balance, edge, due) in [
        (0, 0, Some(said)),
        (1, 0, None),
        (2, 0, Some(meant)),
        (1, 1, None),
    ] {
        for direction in [Direction::CuffDown, Direction::ToeUp] {
            let plan = plan(&Recipe {
                direction,
                ..sock(front(&["p2 k7", "p2 k7"], balance, edge), MAGIC)
            });
            let trace = Trace::of(&plan).expect("it can be knitted");
            let moves = trace.steps.iter().enumerate();
            let places =
                moves.flat_map(|(step, s)| (0..s.moves.len()).map(move |mv| Position { step, mv }));
            let notes = places.filter_map(|at| {
                instructions(&plan, &trace, at, Wording::default()).and_then(|said| said.note)
            });
            let found: Vec<String> = notes.filter(|n| n.contains("off the middle")).collect();
            assert_eq!(
                found.len(),
                usize::from(due.is_some()),
                "{balance} {edge}: {found:?}"
            );
            if let (Some(due), Some(found)) = (due, found.first()) {
                let ends = found
                    .split(due)
                    .nth(1)
                    .map(|rest| rest.contains("balancing"));
                assert_eq!(ends, Some(false), "{found}");
            }
        }
    }
}
