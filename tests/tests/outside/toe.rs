//! Toes and what is left to close.

use evenloop_engine::plan::SectionKind;
use evenloop_engine::recipe::{Narrowing, Recipe, Toe};
use evenloop_tests::model::page::Do;

use super::{PRACTICE, page, plan, rounds, sock_of};

/// A round toe ends on eight stitches drawn closed, and is as long as the usual wedge: common
/// practice, no source.
#[test]
fn a_round_toe_draws_eight_stitches_closed() {
    for w in &WEDGES {
        let recipe = Recipe {
            toe: Toe::Round,
            ..sock_of(w.around)
        };
        let page = page(&recipe);
        assert_eq!(rounds(&page, "toe").0, w.rounds, "{}: rounds", w.around);
        let close = page
            .sections
            .iter()
            .find(|s| s.kind == "close")
            .expect("it is there");
        let closing: Vec<&Do> = close
            .steps
            .iter()
            .flat_map(|s| &s.moves)
            .flat_map(|m| &m.ops)
            // markers have nothing to do with the published count
            .filter(|op| !matches!(op, Do::TakeOff(_)))
            .collect();
        assert_eq!(closing, [&Do::Draw(8), &Do::FastenOff], "{}", w.around);
    }
}

struct Wedge {
    around: u16,
    every_second: usize,
    every: usize,
    pairs: u16,
    rounds: usize,
    tenths_of_mm: u32,
    source: &'static str,
}

/// Four decreases every second round while half the stitches remain, then every round to a quarter of
/// them, but not below 16. Common practice, no source (a published variant changes after the first third instead:
/// nearlywrong.blogspot.com, 2010); the rows follow by arithmetic, the lengths at 42 rounds to
/// 10 cm.
const WEDGES: [Wedge; 7] = [
    Wedge {
        around: 48,
        every_second: 6,
        every: 2,
        pairs: 8,
        rounds: 14,
        tenths_of_mm: 330,
        source: PRACTICE,
    },
    Wedge {
        around: 56,
        every_second: 7,
        every: 3,
        pairs: 8,
        rounds: 17,
        tenths_of_mm: 400,
        source: PRACTICE,
    },
    Wedge {
        around: 60,
        every_second: 7,
        every: 4,
        pairs: 8,
        rounds: 18,
        tenths_of_mm: 430,
        source: PRACTICE,
    },
    Wedge {
        around: 64,
        every_second: 8,
        every: 4,
        pairs: 8,
        rounds: 20,
        tenths_of_mm: 480,
        source: PRACTICE,
    },
    Wedge {
        around: 68,
        every_second: 8,
        every: 4,
        pairs: 10,
        rounds: 20,
        tenths_of_mm: 480,
        source: PRACTICE,
    },
    Wedge {
        around: 72,
        every_second: 9,
        every: 4,
        pairs: 10,
        rounds: 22,
        tenths_of_mm: 520,
        source: PRACTICE,
    },
    Wedge {
        around: 80,
        every_second: 10,
        every: 5,
        pairs: 10,
        rounds: 25,
        tenths_of_mm: 600,
        source: PRACTICE,
    },
];

#[test]
fn the_rounded_wedge_toe_is_what_the_table_says() {
    for w in &WEDGES {
        let recipe = sock_of(w.around);
        assert_eq!(
            recipe.toe,
            Toe::Wedge {
                narrowing: Narrowing::Rounded
            }
        );
        let (n, source) = (w.around, w.source);
        let page = page(&recipe);
        assert_eq!(
            rounds(&page, "toe"),
            (w.rounds, w.every_second + w.every),
            "{n} ({source})"
        );
        // A decrease round is followed by a plain one so many times, and then by none.
        let toe = &page
            .sections
            .iter()
            .find(|s| s.kind == "toe")
            .expect("it is there")
            .steps;
        let plain = toe
            .iter()
            .filter(|s| {
                !s.moves[0]
                    .ops
                    .iter()
                    .any(|op| matches!(op, Do::K2tog | Do::Ssk))
            })
            .count();
        assert_eq!(plain, w.every_second, "{n}: plain rounds");
        let outcome = plan(&recipe).outcome;
        assert_eq!(outcome.graft_pairs, w.pairs, "{n}: left to graft");
        let toe = outcome
            .sections
            .iter()
            .find(|s| s.kind == SectionKind::Toe)
            .expect("it is there");
        // The table prints whole millimetres.
        assert!(
            toe.length.0.abs_diff(w.tenths_of_mm) <= 50,
            "{n}: {}",
            toe.length
        );
    }
}

/// A published toe narrows every second round over the first third, every round over the second,
/// and grafts the last third: N/4 rounds, N/6 pairs. Differs: ours changes pace at the half and goes
/// on to a quarter, so it is longer and its end narrower; grafting fewer is less sewing.
/// Columns: stitches around, rounds and pairs of the published toe, rounds more of ours, pairs less,
/// source.
const THIRDS: [(u16, usize, u16, usize, u16, &str); 3] = [
    (48, 12, 8, 2, 0, THIRDS_PUBLISHED),
    (60, 15, 10, 3, 2, THIRDS_PUBLISHED),
    (72, 18, 12, 4, 2, THIRDS_PUBLISHED),
];
const THIRDS_PUBLISHED: &str = "nearlywrong.blogspot.com, February 2010";

#[test]
fn a_toe_by_thirds_is_shorter_and_wider() {
    for (n, rounds_there, pairs_there, longer, fewer, source) in THIRDS {
        let recipe = sock_of(n);
        let outcome = plan(&recipe).outcome;
        let here = rounds(&page(&recipe), "toe").0;
        assert_eq!(here - rounds_there, longer, "{n}: rounds ({source})");
        assert_eq!(
            pairs_there - outcome.graft_pairs,
            fewer,
            "{n}: pairs ({source})"
        );
    }
}

/// Toes of 1.5 inches (3.8 cm): published, 3sleeves.blogspot.com, 2008. Differs: at 42 rounds to
/// 10 cm ours is longer, because it follows from the count around: 0.5 cm at 60 stitches, 1.0 at 64,
/// 1.4 at 72.
#[test]
fn toes_are_longer_than_an_inch_and_a_half() {
    for (n, tenths_longer) in [(60, 48), (64, 95), (72, 143)] {
        let outcome = plan(&sock_of(n)).outcome;
        let toe = outcome
            .sections
            .iter()
            .find(|s| s.kind == SectionKind::Toe)
            .expect("it is there");
        assert_eq!(toe.length.0 - 381, tenths_longer, "{n}: {}", toe.length);
    }
}

/// 8 to 12 left on each needle for an adult's sock of up to 96 stitches: from memory.
#[test]
fn adults_socks_graft_8_to_12_pairs() {
    for n in (48..=96).step_by(4) {
        let pairs = plan(&sock_of(n)).outcome.graft_pairs;
        assert!(
            (8..=12).contains(&pairs),
            "{n} stitches around graft {pairs} pairs"
        );
    }
}

/// Between a quarter and a third of each half is left: common practice, no source.
#[test]
fn a_toe_ends_as_wide_as_a_quarter_to_a_third_of_the_sock() {
    for n in (32..=120).step_by(4) {
        let pairs = plan(&sock_of(n)).outcome.graft_pairs;
        let half = n / 2;
        assert!(
            4 * pairs >= half && 3 * pairs <= half,
            "{n}: {pairs} of {half}"
        );
    }
}

/// Where a round toe is widest no two decrease rounds follow each other: common practice, no source.
#[test]
fn a_round_toe_rests_between_its_first_decrease_rounds() {
    for n in (32..=120).step_by(4) {
        let recipe = Recipe {
            toe: Toe::Round,
            ..sock_of(n)
        };
        let page = page(&recipe);
        let toe = page
            .sections
            .iter()
            .find(|s| s.kind == "toe")
            .expect("it is there");
        let shaped: Vec<bool> = toe
            .steps
            .iter()
            .filter(|s| s.form == "round")
            .map(|s| s.moves[0].ops.contains(&Do::K2tog))
            .collect();
        assert!(shaped[0] && !shaped[1], "{n}: {shaped:?}");
        let second = shaped.iter().skip(1).position(|s| *s).expect("another") + 1;
        assert!(!shaped[second + 1], "{n}: {shaped:?}");
    }
}

/// An adult's toe is about 4 to 5 cm long: from memory (1.5 in is published:
/// 3sleeves.blogspot.com, 2008). Half a centimetre of grace for the widest.
#[test]
fn an_adults_toe_is_4_to_5_cm_long() {
    for n in [60, 64, 68, 72] {
        let outcome = plan(&sock_of(n)).outcome;
        let toe = outcome
            .sections
            .iter()
            .find(|s| s.kind == SectionKind::Toe)
            .expect("it is there");
        assert!((380..=550).contains(&toe.length.0), "{n}: {}", toe.length);
    }
}
