//! Laws of planning anew: what is knitted stays, and the rest becomes the sock that is wanted.

#[allow(dead_code)] // shared with the other laws
mod any;
#[allow(dead_code)]
#[path = "symmetry/fabric.rs"]
mod fabric;

use any::{any_recipe, knittable, knittable_of, undressed};
use evenloop_engine::plan::{Plan, PlanError, SectionKind, Step, StepForm, make, replan};
use evenloop_engine::recipe::{Adjust, Method, Motif, MotifPlacement, Recipe, Seating};
use evenloop_engine::text::{Wording, problem};
use evenloop_engine::trace::Trace;
use evenloop_engine::units::Length;
use proptest::prelude::*;
use proptest::sample::{Index, select};

fn steps(plan: &Plan) -> Vec<&Step> {
    plan.sections.iter().flat_map(|s| &s.steps).collect()
}

fn knitted_to_the_end(plan: &Plan) -> Trace {
    let trace = Trace::of(plan).unwrap_or_else(|e| panic!("{:?}: {e}", plan.recipe));
    let left = trace.steps.last().map(|s| s.after().stitches());
    assert_eq!(left, Some(0));
    trace
}

fn rounds(plan: &Plan, kind: SectionKind) -> usize {
    let of_kind = plan.sections.iter().filter(|s| s.kind == kind);
    of_kind
        .map(|s| s.steps.iter().filter(|s| s.form == StepForm::Round).count())
        .sum()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    /// Claims: the same recipe gives the same plan, wherever it is planned anew.
    #[test]
    fn the_same_recipe_changes_nothing(recipe in knittable(), at in any::<Index>()) {
        let plan = make(&recipe).expect("knittable");
        let done = at.index(steps(&plan).len() + 1);
        let again = replan(&plan, done, &recipe).map_err(|e| TestCaseError::fail(format!("{e:?}")))?;
        prop_assert_eq!(again.sections, plan.sections, "at {}", done);
        prop_assert_eq!(again.outcome, plan.outcome);
    }

    /// Claims: whatever is wanted for the rest, the steps that are done stay to the operation, and
    /// the whole can be knitted to its end; or the wish is refused with a reason.
    #[test]
    fn what_is_knitted_stays(
        recipe in knittable(),
        wish in any_recipe(),
        at in any::<Index>(),
    ) {
        let plan = make(&recipe).expect("knittable");
        let old = steps(&plan);
        let done = at.index(old.len() + 1);
        let wish = Recipe { direction: recipe.direction, ..wish };
        match replan(&plan, done, &wish) {
            Ok(new) => {
                knitted_to_the_end(&new);
                prop_assert_eq!(&steps(&new)[..done], &old[..done]);
            }
            Err(PlanError::Bug(bug)) => prop_assert!(false, "{}", bug),
            Err(PlanError::Impossible(errors)) => for error in errors {
                prop_assert!(!problem(&error.problem, Wording::default()).message.is_empty());
            },
        }
    }

    /// Claims: other needles or another seating from any round on make the same fabric. Set aside: a
    /// foot so short that the gusset hurries on one and not on the other.
    #[test]
    fn other_needles_make_the_same_fabric(
        recipe in knittable_of(undressed()),
        needles in select(&Method::ALL[..]),
        at in any::<Index>(),
    ) {
        let plan = make(&recipe).expect("knittable");
        let done = at.index(steps(&plan).len() + 1);
        let wish = Recipe { needles, ..recipe.clone() };
        // a foot that was just long enough may be too short for a pick-up that is a round higher
        let Ok(new) = replan(&plan, done, &wish) else {
            prop_assert!(make(&wish).is_err(), "{:?} {:?}", needles, replan(&plan, done, &wish));
            return Ok(());
        };
        let parts = |plan: &Plan| -> Vec<_> {
            let all = fabric::of(plan, &knitted_to_the_end(plan));
            all.into_iter().filter(|p| p.kind != SectionKind::Foot && !p.courses.is_empty()).collect()
        };
        if rounds(&plan, SectionKind::Gusset) != rounds(&new, SectionKind::Gusset) {
            return Ok(());
        }
        prop_assert_eq!(parts(&plan), parts(&new), "{:?} at {}", needles, done);
        let foot = [&plan, &new].map(|p| rounds(p, SectionKind::Foot));
        prop_assert!(foot[0].abs_diff(foot[1]) <= 1, "{:?}", foot);
    }

    /// Claims: rounds added to leg and foot, or left out, are those rounds and nothing else.
    #[test]
    fn rounds_are_added_where_they_are_wanted(recipe in knittable(), leg in -9_i16..=30, foot in -9_i16..=30) {
        let plan = make(&recipe).expect("knittable");
        let wish = Recipe { adjust: Adjust { leg, foot }, ..recipe };
        let Ok(new) = replan(&plan, 0, &wish) else { return Ok(()) };
        let more = |kind| rounds(&new, kind).cast_signed() - rounds(&plan, kind).cast_signed();
        let had = rounds(&plan, SectionKind::Leg).cast_signed();
        prop_assert!(isize::from(leg) >= -had, "no more rounds can be left out than there are");
        prop_assert_eq!(more(SectionKind::Leg), isize::from(leg));
        // a gusset that need not hurry any more takes some of the rounds of the foot
        prop_assert_eq!(more(SectionKind::Foot) + more(SectionKind::Gusset), isize::from(foot));
    }
}

#[test]
fn a_round_gauge_measured_in_the_sock_counts_for_the_rest() {
    let recipe = Recipe::default();
    let plan = make(&recipe).expect("the default recipe");
    let done = steps(&plan).len() / 2;
    let mut wish = recipe;
    // 10 % more rounds to the same height
    wish.swatch.height = Length(wish.swatch.height.0 * 10 / 11);
    let new = replan(&plan, done, &wish).expect("a finer round gauge");
    let foot = [&plan, &new].map(|p| rounds(p, SectionKind::Foot));
    assert!(foot[1] > foot[0] + 5, "{foot:?}");
    assert_eq!(new.outcome.stitches, plan.outcome.stitches);
    let off = new
        .outcome
        .foot_length
        .0
        .abs_diff(plan.outcome.foot_length.0);
    assert!(off <= wish.swatch.height_of(1).0, "the foot stays as long");
}

#[test]
fn a_begun_sock_keeps_its_direction() {
    let plan = make(&Recipe::default()).expect("the default recipe");
    let wish = Recipe {
        direction: evenloop_engine::recipe::Direction::ToeUp,
        ..Recipe::default()
    };
    let refused = replan(&plan, 3, &wish).expect_err("the other end");
    assert_eq!(refused.fields()[0].field, "direction");
}

/// Another motif, wished for when the flap is done, while a needle ends in the middle of the instep.
#[test]
fn a_motif_that_a_needle_of_the_begun_sock_would_cut_is_refused_at_the_motif() {
    let motif = |rows: &[&str], place| Motif {
        rows: rows.iter().map(|row| row.parse().expect("a row")).collect(),
        place,
        ..Motif::default()
    };
    let even = Method::TwoCirculars {
        seating: Seating::EvenHalves,
    };
    let recipe = Recipe {
        needles: even,
        motif: Some(motif(&["k2 p2", "p2 k2"], MotifPlacement::AllRound)),
        stitches: Some(64),
        ..Recipe::default()
    };
    let plan = make(&recipe).expect("a sock");
    let wish = Recipe {
        needles: Method::TwoCirculars {
            seating: Seating::InstepAndSole,
        },
        motif: Some(motif(&["k1 yo k2tog k3", "k6"], MotifPlacement::Front)),
        ..recipe.clone()
    };
    let done = |kind| -> usize {
        let before = plan.sections.iter().take_while(|s| s.kind != kind);
        before.map(|s| s.steps.len()).sum()
    };
    let refused = replan(&plan, done(SectionKind::Gusset), &wish)
        .map(drop)
        .expect_err("the needle cuts it");
    assert_eq!(refused.fields()[0].field, "motif.rows");
    replan(&plan, done(SectionKind::HeelFlap), &wish).expect("before the heel it can be moved");
}
