//! Any recipe to its plan: one of ours, or one that follows a written pattern.
//!
//! Stands above the reader of patterns and the planner. Who plans only socks of ours uses
//! [`crate::plan::make()`] and need not carry the reader.

use crate::error::{FieldError, Problem};
use crate::pattern::{
    CountInBrackets, Finding, FollowedPart, KnittersOwn, ReadBefore, Reading, begins_at_toe, kept,
};
use crate::plan::{self, Plan, PlanError, begun_by_ours};
use crate::recipe::{Direction, Method, Recipe, Written};

/// The recipe that follows a written pattern of one size in all its parts, from the end that the pattern begins
/// with, on these needles. The rest of it is as usual.
pub fn by_pattern(text: &str, needles: Method) -> Recipe {
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

/// Makes the whole sock.
///
/// # Errors
/// As [`plan::make()`]; and what makes no sock of a pattern.
pub fn make(recipe: &Recipe) -> Result<Plan, PlanError> {
    look(recipe).plan
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
    let (parts, findings) = reading(recipe, written).end();
    looked(recipe, written, parts, findings)
}

/// A recipe with a pattern that is looked at a little at a time, for who must not be kept waiting: it comes to what
/// [`look`] gives at once.
#[derive(Debug, Clone)]
pub struct Looking {
    recipe: Recipe,
    /// The pattern, until all of it is knitted.
    reading: Option<Reading>,
    /// What is kept of it then.
    kept: ReadBefore,
}

impl Looking {
    /// Begins, after another one that was looked at before: what their texts have in common is not read again, nor what
    /// stands before the first change knitted again. It comes to the same.
    pub fn begin_after(before: ReadBefore, recipe: Recipe) -> Self {
        let (mut kept, mut reading) = (before, None);
        if let Some(written) = &recipe.written {
            let size = written.size.map(usize::from);
            let begun = begun_by_ours(&recipe, written);
            let own = KnittersOwn::of(&recipe);
            let before = std::mem::take(&mut kept);
            reading = Some(Reading::begin_after(
                before,
                &written.text,
                size,
                begun,
                &own,
            ));
        }
        Self {
            recipe,
            reading,
            kept,
        }
    }

    /// What is kept for the next one, whether this one was looked at to its end or not.
    pub fn kept(self) -> ReadBefore {
        self.reading.map_or(self.kept, |mut reading| reading.kept())
    }

    /// Reads so many lines more, knits about so many statements, or makes the sock. Nothing while anything is left.
    pub fn go_on(&mut self, most: usize) -> Option<Looked> {
        if let Some(reading) = &mut self.reading
            && reading.go_on(most)
        {
            return None;
        }
        match (&self.recipe.written, self.reading.take()) {
            (Some(written), Some(mut reading)) => {
                self.kept = reading.kept();
                let (parts, findings) = reading.end();
                Some(looked(&self.recipe, written, parts, findings))
            }
            _ => Some(look(&self.recipe)),
        }
    }
}

fn looked(
    recipe: &Recipe,
    written: &Written,
    parts: Vec<FollowedPart>,
    findings: Vec<Finding>,
) -> Looked {
    let plan = plan::make_followed(recipe, parts);
    let plan = plan.map_err(|why| parts_do_not_meet(written, &findings, why));
    Looked {
        plan: plan.map(|plan| with_found(plan, written, &findings)),
        findings,
    }
}

/// After a line that does not come out a part of ours may not find what it needs: that is told of the part, and is no
/// mistake of ours.
fn parts_do_not_meet(written: &Written, findings: &[Finding], why: PlanError) -> PlanError {
    match why {
        PlanError::Bug(bug) if !findings.is_empty() && !written.ours.is_empty() => {
            let part = bug.section.part();
            FieldError::new("written.ours", Problem::PartsDoNotMeet { part }).into()
        }
        other => other,
    }
}

/// Replans the rest of a begun sock.
///
/// # Errors
/// As [`plan::replan()`]; and what makes no sock of a pattern.
pub fn replan(old: &Plan, done: usize, recipe: &Recipe) -> Result<Plan, PlanError> {
    match &recipe.written {
        Some(written) => {
            let (parts, findings) = reading(recipe, written).end();
            let plan = plan::replan_followed(old, done, recipe, parts)
                .map_err(|why| parts_do_not_meet(written, &findings, why))?;
            Ok(with_found(plan, written, &findings))
        }
        None => plan::replan(old, done, recipe),
    }
}

/// The count in brackets after the round of a recipe's pattern that ends at a place of its text, in bytes, to be
/// worked out: see [`CountInBrackets`]. Nothing where none belongs there.
pub fn count_in_brackets(recipe: &Recipe, cursor: usize) -> Option<CountInBrackets> {
    let written = recipe.written.as_ref()?;
    let size = written.size.map(usize::from);
    let begun = begun_by_ours(recipe, written);
    let own = KnittersOwn::of(recipe);
    CountInBrackets::begin(&written.text, cursor, size, begun, &own)
}

fn reading(recipe: &Recipe, written: &Written) -> Reading {
    let size = written.size.map(usize::from);
    let begun = begun_by_ours(recipe, written);
    Reading::begin(&written.text, size, begun, &KnittersOwn::of(recipe))
}

/// What was found stays with the plan: who shows it need not read the pattern.
fn with_found(plan: Plan, written: &Written, findings: &[Finding]) -> Plan {
    Plan {
        found: kept(&written.text, findings),
        ..plan
    }
}
