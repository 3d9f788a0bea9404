//! What reads patterns, and what writes a plan down as one, for screens that can be shown without them: loaded when they
//! are asked for.
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
use evenloop_engine::text::{NotWritten, Typed, Wording, as_pattern};
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

/// A plan written down as a pattern, or why it is not.
pub type WrittenDown = Result<String, NotWritten>;

/// Writes a plan down as a pattern, in the trade's abbreviations whatever the settings are: those it is surely read in.
/// What does so is wanted by few, and a part of its own.
///
/// # Errors
/// When it cannot be had.
#[wasm_split(written_down, wasm_split_path = ::leptos::wasm_split, fallible)]
pub fn write_down(
    knitted: Arc<KnittedPlan>,
    name: Option<Typed>,
) -> Result<WrittenDown, SplitLoaderError> {
    let KnittedPlan { plan, trace } = &*knitted;
    Ok(as_pattern(plan, trace, name.as_ref(), Wording::default()))
}

/// Reads a plan back that was written down: see [`read_back::pattern`].
///
/// # Errors
/// When what reads patterns cannot be had.
#[wasm_split(pattern, wasm_split_path = ::leptos::wasm_split, fallible)]
pub fn read_back(knitted: Arc<KnittedPlan>, text: String) -> Result<WrittenDown, SplitLoaderError> {
    Ok(read_back::pattern(&knitted.plan, text))
}
