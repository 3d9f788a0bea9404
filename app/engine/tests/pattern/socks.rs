//! Whole socks by written patterns, all made up: on every needle method they come to a plan that the
//! simulator knits to its last stitch.

use evenloop_engine::needles::Origin;
use evenloop_engine::pattern::{begins_at_toe, check};
use evenloop_engine::plan::{Plan, Section, SectionKind};
use evenloop_engine::recipe::{Direction, Method, Recipe, Seating, SockPart, Written};
use evenloop_engine::sock::{make, replan};
use evenloop_engine::trace::Trace;

/// The patterns, each with its name.
pub(crate) fn socks() -> Vec<(&'static str, String)> {
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

pub(crate) fn by(text: &str, needles: Method) -> Recipe {
    Recipe {
        needles,
        direction: if begins_at_toe(text) {
            Direction::ToeUp
        } else {
            Direction::CuffDown
        },
        written: Some(Written {
            text: text.to_owned(),
            size: None,
            ours: Vec::new(),
        }),
        ..Recipe::default()
    }
}

pub(crate) fn plan(name: &str, recipe: &Recipe) -> (Plan, Trace) {
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

/// However it is told, the toe is the sock's end.
#[test]
fn a_closed_toe_is_the_end() {
    let (name, text) = &socks()[0];
    for said in [
        "Close the toe.",
        "Close toe with Kitchener stitch.",
        "Graft the toe.",
    ] {
        let text = text.replace("Graft the toe.", said);
        assert_eq!(check(&text, None), [], "{said}");
        let (plan, trace) = plan(name, &by(&text, Method::default()));
        assert_eq!(trace.steps.last().map(|s| s.after().stitches()), Some(0));
        assert_eq!(plan.outcome.graft_pairs, 10, "{said}");
    }
    let (name, round) = &socks()[2];
    let text = round.replace(
        "Break yarn and draw through remaining sts.",
        "Close the toe.",
    );
    let (plan, _) = plan(name, &by(&text, Method::default()));
    assert_eq!((plan.outcome.graft_pairs, plan.outcome.toe_left), (0, 8));
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

#[test]
fn which_end_comes_first_is_read_from_the_names_of_the_parts() {
    let ends: Vec<bool> = socks()
        .iter()
        .map(|(_, text)| begins_at_toe(text))
        .collect();
    assert_eq!(ends, [false, false, false, true]);
    assert!(!begins_at_toe("FOOT\nKnit 40 rnds.\nTOE\nKnit 10 rnds."));
    assert!(begins_at_toe("FOOT\nKnit 40 rnds.\nLEG\nKnit 10 rnds."));
    assert!(!begins_at_toe("Knit 40 rnds."));
}

#[test]
fn what_a_pattern_leaves_out_is_knitted_by_ours_from_either_end() {
    let all = socks();
    let (down, up) = (&all[2], &all[3]);
    for (name, text) in [down, up] {
        for needles in Method::ALL {
            let mut recipe = by(text, needles);
            if let Some(written) = &mut recipe.written {
                written.ours = vec![SockPart::Heel];
            }
            let (plan, trace) = plan(name, &recipe);
            assert_eq!(trace.steps.last().map(|s| s.after().stitches()), Some(0));
            assert!(plan.outcome.heel_stitches > 0, "{name}, {needles:?}");
        }
    }
}

/// Whatever is worked is shown with the words it was typed in, a wrapped line whole.
#[test]
fn every_move_of_a_pattern_shows_its_line() {
    for (name, text) in socks() {
        let wrapped = text.replace("rep from * to end", "rep from\n* to end");
        assert_eq!(check(&wrapped, None), [], "{name}");
        let (plan, _) = plan(name, &by(&wrapped, Method::default()));
        let mut shown = 0;
        for section in &plan.sections {
            for mv in section.steps.iter().flat_map(|step| &step.moves) {
                let Some(line) = plan.pattern_line(mv) else {
                    continue;
                };
                shown += 1;
                assert!(!line.ends_with("from"), "{name}: {line}");
                assert!(wrapped.contains(line), "{name}: {line}");
            }
        }
        assert!(shown > 60, "{name}: {shown}");
    }
}
