//! Whole socks by written patterns, all made up: on every needle method they come to a plan that the
//! simulator knits to its last stitch.

use evenloop_engine::needles::Origin;
use evenloop_engine::pattern::check;
use evenloop_engine::plan::{Plan, Section, SectionKind};
use evenloop_engine::recipe::{Method, Recipe, Seating, SockPart, Written};
use evenloop_engine::sock::{make, replan};
use evenloop_engine::trace::Trace;

/// The patterns, each with its name.
fn socks() -> Vec<(&'static str, String)> {
    let mut all: Vec<(&str, String)> = Vec::new();
    for line in include_str!("socks.txt").lines() {
        match (line.strip_prefix("# "), all.last_mut()) {
            (Some(name), _) => all.push((name, String::new())),
            (None, Some((_, text))) => {
                text.push_str(line);
                text.push('\n');
            }
            (None, None) => {}
        }
    }
    all
}

fn by(text: &str, needles: Method) -> Recipe {
    Recipe {
        needles,
        written: Some(Written {
            text: text.to_owned(),
            size: None,
            ours: Vec::new(),
        }),
        ..Recipe::default()
    }
}

fn plan(name: &str, recipe: &Recipe) -> (Plan, Trace) {
    let plan = make(recipe).unwrap_or_else(|e| panic!("{name}, {:?}: {e:?}", recipe.needles));
    let trace = Trace::of(&plan).unwrap_or_else(|e| panic!("{name}, {:?}: {e}", recipe.needles));
    (plan, trace)
}

#[test]
fn every_sock_is_knitted_to_its_end_on_every_needle_method() {
    for (name, text) in socks() {
        assert_eq!(check(&text, None), [], "{name}");
        for needles in Method::ALL {
            let (plan, trace) = plan(name, &by(&text, needles));
            let end = trace.steps.last().map(|s| s.after().stitches());
            assert_eq!(end, Some(0), "{name}, {needles:?}");
            assert!(plan.outcome.stitches >= 56, "{name}");
        }
    }
}

/// Where a project like this begins: after the pick-up both needles hold half the stitches, and the
/// round begins in the middle of the heel.
#[test]
fn in_even_halves_both_needles_hold_half_after_the_pick_up() {
    let needles = Method::MagicLoop {
        seating: Seating::EvenHalves,
    };
    let mut crossed = 0;
    for (name, text) in socks() {
        let (_, trace) = plan(name, &by(&text, needles));
        let picked_up = trace
            .steps
            .iter()
            .rfind(|step| step.kind == SectionKind::PickUp);
        let Some(step) = picked_up else { continue };
        crossed += 1;
        let after = step.after();
        let half = after.stitches() / 2;
        assert_eq!(after.per_needle(), [half, half], "{name}");
        let first = after.items().next();
        let heel = |item| {
            matches!(
                item,
                Some(evenloop_engine::needles::Item::Stitches(Origin::Heel, ..))
            )
        };
        assert!(heel(first), "{name}: {first:?}");
        assert!(
            heel(
                after
                    .items()
                    .filter(|i| { matches!(i, evenloop_engine::needles::Item::Stitches(..)) })
                    .last()
            ),
            "{name}"
        );
    }
    assert_eq!(crossed, 2);
}

#[test]
fn a_heel_of_ours_goes_between_the_patterns_leg_and_toe() {
    let (name, text) = &socks()[0];
    for needles in Method::ALL {
        let mut recipe = by(text, needles);
        if let Some(written) = &mut recipe.written {
            written.ours = vec![SockPart::Heel];
        }
        let (plan, trace) = plan(name, &recipe);
        assert_eq!(trace.steps.last().map(|s| s.after().stitches()), Some(0));
        let kinds: Vec<SectionKind> = plan.sections.iter().map(|s| s.kind).collect();
        assert!(kinds.contains(&SectionKind::PickUp), "{kinds:?}");
        // the pattern's leg, not ours
        let leg = plan.sections.iter().find(|s| s.kind == SectionKind::Leg);
        assert_eq!(leg.map(Section::counted), Some(50));
    }
}

#[test]
fn other_needles_in_the_middle_keep_what_is_knitted() {
    let (name, text) = &socks()[0];
    let magic = Method::MagicLoop {
        seating: Seating::EvenHalves,
    };
    let (old, _) = plan(name, &by(text, magic));
    let steps: usize = old.sections.iter().map(|s| s.steps.len()).sum();
    for done in (0..steps).step_by(7) {
        for needles in Method::ALL {
            let recipe = by(text, needles);
            let new = replan(&old, done, &recipe)
                .unwrap_or_else(|e| panic!("after {done}, {needles:?}: {e:?}"));
            let trace =
                Trace::of(&new).unwrap_or_else(|e| panic!("after {done}, {needles:?}: {e}"));
            assert_eq!(trace.steps.last().map(|s| s.after().stitches()), Some(0));
            let rounds = |plan: &Plan| {
                let leg = plan.sections.iter().find(|s| s.kind == SectionKind::Leg);
                leg.map(Section::counted)
            };
            assert_eq!(rounds(&new), rounds(&old), "after {done}, {needles:?}");
        }
    }
}
