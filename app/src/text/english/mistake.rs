//! What only Evenloop can mend.

use evenloop_engine::plan::PlanBug;

pub(crate) const MISTAKE: &str = "Evenloop made a mistake here; your sock is as it was.";

/// The same with the place in the plan, for whoever reports it.
pub(crate) fn mistake(bug: &PlanBug) -> String {
    format!("{MISTAKE} ({}, {})", bug.section.key(), bug.step + 1)
}
