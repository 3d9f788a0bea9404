//! Whether a plan that was written down as a pattern is the same sock when it is read.
//!
//! Stands above the words and the reader of patterns.

use crate::plan::Plan;
use crate::recipe::{Recipe, Written};
use crate::sock::look;
use crate::text::{NotWritten, worked};

/// A text that a plan was written down as, once it has been read back into the same stitches.
///
/// # Errors
/// When it is read otherwise.
pub fn pattern(plan: &Plan, text: String) -> Result<String, NotWritten> {
    // her own words stand for themselves, whatever was found in them
    let own = plan
        .recipe
        .written
        .as_ref()
        .is_some_and(|own| own.text == text);
    if own || reads_back(plan, &text) {
        Ok(text)
    } else {
        Err(NotWritten::ReadOtherwise)
    }
}

/// Whether a plan that was written down as a pattern is read back into the same stitches, on its own needles.
pub fn reads_back(plan: &Plan, text: &str) -> bool {
    let read = look(&Recipe {
        needles: plan.recipe.needles,
        direction: plan.recipe.direction,
        swatch: plan.recipe.swatch,
        written: Some(Written {
            text: text.to_owned(),
            size: None,
            ours: Vec::new(),
        }),
        ..Recipe::default()
    });
    let same = |read: Plan| worked(&read) == worked(plan);
    read.findings.is_empty() && read.plan.is_ok_and(same)
}
