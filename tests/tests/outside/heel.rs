//! Flap, turn and gusset.

use evenloop_engine::plan::turned_count;
use evenloop_engine::recipe::{Direction, FlapTexture, Heel, HeelTurn, Method, Recipe, Seating};
use evenloop_tests::model::compare::by_hand_watched;
use evenloop_tests::model::hands::{Cell, Hands};
use evenloop_tests::model::page::Do;

use super::{PRACTICE, page, plan, rounds, sock_of};

struct RoundTurn {
    heel: u16,
    row_1_knit: u32,
    waiting_each_side: usize,
    rows: usize,
    last_omitted: bool,
    left: u16,
    source: &'static str,
}

const fn turn(
    heel: u16,
    row_1_knit: u32,
    waiting_each_side: usize,
    rows: usize,
    last_omitted: bool,
    left: u16,
    source: &'static str,
) -> RoundTurn {
    RoundTurn {
        heel,
        row_1_knit,
        waiting_each_side,
        rows,
        last_omitted,
        left,
        source,
    }
}

const BY_HAND: &str = "worked out by hand, row by row";
/// The published rule at other counts.
const BY_HAND_FROM_PUBLISHED: &str = "by hand from the rule of craicnyarn.com, 2016";
/// The round turn of 18 stitches: 4 unworked on each side, middle of 6, 7, 8, 9, 12 at the end.
const TURN_PUBLISHED: &str = "http://sheepshots.blogspot.com/2005/10/about-face.html";

const TURNS: [RoundTurn; 12] = [
    turn(18, 11, 4, 6, false, 12, TURN_PUBLISHED),
    turn(20, 12, 5, 8, true, 12, BY_HAND),
    turn(22, 13, 6, 8, false, 14, BY_HAND),
    turn(24, 14, 7, 10, true, 14, BY_HAND),
    turn(26, 15, 8, 10, false, 16, BY_HAND),
    turn(28, 16, 9, 12, true, 16, BY_HAND),
    turn(30, 17, 10, 12, false, 18, BY_HAND),
    turn(32, 18, 11, 14, true, 18, BY_HAND),
    turn(34, 19, 12, 14, false, 20, BY_HAND),
    turn(36, 20, 13, 16, true, 20, BY_HAND),
    turn(38, 21, 14, 16, false, 22, BY_HAND),
    turn(40, 22, 15, 18, true, 22, BY_HAND),
];

#[test]
fn the_round_turn_leaves_what_the_table_says() {
    for t in &TURNS {
        let recipe = sock_of(2 * t.heel);
        let page = page(&recipe);
        let rows = &page
            .sections
            .iter()
            .find(|s| s.kind == "heel-turn")
            .expect("it is there")
            .steps;
        let (heel, source) = (t.heel, t.source);
        let Some(Do::Knit(first)) = rows[0].moves[0].ops.first() else {
            panic!("{heel}: the first row does not begin with knitting");
        };
        assert_eq!(*first, t.row_1_knit, "{heel}: row 1 ({source})");
        assert_eq!(rows.len(), t.rows, "{heel}: rows ({source})");
        let decreases = rows
            .iter()
            .flat_map(|row| &row.moves[0].ops)
            .filter(|op| matches!(op, Do::Ssk | Do::P2tog | Do::K2tog))
            .count();
        assert_eq!(
            decreases, t.rows,
            "{heel}: one decrease in each row ({source})"
        );
        for (i, row) in rows.iter().enumerate() {
            let ops = &row.moves[0].ops;
            let before_turn = &ops[ops.len() - 2];
            let omitted = matches!(before_turn, Do::Ssk | Do::P2tog);
            let due = t.last_omitted && i + 2 >= t.rows;
            assert_eq!(
                omitted,
                due,
                "{heel}: the last stitch of row {} ({source})",
                i + 1
            );
        }
        assert_eq!(
            turned_count(t.heel, HeelTurn::Round),
            t.left,
            "{heel}: left ({source})"
        );
        assert_eq!(
            plan(&recipe).outcome.turned,
            t.left,
            "{heel}: left ({source})"
        );

        let mut after_row_2 = None;
        by_hand_watched(&recipe, &page, |section, row, hands| {
            if section.kind == "heel-turn" && row == 1 {
                after_row_2 = Some(waiting(hands));
            }
        })
        .expect("hands can do it");
        assert_eq!(
            after_row_2,
            Some([t.waiting_each_side; 2]),
            "{heel}: waiting ({source})"
        );
    }
}

/// Heel stitches that wait on either side of the turn's gaps.
fn waiting(hands: &Hands) -> [usize; 2] {
    let heel = &hands.needles[hands.needle];
    let gaps: Vec<usize> = heel
        .iter()
        .enumerate()
        .filter(|(_, c)| **c == Cell::Gap)
        .map(|(i, _)| i)
        .collect();
    let live = |cells: &[Cell]| cells.iter().filter(|c| matches!(c, Cell::Live(_))).count();
    match gaps[..] {
        [right, left] => [live(&heel[..right]), live(&heel[left..])],
        _ => panic!("there are {} gaps after two short rows", gaps.len()),
    }
}

/// `T(H) = H/2 + 2` for an even half, `H/2 + 3` for an odd one, by hand for every heel that a sock
/// of 32 to 120 stitches has.
#[test]
fn the_turns_closed_form_holds_for_every_heel() {
    for heel in (16..=60).step_by(2) {
        let half = heel / 2;
        let left = if half % 2 == 0 { half + 2 } else { half + 3 };
        assert_eq!(turned_count(heel, HeelTurn::Round), left, "heel of {heel}");
    }
}

/// The square turn keeps a middle third, an even number; the band turn does so on a flap that was
/// narrowed by six. Common practice, no source; the thirds are anyone's to recount.
/// Columns: flap stitches, left by the square turn, left by the band turn.
const THIRDS: [(u16, u16, u16, &str); 7] = [
    (18, 6, 4, PRACTICE),
    (24, 8, 6, PRACTICE),
    (28, 10, 8, PRACTICE),
    (30, 10, 8, PRACTICE),
    (32, 10, 8, PRACTICE),
    (36, 12, 10, PRACTICE),
    (40, 14, 12, PRACTICE),
];

#[test]
fn square_and_band_turns_leave_a_third() {
    for (heel, square, band, source) in THIRDS {
        for (turn, left) in [(HeelTurn::Square, square), (HeelTurn::Band, band)] {
            let mut recipe = sock_of(2 * heel);
            let Heel::FlapAndGusset { turn: chosen, .. } = &mut recipe.heel else {
                panic!("the usual heel has a flap");
            };
            *chosen = turn;
            assert_eq!(
                plan(&recipe).outcome.turned,
                left,
                "{turn:?} turn of {heel} ({source})"
            );
        }
    }
}

/// The first stitch of a flap's row is slipped with the yarn where it hangs after the turn: in front if the row before
/// ended in a knit stitch, behind if it ended in a purl one. So it goes round the edge once in two rows, and makes
/// the chains that are picked up from. Common practice, no source; anyone can see it on the needles. A slip "with the yarn on the
/// wrong side" has it in front where the wrong side faces.
#[test]
fn the_edge_of_a_flap_is_slipped_with_the_yarn_as_it_hangs() {
    let mut seen = 0;
    for direction in [Direction::CuffDown, Direction::ToeUp] {
        for texture in FlapTexture::ALL {
            for turn in HeelTurn::ALL {
                let recipe = Recipe {
                    direction,
                    heel: Heel::FlapAndGusset {
                        texture,
                        turn,
                        rows: None,
                        height: None,
                        corners: true,
                    },
                    ..sock_of(64)
                };
                let page = page(&recipe);
                let flap = page.sections.iter().find(|s| s.kind == "heel-flap");
                let rows = flap.expect("it is there").steps.iter();
                let rows: Vec<_> = rows.filter(|s| s.form.ends_with("row")).collect();
                for pair in rows.windows(2) {
                    let worked = |op: &&Do| !matches!(op, Do::Turn);
                    let last = pair[0].moves[0].ops.iter().rfind(worked);
                    let hangs_in_front = matches!(last, Some(Do::Knit(_) | Do::Ssk | Do::K2tog));
                    let wrong_side_faces = pair[1].form == "ws-row";
                    let in_front = match pair[1].moves[0].ops.first() {
                        Some(Do::Slip(_)) => wrong_side_faces,
                        Some(Do::SlipInFront(_)) => true,
                        other => panic!("{direction:?} {texture:?}: begins with {other:?}"),
                    };
                    assert_eq!(
                        in_front, hangs_in_front,
                        "{direction:?} {texture:?} {turn:?}"
                    );
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 300, "{seen} rows ({PRACTICE})");
}

struct Gusset {
    around: u16,
    rows: u16,
    per_side: u16,
    left: u16,
    peak: u16,
    decrease_rounds: usize,
    rounds: usize,
    source: &'static str,
}

/// One stitch for two rows (28 rows, 14 picked up), two decreases in every second round.
const GUSSET_PUBLISHED: &str = "craicnyarn.com, 2016";

/// Square flap, no corner stitches. Pick-up of one stitch for two rows and two decreases in every
/// second round: published by example (28 rows, 14 picked up; craicnyarn.com, 2016); the other
/// rows follow by arithmetic. The square flap on half the stitches: common practice, no source.
const GUSSETS: [Gusset; 9] = [
    Gusset {
        around: 48,
        rows: 24,
        per_side: 12,
        left: 14,
        peak: 62,
        decrease_rounds: 7,
        rounds: 14,
        source: BY_HAND_FROM_PUBLISHED,
    },
    Gusset {
        around: 52,
        rows: 26,
        per_side: 13,
        left: 16,
        peak: 68,
        decrease_rounds: 8,
        rounds: 16,
        source: BY_HAND_FROM_PUBLISHED,
    },
    Gusset {
        around: 56,
        rows: 28,
        per_side: 14,
        left: 16,
        peak: 72,
        decrease_rounds: 8,
        rounds: 16,
        source: GUSSET_PUBLISHED,
    },
    Gusset {
        around: 60,
        rows: 30,
        per_side: 15,
        left: 18,
        peak: 78,
        decrease_rounds: 9,
        rounds: 18,
        source: BY_HAND_FROM_PUBLISHED,
    },
    Gusset {
        around: 64,
        rows: 32,
        per_side: 16,
        left: 18,
        peak: 82,
        decrease_rounds: 9,
        rounds: 18,
        source: BY_HAND_FROM_PUBLISHED,
    },
    Gusset {
        around: 68,
        rows: 34,
        per_side: 17,
        left: 20,
        peak: 88,
        decrease_rounds: 10,
        rounds: 20,
        source: BY_HAND_FROM_PUBLISHED,
    },
    Gusset {
        around: 72,
        rows: 36,
        per_side: 18,
        left: 20,
        peak: 92,
        decrease_rounds: 10,
        rounds: 20,
        source: BY_HAND_FROM_PUBLISHED,
    },
    Gusset {
        around: 76,
        rows: 38,
        per_side: 19,
        left: 22,
        peak: 98,
        decrease_rounds: 11,
        rounds: 22,
        source: BY_HAND_FROM_PUBLISHED,
    },
    Gusset {
        around: 80,
        rows: 40,
        per_side: 20,
        left: 22,
        peak: 102,
        decrease_rounds: 11,
        rounds: 22,
        source: BY_HAND_FROM_PUBLISHED,
    },
];

fn corners(recipe: &mut Recipe) -> &mut bool {
    let Heel::FlapAndGusset { corners, .. } = &mut recipe.heel else {
        panic!("the usual heel has a flap");
    };
    corners
}

#[test]
fn the_gusset_is_what_the_table_says_on_every_kind_of_needles() {
    for g in &GUSSETS {
        for needles in Method::ALL {
            let mut recipe = Recipe {
                needles,
                ..sock_of(g.around)
            };
            // The published rule picks nothing up in the corners.
            *corners(&mut recipe) = false;
            let outcome = plan(&recipe).outcome;
            let (n, source) = (g.around, g.source);
            assert_eq!(
                outcome.flap_rows, g.rows,
                "{n}: rows of the flap ({source})"
            );
            assert_eq!(outcome.heel_stitches, n / 2, "{n}: stitches of the flap");
            assert_eq!(outcome.picked_up, g.per_side, "{n}: picked up ({source})");
            assert_eq!(outcome.turned, g.left, "{n}: left by the turn");
            assert_eq!(outcome.peak, g.peak, "{n}: most at once ({source})");
            assert_eq!(
                rounds(&page(&recipe), "gusset"),
                (g.rounds, g.decrease_rounds),
                "{n}"
            );

            // One more in each corner: two stitches and one decrease round more.
            *corners(&mut recipe) = true;
            assert_eq!(plan(&recipe).outcome.peak, g.peak + 2, "{n}: with corners");
            let with_corners = (g.rounds + 2, g.decrease_rounds + 1);
            assert_eq!(
                rounds(&page(&recipe), "gusset"),
                with_corners,
                "{n}: with corners"
            );
        }
    }
}

/// A gusset measures about a tenth more than the foot, and the heel's diagonal about 35 % more: survey
/// proportions, knitty.com/sizing.php. Where it is widest a gusset by the table reaches round the one and
/// is no wider than the other, with the stitches out of the corners too.
#[test]
fn a_gusset_is_as_wide_as_the_surveys_at_least_and_no_wider_than_the_heel() {
    for g in &GUSSETS {
        for picked_up_in_corners in [false, true] {
            let mut recipe = sock_of(g.around);
            *corners(&mut recipe) = picked_up_in_corners;
            let wider = u32::from(plan(&recipe).outcome.peak) * 100 / u32::from(g.around);
            assert!(
                (110..=135).contains(&wider),
                "{}: {wider} % of the foot",
                g.around
            );
        }
    }
}

/// Known case, common practice: 48 stitches, heel on 24, turn leaves 14 = 7 + 7,
/// instep 24 = 12 + 12.
#[test]
fn the_known_case_of_48_stitches() {
    let recipe = Recipe {
        needles: Method::MagicLoop {
            seating: Seating::EvenHalves,
        },
        ..sock_of(48)
    };
    let outcome = plan(&recipe).outcome;
    assert_eq!((outcome.heel_stitches, outcome.turned), (24, 14));
    let page = page(&recipe);
    let crossing = page
        .sections
        .iter()
        .find(|s| s.kind == "pick-up")
        .expect("it is there");
    let knitted: Vec<u32> = crossing
        .steps
        .iter()
        .flat_map(|s| &s.moves)
        .flat_map(|m| &m.ops)
        .filter_map(|op| if let Do::Knit(n) = op { Some(*n) } else { None })
        .collect();
    assert_eq!(
        knitted,
        [7, 7, 12, 12, 7],
        "halves of the turn, halves of the instep, the rest"
    );
    let mut after = Vec::new();
    by_hand_watched(&recipe, &page, |section, _, hands| {
        if section.kind == "pick-up" {
            after = hands.per_needle();
        }
    })
    .expect("hands can do it");
    // 7 and 12 of the flap, the corner, 12; the same on the other side
    assert_eq!(after, [32, 32]);
}

/// Short rows with double stitches leave a third plain in the middle, an even number; under a flap
/// from the toe up a half. Common practice, no source; thirds and halves are anyone's to recount.
/// Columns: heel stitches, plain in the middle of a short-row heel, of a turn from the toe up.
const SHORT_ROWS: [(u16, usize, usize, &str); 6] = [
    (18, 6, 10, PRACTICE),
    (24, 8, 12, PRACTICE),
    (28, 10, 14, PRACTICE),
    (30, 10, 16, PRACTICE),
    (32, 10, 16, PRACTICE),
    (36, 12, 18, PRACTICE),
];

#[test]
fn short_rows_leave_a_third_or_a_half_plain() {
    for (heel, third, half, source) in SHORT_ROWS {
        let short_row = Recipe {
            heel: Heel::ShortRow { between: 0 },
            ..sock_of(2 * heel)
        };
        let toe_up = Recipe {
            direction: Direction::ToeUp,
            ..sock_of(2 * heel)
        };
        for (recipe, kind, middle) in [
            (short_row, "short-row-heel", third),
            (toe_up, "heel-turn", half),
        ] {
            let mut most = 0;
            by_hand_watched(&recipe, &page(&recipe), |section, _, hands| {
                if section.kind == kind {
                    most = most.max(hands.doubles.len());
                }
            })
            .expect("hands can do it");
            assert_eq!(
                usize::from(heel) - most,
                middle,
                "{kind} of {heel} ({source})"
            );
        }
    }
}
