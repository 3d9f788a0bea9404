//! Planning, to be called by a page with nothing round it.

use evenloop_engine::plan::make;
use evenloop_engine::recipe::Recipe;
use evenloop_engine::trace::Trace;

/// Plans a sock of so many stitches with every stitch simulated, and knits it through once more as
/// when a pair is opened. Answers how many steps it has; 0 when there is no such sock.
#[unsafe(no_mangle)]
pub extern "C" fn plan(stitches: u16) -> u32 {
    let recipe = Recipe {
        stitches: Some(stitches),
        ..Recipe::default()
    };
    let Ok(plan) = make(&recipe) else { return 0 };
    Trace::of(&plan).map_or(0, |trace| u32::try_from(trace.steps.len()).unwrap_or(0))
}
