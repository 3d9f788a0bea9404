//! Any sock, at any step, is replanned by any recipe, or the wish is refused: what is knitted
//! stays, and the rest can be knitted. A damaged plan may be refused as well; nothing falls over.
#![no_main]

use std::sync::LazyLock;

use arbitrary::{Result, Unstructured};
use evenloop_engine::plan::{Plan, PlanError, Step, make, replan};
use evenloop_engine::recipe::Recipe;
use evenloop_engine::trace::Trace;
use evenloop_engine::wire::{read_plan, read_recipe};
use evenloop_fuzz::{PLANS, RECIPES, spoiled, values};
use libfuzzer_sys::fuzz_target;
use serde_json::Value;

static SOCKS: LazyLock<Vec<Value>> = LazyLock::new(|| values(&RECIPES));
static STORED: LazyLock<Vec<Value>> = LazyLock::new(|| values(&PLANS));

fuzz_target!(|data: &[u8]| {
    // What is not long enough to decide everything decides nothing.
    let _ = look_at(&mut Unstructured::new(data));
});

fn look_at(u: &mut Unstructured<'_>) -> Result<()> {
    let whole = u.arbitrary()?;
    let done = usize::from(u.arbitrary::<u16>()?) % 600;
    let wish = spoiled(&SOCKS, u)?;
    let Ok(wish) = read_recipe(&wish) else {
        return Ok(());
    };
    let old = if whole {
        let recipe = read_recipe(&spoiled(&SOCKS, u)?);
        recipe.ok().and_then(|recipe| made(&recipe))
    } else {
        read_plan(&spoiled(&STORED, u)?).ok()
    };
    let Some(old) = old else { return Ok(()) };
    match replan(&old, done, &wish) {
        Ok(new) if whole => {
            let stays = done.min(steps(&old).count());
            assert!(steps(&new).take(stays).eq(steps(&old).take(stays)));
            let trace = Trace::of(&new).expect("what was planned can be knitted");
            assert_eq!(trace.steps.last().map(|s| s.after().stitches()), Some(0));
        }
        Err(PlanError::Bug(bug)) if whole => panic!("{bug}"),
        Err(PlanError::Impossible(fields)) => assert!(!fields.is_empty()),
        Ok(_) | Err(PlanError::Bug(_)) => {}
    }
    Ok(())
}

/// A sock, if there is one.
fn made(recipe: &Recipe) -> Option<Plan> {
    match make(recipe) {
        Ok(plan) => Some(plan),
        Err(PlanError::Impossible(_)) => None,
        Err(PlanError::Bug(bug)) => panic!("{bug}"),
    }
}

fn steps(plan: &Plan) -> impl Iterator<Item = &Step> {
    plan.sections.iter().flat_map(|s| &s.steps)
}
