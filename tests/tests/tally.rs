//! What a count may mean: for every round of many random socks and every single slip, the true
//! cause is among the first two that are named. The slips are made here, on the counts that the
//! engine expects; the diagnosis knows only what was counted.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::needles::Origin;
use evenloop_engine::plan::{Cue, Plan, SectionKind, StepForm, make};
use evenloop_engine::tally::seen::{SimilarSteps, stretches};
use evenloop_engine::tally::{Finding, check};
use evenloop_engine::trace::{Position, Trace};
use evenloop_tests::model::recipes::seeded;

/// Socks looked at; each has a few hundred rounds and three kinds of slips on every needle.
const SOCKS: usize = 1_000;
/// Socks in which every round is looked for.
const FOUND: usize = 200;

/// The counts before a step, with one needle `more` or less by one; `None` where it has none to lose.
fn slipped(trace: &Trace, step: usize, needle: usize, more: bool) -> Option<Vec<u16>> {
    let mut counts = trace.steps.get(step)?.before.per_needle();
    let count = counts.get_mut(needle)?;
    *count = if more {
        *count + 1
    } else {
        count.checked_sub(1)?
    };
    Some(counts)
}

fn among_the_first_two(found: &[Finding], cause: impl Fn(&Finding) -> bool) -> bool {
    found.iter().take(2).any(cause)
}

/// Needles whose count a decrease round of the plan makes smaller.
fn narrowed(plan: &Plan, trace: &Trace, step: usize) -> Vec<usize> {
    let (Some(done), Some(seen)) = (plan.step(step), trace.steps.get(step)) else {
        return Vec::new();
    };
    if done.form != StepForm::Round || done.moves.iter().all(|m| m.cue != Cue::Shape) {
        return Vec::new();
    }
    let (before, after) = (seen.before.per_needle(), seen.after().per_needle());
    (0..before.len().min(after.len()))
        .filter(|n| after[*n] < before[*n])
        .collect()
}

#[test]
fn the_true_cause_of_a_single_slip_is_among_the_first_two_named() {
    let (mut socks, mut slips) = (0, 0);
    for recipe in seeded(SOCKS * 2) {
        let Ok(plan) = make(&recipe) else { continue };
        let trace = Trace::of(&plan).expect("a made plan can be knitted");
        for (step, seen) in trace.steps.iter().enumerate() {
            let at = Position { step, mv: 0 };
            let needles = seen.before.per_needle().len();
            for needle in 0..needles {
                if let Some(counts) = slipped(&trace, step, needle, false) {
                    let found = check(&plan, &trace, at, &counts);
                    let dropped = Finding::DroppedStitch { needle };
                    assert!(
                        among_the_first_two(&found, |f| *f == dropped),
                        "{recipe:?} {at:?} {found:?}"
                    );
                    slips += 1;
                }
                let gusset = |o| matches!(o, Origin::GussetLeft | Origin::GussetRight);
                if seen.kind == SectionKind::Gusset
                    && seen.before.holds(needle, gusset)
                    && let Some(counts) = slipped(&trace, step, needle, true)
                {
                    let found = check(&plan, &trace, at, &counts);
                    let picked = Finding::PickedUpOneMore { needle };
                    assert!(
                        among_the_first_two(&found, |f| *f == picked),
                        "{recipe:?} {at:?} {found:?}"
                    );
                    slips += 1;
                }
            }
            // a decrease missed here is seen in the next step
            for needle in narrowed(&plan, &trace, step) {
                let next = Position {
                    step: step + 1,
                    mv: 0,
                };
                let Some(counts) = slipped(&trace, step + 1, needle, true) else {
                    continue;
                };
                let found = check(&plan, &trace, next, &counts);
                let missed = Finding::MissedDecrease { needle, step };
                assert!(
                    among_the_first_two(&found, |f| *f == missed),
                    "{recipe:?} {next:?} {found:?}"
                );
                slips += 1;
            }
        }
        socks += 1;
        if socks == SOCKS {
            break;
        }
    }
    println!("{socks} socks, {slips} slips");
    assert!(
        socks >= SOCKS,
        "only {socks} of the seeded recipes are socks"
    );
}

/// Every place of many random socks is found by what is on its needles, and told from its neighbours
/// by what the knitting shows; with one stitch astray it is still among what is offered.
#[test]
fn every_round_is_found_by_its_count_and_what_the_knitting_shows() {
    let (mut socks, mut places, mut named) = (0, 0, 0);
    for recipe in seeded(FOUND * 2) {
        let Ok(plan) = make(&recipe) else { continue };
        let trace = Trace::of(&plan).expect("a made plan can be knitted");
        for (step, seen) in trace.steps.iter().enumerate() {
            let counts = seen.before.per_needle();
            if counts.is_empty() {
                continue;
            }
            let found = stretches(&plan, &trace, &counts);
            let stretch = found
                .iter()
                .find(|s| s.steps.contains(&step))
                .unwrap_or_else(|| panic!("{recipe:?} {step}: {found:?}"));
            assert_eq!(stretch.off, None);
            // what the knitting shows there leaves a few rounds at most
            let few = stretch
                .range(&plan, &trace)
                .map(|number| stretch.by(&plan, &trace, number))
                .find(|steps| steps.contains(&step))
                .unwrap_or_else(|| panic!("{recipe:?} {step}: {stretch:?}"));
            assert!(few.len() <= 6, "{recipe:?} {step}: {few:?}");
            named += few.len();
            places += 1;
            if let Some(astray) = slipped(&trace, step, 0, true) {
                let offered = stretches(&plan, &trace, &astray);
                let here = |s: &SimilarSteps| s.steps.contains(&step);
                // another place may have exactly that count; else this one is offered
                assert!(
                    offered.iter().any(here) || offered.iter().all(|s| s.off.is_none()),
                    "{recipe:?} {step}: {offered:?}"
                );
            }
        }
        socks += 1;
        if socks == FOUND {
            break;
        }
    }
    println!("{socks} socks, {places} places, {named} rounds named");
    assert!(
        socks >= FOUND,
        "only {socks} of the seeded recipes are socks"
    );
    assert!(
        named < 3 * places,
        "{named} rounds named for {places} places"
    );
}
