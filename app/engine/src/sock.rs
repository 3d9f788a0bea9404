//! Any recipe to its plan: one of ours, or one that follows a written pattern.
//!
//! Stands above the reader of patterns and the planner. Who plans only socks of ours uses
//! [`crate::plan::make()`] and need not carry the reader.

use crate::pattern::{FollowedPart, Heights, follow};
use crate::plan::{self, Plan, PlanError, begun_by_ours};
use crate::recipe::{Recipe, Written};

/// Makes the whole sock.
///
/// # Errors
/// As [`plan::make()`]; and what makes no sock of a pattern.
pub fn make(recipe: &Recipe) -> Result<Plan, PlanError> {
    match &recipe.written {
        Some(written) => plan::make_followed(recipe, read(recipe, written)),
        None => plan::make(recipe),
    }
}

/// Plans the rest of a begun sock anew.
///
/// # Errors
/// As [`plan::replan()`]; and what makes no sock of a pattern.
pub fn replan(old: &Plan, done: usize, recipe: &Recipe) -> Result<Plan, PlanError> {
    match &recipe.written {
        Some(written) => plan::replan_followed(old, done, recipe, read(recipe, written)),
        None => plan::replan(old, done, recipe),
    }
}

fn read(recipe: &Recipe, written: &Written) -> Vec<FollowedPart> {
    let size = written.size.map(usize::from);
    let begun = begun_by_ours(recipe, written);
    follow(&written.text, size, begun, &Heights::of(recipe.swatch)).0
}
