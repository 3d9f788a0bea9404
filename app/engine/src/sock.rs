//! Any recipe to its plan: one of ours, or one that follows a written pattern.
//!
//! Stands above the reader of patterns and the planner. Who plans only socks of ours uses
//! [`crate::plan::make()`] and need not carry the reader.

use crate::pattern::{Finding, FollowedPart, Heights, first_line, follow};
use crate::plan::{self, Plan, PlanError, begun_by_ours};
use crate::recipe::{Recipe, Written};

/// Makes the whole sock.
///
/// # Errors
/// As [`plan::make()`]; and what makes no sock of a pattern.
pub fn make(recipe: &Recipe) -> Result<Plan, PlanError> {
    match &recipe.written {
        Some(written) => plan::make_followed(recipe, read(recipe, written).0),
        None => plan::make(recipe),
    }
}

/// What becomes of a recipe with a pattern: the sock, or why there is none, and what was found in its text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Looked {
    /// As [`make`] gives it.
    pub plan: Result<Plan, PlanError>,
    /// What does not come out, in the order of the lines; nothing where the recipe has no pattern.
    pub findings: Vec<Finding>,
}

/// Reads a pattern once, for the sock and for what is wrong with it.
pub fn look(recipe: &Recipe) -> Looked {
    let Some(written) = &recipe.written else {
        return Looked {
            plan: plan::make(recipe),
            findings: Vec::new(),
        };
    };
    let (parts, findings) = read(recipe, written);
    Looked {
        plan: plan::make_followed(recipe, parts),
        findings,
    }
}

/// What was found in a recipe's pattern, each with the line on which the words begin that it was found in.
pub fn found(recipe: &Recipe) -> Vec<(u32, Finding)> {
    let Some(written) = &recipe.written else {
        return Vec::new();
    };
    let findings = read(recipe, written).1.into_iter();
    let at_line = |finding: Finding| (first_line(&written.text, finding.spot.line), finding);
    findings.map(at_line).collect()
}

/// Replans the rest of a begun sock.
///
/// # Errors
/// As [`plan::replan()`]; and what makes no sock of a pattern.
pub fn replan(old: &Plan, done: usize, recipe: &Recipe) -> Result<Plan, PlanError> {
    match &recipe.written {
        Some(written) => plan::replan_followed(old, done, recipe, read(recipe, written).0),
        None => plan::replan(old, done, recipe),
    }
}

fn read(recipe: &Recipe, written: &Written) -> (Vec<FollowedPart>, Vec<Finding>) {
    let size = written.size.map(usize::from);
    let begun = begun_by_ours(recipe, written);
    follow(&written.text, size, begun, &Heights::of(recipe.swatch))
}
