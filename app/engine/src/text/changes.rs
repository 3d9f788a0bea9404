//! What replanning changes.

use super::language;
use super::messages::Steps;
use super::wording::Wording;
use crate::plan::{Change, Plan, SectionKind, StepForm};

/// One change in a sentence.
pub fn change(change: Change, new: &Plan, wording: Wording) -> String {
    let steps = match change {
        Change::Section { kind, .. } => steps(new, kind),
        _ => Steps::Moves,
    };
    language::change(change, steps, wording)
}

fn steps(plan: &Plan, kind: SectionKind) -> Steps {
    let section = plan.sections.iter().find(|s| s.kind == kind);
    let has = |wanted: fn(StepForm) -> bool| {
        section.is_some_and(|s| s.steps.iter().any(|step| wanted(step.form)))
    };
    if has(|form| form == StepForm::Round) {
        Steps::Rounds
    } else if has(|form| form != StepForm::Walk) {
        Steps::Rows
    } else {
        Steps::Moves
    }
}
