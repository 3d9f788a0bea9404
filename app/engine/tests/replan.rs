//! Laws of replanning: what is knitted stays, and the rest becomes the sock that is wanted.

#[allow(dead_code)] // shared with the other laws
mod any;
#[allow(dead_code)]
#[path = "symmetry/fabric.rs"]
mod fabric;

use any::{any_recipe, knittable, knittable_of, undressed};
use evenloop_engine::plan::{Plan, PlanError, SectionKind, Step, StepForm, make, replan};
use evenloop_engine::recipe::{
    Adjust, BindOff, Direction, Edge, Girth, Method, Motif, MotifPlacement, Recipe, Rib, Seating,
};
use evenloop_engine::text::{Wording, problem};
use evenloop_engine::trace::Trace;
use evenloop_engine::units::Length;
use evenloop_engine::written_ops::write_ops;
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

    /// Claims: the same recipe gives the same plan, wherever it is replanned.
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
        direction: Direction::ToeUp,
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

const LACE: [&str; 4] = [
    "k1 yo ssk k3 k2tog yo",
    "k8",
    "k2 yo ssk k1 k2tog yo k1",
    "k8",
];

fn front(rows: &[&str]) -> Motif {
    Motif {
        rows: rows.iter().filter_map(|row| row.parse().ok()).collect(),
        place: MotifPlacement::Front,
        ..Motif::default()
    }
}

fn lace(needles: Method) -> Recipe {
    Recipe {
        needles,
        motif: Some(front(&LACE)),
        stitches: Some(64),
        ..Recipe::default()
    }
}

const HALVES: Method = Method::MagicLoop {
    seating: Seating::EvenHalves,
};

/// The motif's rounds in order, each with what is knitted in it.
fn motif_rounds(plan: &Plan) -> Vec<(u16, String)> {
    let moves = steps(plan).into_iter().flat_map(|s| &s.moves);
    moves
        .filter_map(|mv| {
            let ops = write_ops(&mv.ops);
            let (_, row) = ops.split_once("row")?;
            let number = row.split(' ').next()?.parse().ok()?;
            Some((number, ops))
        })
        .collect()
}

/// The knitter asks for more rounds with the chart as she drew it; the plan had begun its repeat elsewhere.
#[test]
fn a_motif_goes_on_in_its_columns_and_with_its_round() {
    let recipe = lace(HALVES);
    let plan = make(&recipe).expect("a sock");
    assert_ne!(plan.recipe.motif, recipe.motif, "it is begun elsewhere");
    let all = motif_rounds(&plan);
    let leg = plan
        .sections
        .iter()
        .position(|s| s.kind == SectionKind::Leg)
        .expect("a leg");
    let before: usize = plan.sections[..leg].iter().map(|s| s.steps.len()).sum();
    for knitted in 1..6 {
        let wish = Recipe {
            adjust: Adjust { leg: 7, foot: -3 },
            ..recipe.clone()
        };
        let new = replan(&plan, before + knitted, &wish).expect("a longer leg");
        let rounds = motif_rounds(&new);
        assert_eq!(
            rounds[..=knitted],
            all[..=knitted],
            "the next round is the old one's"
        );
        for pair in rounds.windows(2) {
            let follows = pair[1].0 == pair[0].0 || pair[1].0 == pair[0].0 % 4 + 1;
            assert!(follows, "{pair:?}");
        }
    }
}

/// Where the old plan has no more of it, the motif goes on with the round after its last.
#[test]
fn a_motif_goes_on_where_it_would_have_ended() {
    let recipe = Recipe {
        motif: Some(front(&["k2 p2", "k4", "p2 k2"])),
        stitches: Some(64),
        ..Recipe::default()
    };
    let plan = make(&recipe).expect("a sock");
    let toe = plan
        .sections
        .iter()
        .position(|s| s.kind == SectionKind::Toe)
        .expect("a toe");
    let before: usize = plan.sections[..toe].iter().map(|s| s.steps.len()).sum();
    let knitted = motif_rounds(&plan);
    for shorter in 0..3 {
        let wish = Recipe {
            adjust: Adjust { leg: 0, foot: 4 },
            ..recipe.clone()
        };
        let new = replan(&plan, before - shorter, &wish).expect("a longer foot");
        let rounds = motif_rounds(&new);
        assert!(rounds.len() > knitted.len());
        let last = &rounds[knitted.len() - 1..=knitted.len()];
        assert_eq!(last[1].0, last[0].0 % 3 + 1, "{last:?}");
    }
}

#[test]
fn another_motif_begins_with_its_first_round() {
    let recipe = Recipe {
        motif: Some(front(&["k2 p2", "k4", "p2 k2"])),
        stitches: Some(64),
        ..Recipe::default()
    };
    let plan = make(&recipe).expect("a sock");
    let wish = Recipe {
        motif: Some(front(&["k1 p1", "p1 k1"])),
        ..recipe
    };
    let before: usize = plan.sections[..2].iter().map(|s| s.steps.len()).sum();
    assert_eq!(plan.sections[2].kind, SectionKind::Leg);
    for knitted in 1..4 {
        let new = replan(&plan, before + knitted, &wish).expect("another motif");
        assert_eq!(motif_rounds(&new)[knitted].0, 1, "after {knitted} rounds");
    }
}

/// By itself on a needle the front has a plain stitch at each end; even halves end within it.
#[test]
fn a_repeat_is_begun_elsewhere_for_other_needles_before_it_is_knitted() {
    let recipe = Recipe {
        stitches: Some(68),
        ..lace(Method::MagicLoop {
            seating: Seating::InstepAndSole,
        })
    };
    let plan = make(&recipe).expect("a sock");
    assert_eq!(plan.recipe.motif, recipe.motif, "it need not be");
    let wish = Recipe {
        needles: HALVES,
        ..recipe.clone()
    };
    let held = make(&wish).expect("a sock").recipe.motif;
    assert_ne!(held, wish.motif);
    let new = replan(&plan, 5, &wish).expect("other needles");
    assert_eq!(new.recipe.motif, held);
    // once it is knitted its columns stay
    let before: usize = plan.sections[..3].iter().map(|s| s.steps.len()).sum();
    let new = replan(&plan, before, &wish).expect("other needles");
    assert_eq!(new.recipe.motif, recipe.motif);
}

/// The last rounds of the cuff, and the crosses before them, lie as the tubular edge wants them.
#[test]
fn nothing_is_knitted_above_the_rounds_of_a_tubular_edge() {
    for rib in [Rib::OneByOne, Rib::TwoByTwo] {
        let mut recipe = Recipe {
            direction: Direction::ToeUp,
            bind_off: BindOff::Tubular,
            ..Recipe::default()
        };
        recipe.cuff.edge = Edge::Rib(rib);
        let plan = make(&recipe).expect("a sock");
        let before = plan
            .sections
            .iter()
            .take_while(|s| s.kind != SectionKind::BindOff);
        let end: usize = before.map(|s| s.steps.len()).sum();
        let mut wish = recipe.clone();
        wish.cuff.length = Length(recipe.cuff.length.0 * 3 / 2);
        for done in end - 2..=end {
            let new = replan(&plan, done, &wish).expect("a sock");
            knitted_to_the_end(&new);
            assert_eq!(
                rounds(&new, SectionKind::Cuff),
                rounds(&plan, SectionKind::Cuff),
                "{rib:?} after {done} of {end}"
            );
        }
        let new = replan(&plan, end - 4, &wish).expect("a sock");
        assert!(
            rounds(&new, SectionKind::Cuff) > rounds(&plan, SectionKind::Cuff),
            "before them it grows"
        );
    }
}

/// A cuff that reaches the heel leaves no leg to have been knitted: one that is wanted instead follows its calf.
#[test]
fn a_leg_that_was_not_there_follows_the_calf() {
    let short = Recipe {
        leg: Recipe::default().cuff.length,
        ..Recipe::default()
    };
    let plan = make(&short).expect("a sock");
    assert_eq!(rounds(&plan, SectionKind::Leg), 0);
    let girth = |height, circumference| Girth {
        height: Length::cm(height),
        circumference: Length::cm(circumference),
    };
    let wish = Recipe {
        leg: Length::cm(40),
        calf: vec![girth(22, 36), girth(36, 33)],
        ..Recipe::default()
    };
    let fresh = make(&wish).expect("a knee sock");
    let new = replan(&plan, 0, &wish).expect("nothing is knitted yet");
    assert_eq!(new.sections, fresh.sections);
}
