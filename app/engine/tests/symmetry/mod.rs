//! Laws of symmetry: what may not depend on needles, seating, direction, or left and right.

mod fabric;

use evenloop_engine::plan::{Caution, Cue, Plan, SectionKind, make};
use evenloop_engine::recipe::{Direction, Heel, LeftRight, Method, Recipe, Toe};
use evenloop_engine::units::Length;
use fabric::{Course, Made, Part};
use proptest::prelude::*;

use crate::any::{knittable_of, undressed};
use crate::{cases, plan_of, trace_of};

fn fabric_of(recipe: &Recipe) -> Vec<Part> {
    let plan = plan_of(recipe);
    fabric::of(&plan, &trace_of(&plan))
}

fn are_mirrors(one: &[Made], other: &[Made]) -> bool {
    let mirrored = other.iter().rev().map(|m| m.mirrored());
    one.iter().copied().eq(mirrored)
}

fn is_its_mirror(made: &[Made]) -> bool {
    are_mirrors(made, made)
}

fn shapes(course: &Course) -> bool {
    course.cue == Cue::Shape && course.facing.is_none()
}

/// A round of plain knitting: the only kind of which a seating may need one more or less.
fn is_plain(course: &Course) -> bool {
    course.cue == Cue::Plain
        && [&course.top, &course.rest]
            .iter()
            .all(|made| made.iter().all(|m| *m == Made::Knit))
}

/// Plain rounds of the foot, and everything else.
fn foot_apart(parts: Vec<Part>) -> (usize, Vec<Part>) {
    let mut foot = 0;
    let rest = parts
        .into_iter()
        .filter(|part| {
            let is_foot = part.kind == SectionKind::Foot;
            if is_foot {
                assert!(part.courses.iter().all(is_plain), "the foot is plain");
                foot += part.courses.len();
            }
            // a section that only walks is another one's business
            !is_foot && !part.courses.is_empty()
        })
        .collect();
    (foot, rest)
}

/// Whether the foot was short for this gusset: then the plan hurries, and a round more or less on
/// other needles makes it another sock.
fn hurries(plan: &Plan) -> bool {
    plan.outcome.cautions.contains(&Caution::GussetEveryRound)
}

fn turned_round(recipe: &Recipe, direction: Direction) -> Recipe {
    Recipe {
        direction,
        ..recipe.clone()
    }
}

proptest! {
    #![proptest_config(cases(64))]

    /// Claims: over the instep and over the rest of the ring, each shaped round is its own mirror
    /// image, a decrease or increase that leans left for each that leans right, at the same
    /// distance from the middle. A toe drawn closed is spread round instead; a left or right toe
    /// is the other one's mirror image, not its own.
    #[test]
    fn shaping_mirrors_about_the_instep(recipe in knittable_of(undressed())) {
        for part in fabric_of(&recipe) {
            if part.kind == SectionKind::Toe && matches!(recipe.toe, Toe::Round | Toe::Shaped { .. }) {
                continue;
            }
            for course in part.courses.iter().filter(|c| shapes(c)) {
                prop_assert!(is_its_mirror(&course.top), "{:?} {:?}", part.kind, course);
                prop_assert!(is_its_mirror(&course.rest), "{:?} {:?}", part.kind, course);
            }
        }
    }

    /// Claims: a left toe is the right one's mirror image, round for round.
    #[test]
    fn left_and_right_toes_mirror_each_other(recipe in undressed()) {
        let shaped = |foot| Recipe { toe: Toe::Shaped { foot }, ..recipe.clone() };
        let [left, right] = [LeftRight::Left, LeftRight::Right].map(shaped);
        if make(&left).is_err() {
            return Ok(());
        }
        let (left, right) = (fabric_of(&left), fabric_of(&right));
        prop_assert_eq!(left.len(), right.len());
        for (left, right) in left.iter().zip(&right) {
            prop_assert_eq!(left.courses.len(), right.courses.len());
            if left.kind != SectionKind::Toe {
                prop_assert_eq!(left, right);
                continue;
            }
            for (left, right) in left.courses.iter().zip(&right.courses) {
                prop_assert!(are_mirrors(&left.top, &right.top), "{:?} {:?}", left, right);
                prop_assert!(are_mirrors(&left.rest, &right.rest), "{:?} {:?}", left, right);
            }
        }
    }

    /// Claims: rows that turn a heel take as many stitches on their way back as on their way out:
    /// a decrease leaning left for each purled one, and of double stitches as many turned as
    /// worked together again.
    #[test]
    fn a_heel_is_turned_evenly(recipe in knittable_of(undressed())) {
        for part in fabric_of(&recipe) {
            if !matches!(part.kind, SectionKind::HeelTurn | SectionKind::ShortHeel) {
                continue;
            }
            let count = |wanted: Made| {
                part.courses.iter().flat_map(|c| c.top.iter().chain(&c.rest)).filter(|m| **m == wanted).count()
            };
            prop_assert_eq!(count(Made::LeansLeft), count(Made::PurlTogether));
            // one of them is worked together with the corner beside it
            let cornered = usize::from(part.kind == SectionKind::ShortHeel);
            prop_assert_eq!(count(Made::TurnDouble), count(Made::Double) + cornered);
        }
    }

    /// Claims: on every kind of needles and in every seating the same stitches are made in the
    /// same order: each round the same from the first stitch of the instep on, each row the same.
    /// Only the number of plain rounds of the foot may differ, by one, where a seating knits a
    /// round while it moves. Set aside: a foot so short that the gusset hurries on one and not on
    /// the other.
    #[test]
    fn every_method_and_seating_makes_the_same_fabric(recipe in knittable_of(undressed())) {
        let on = |needles| Recipe { needles, ..recipe.clone() };
        let first = on(Method::ALL[0]);
        let hurry = hurries(&plan_of(&first));
        let (foot, rest) = foot_apart(fabric_of(&first));
        for needles in Method::ALL {
            let Ok(plan) = make(&on(needles)) else { continue };
            if hurries(&plan) != hurry {
                continue;
            }
            let (other_foot, other_rest) = foot_apart(fabric::of(&plan, &trace_of(&plan)));
            prop_assert!(foot.abs_diff(other_foot) <= 1, "{:?}: {} and {}", needles, foot, other_foot);
            prop_assert_eq!(rest.len(), other_rest.len(), "{:?}", needles);
            for (one, other) in rest.iter().zip(&other_rest) {
                prop_assert_eq!(one, other, "{:?}", needles);
            }
        }
    }

    /// Claims: from the cuff down and from the toe up, the same measurements and the same kind of
    /// heel give a sock as wide to the stitch, and foot and leg as long to the round.
    #[test]
    fn both_directions_come_to_the_same_size(recipe in undressed()) {
        let both = [Direction::CuffDown, Direction::ToeUp].map(|d| make(&turned_round(&recipe, d)));
        let [Ok(down), Ok(up)] = both else { return Ok(()) };
        let (down, up) = (&down.outcome, &up.outcome);
        let stitch = recipe.swatch.width_of(1);
        // a length is rounded to a tenth of a millimetre on either side
        let round = Length(recipe.swatch.height_of(1).0 + 1);
        prop_assert!(down.stitches.abs_diff(up.stitches) <= 1);
        for (what, a, b, most) in [
            ("circumference", down.circumference, up.circumference, stitch),
            ("foot", down.foot_length, up.foot_length, round),
            ("leg", down.leg_length, up.leg_length, round),
        ] {
            prop_assert!(a.0.abs_diff(b.0) <= most.0, "{}: {} down, {} up", what, a, b);
        }
        if !matches!(recipe.heel, Heel::FlapAndGusset { .. }) {
            prop_assert_eq!(down.heel_stitches, up.heel_stitches);
        }
    }

    /// Claims: a toe widens from the toe up as it narrows from the cuff down: as many shaped
    /// rounds, and the counts of one are the other's read backwards (the closed cast-on is
    /// knitted round once before it widens).
    #[test]
    fn a_toe_widens_as_it_narrows(recipe in undressed()) {
        let both = [Direction::CuffDown, Direction::ToeUp].map(|d| make(&turned_round(&recipe, d)));
        let [Ok(down), Ok(up)] = both else { return Ok(()) };
        let counts = |plan: &Plan| -> Vec<usize> {
            let toe = fabric::of(plan, &trace_of(plan)).into_iter().find(|p| p.kind == SectionKind::Toe);
            toe.into_iter().flat_map(|p| p.courses).map(|c| c.top.len() + c.rest.len()).collect()
        };
        let narrows = counts(&down);
        let mut widens = counts(&up);
        let mut expected: Vec<usize> = narrows.iter().rev().copied().collect();
        expected.sort_unstable();
        widens.sort_unstable();
        widens.dedup();
        expected.dedup();
        let all = usize::from(up.outcome.stitches);
        // a decreased toe's first round has lost stitches already
        expected.push(all);
        expected.dedup();
        prop_assert_eq!(&widens, &expected);
    }
}
