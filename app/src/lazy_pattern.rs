//! What reads patterns, for screens that can be shown without it: it is large, and loaded when it is asked for.
//!
//! May use the engine; must not know any screen. On the server it is simply there.

// The attribute that marks where to split writes foreign functions, which the tool puts in.
#![allow(unsafe_code)]
// What is asked for here always comes; that its part does not is put in by the same attribute.
#![allow(clippy::unnecessary_wraps)]

use std::sync::Arc;

use evenloop_engine::plan::{Plan, PlanError};
use evenloop_engine::read_back;
use evenloop_engine::recipe::Recipe;
use evenloop_engine::sock;
use evenloop_engine::text::NotWritten;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use crate::store::KnittedPlan;

/// What a begun sock becomes by another recipe: see [`sock::replan`].
pub type PlannedAnew = Result<Plan, PlanError>;

/// Plans the rest of a begun sock by a pattern anew.
///
/// # Errors
/// When what reads patterns cannot be had.
#[wasm_split(pattern, wasm_split_path = ::leptos::wasm_split, fallible)]
pub fn replan(
    old: Box<Plan>,
    done: usize,
    recipe: Box<Recipe>,
) -> Result<Box<PlannedAnew>, SplitLoaderError> {
    Ok(Box::new(sock::replan(&old, done, &recipe)))
}

/// A text that a plan was written down as, once it has been read back: see [`read_back::pattern`].
pub type ReadBack = Result<String, NotWritten>;

/// Reads a plan back that was written down.
///
/// # Errors
/// When what reads patterns cannot be had.
#[wasm_split(pattern, wasm_split_path = ::leptos::wasm_split, fallible)]
pub fn read_back(knitted: Arc<KnittedPlan>, text: String) -> Result<ReadBack, SplitLoaderError> {
    Ok(read_back::pattern(&knitted.plan, text))
}
