//! What was found in the knitter's own pattern, and a plan written down as one, for screens that can be shown
//! without it: the reader of patterns is large, and loaded for a pair that follows one.
//!
//! May use the engine's reader, its words and the store's plans; must not know any screen. On the server it is simply there.

// The attribute that marks where to split writes foreign functions, which the tool puts in.
#![allow(unsafe_code)]
// What is asked for here always comes; that its part does not is put in by the same attribute.
#![allow(clippy::unnecessary_wraps)]

use std::sync::Arc;

use evenloop_engine::read_back::reads_back;
use evenloop_engine::recipe::Recipe;
use evenloop_engine::sock;
use evenloop_engine::text::{Wording, as_pattern, pattern_finding};
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use crate::store::KnittedPlan;

/// What reads patterns cannot be had.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotLoaded;

impl From<SplitLoaderError> for NotLoaded {
    fn from(_: SplitLoaderError) -> Self {
        Self
    }
}

/// What was found in a recipe's pattern: in which line, from 1, and what that is.
///
/// # Errors
/// When this cannot be had.
#[wasm_split(pattern, wasm_split_path = ::leptos::wasm_split, fallible)]
pub fn found_in(recipe: Box<Recipe>) -> Result<Vec<(u32, String)>, NotLoaded> {
    let found = sock::found(&recipe).into_iter();
    let said = found.map(|(line, finding)| (line, pattern_finding(&finding.what)));
    Ok(said.collect())
}

/// A plan written down as a pattern, and whether it is read back into the same stitches. It is in the trade's
/// abbreviations, whatever the settings are: those it is surely read in.
///
/// # Errors
/// When this cannot be had.
#[wasm_split(pattern, wasm_split_path = ::leptos::wasm_split, fallible)]
pub fn written_as_pattern(knitted: Arc<KnittedPlan>) -> Result<(String, bool), NotLoaded> {
    let text = as_pattern(&knitted.plan, &knitted.trace, Wording::default());
    let whole = reads_back(&knitted.plan, &text);
    Ok((text, whole))
}
