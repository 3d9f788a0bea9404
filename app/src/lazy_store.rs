//! What reads plans and logs, for screens that can be shown without it: it is large, and loaded when it
//! is first asked for. Each of these asks for it again while it cannot be had. Who takes a pair in hand is about to
//! go to Now and gets that screen's part; all else about whole pairs lies in a part with what brings
//! files in, so that Now does not carry it.
//!
//! May use the store and the engine's stored forms; must not know any screen. On the server it is
//! simply there.

// The attribute that marks where to split writes foreign functions, which the tool puts in.
#![allow(unsafe_code)]

use evenloop_engine::link::write_link;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use crate::routes;
use crate::store::{self, BackupRefused, PairHead, PairId, Restored, StoreError};

impl From<SplitLoaderError> for StoreError {
    fn from(_: SplitLoaderError) -> Self {
        Self::NotLoaded
    }
}

impl From<SplitLoaderError> for BackupRefused {
    fn from(_: SplitLoaderError) -> Self {
        Self::NotLoaded
    }
}

/// All pairs as [`Store::pairs`](store::Store::pairs) has them, those among them that must be opened to be known,
/// after what is torn was mended.
///
/// # Errors
/// When there is no storage, or this cannot be had.
#[wasm_split(pairs, wasm_split_path = ::leptos::wasm_split, fallible)]
pub fn all_pairs() -> Result<Vec<PairHead>, StoreError> {
    mend_torn();
    store::here().pairs()
}

/// Sets aside what belongs to no pair, and brings together what both copies of the storage did not agree on: see
/// [`Store::join_parted`](store::Store::join_parted).
///
/// # Errors
/// When the storage refuses, or this cannot be had; it lies where it did then.
#[wasm_split(pairs, wasm_split_path = ::leptos::wasm_split, fallible)]
pub fn collect_left_over() -> Result<Restored, StoreError> {
    mend_torn();
    store::here().join_parted(store::now())
}

fn mend_torn() {
    // What is missing may still be in the second copy.
    if store::second_copy_is_whole() {
        // Where there is no room for it, it is mended another time.
        let _ = store::here().mend_torn();
    }
}

/// Opens a pair to see that it opens, and takes it in hand. Gives what had to be set aside.
///
/// # Errors
/// When the pair does not open, or this cannot be had; the pair at hand is then the one it was.
#[wasm_split(now, wasm_split_path = ::leptos::wasm_split, fallible)]
pub fn take_in_hand(id: PairId) -> Result<Option<StoreError>, StoreError> {
    let pair = store::here().open(&id)?;
    store::here().set_current(&id)?;
    Ok(pair.trouble)
}

/// Takes a pair out of the basket: see [`Store::take_out`](store::Store::take_out).
///
/// # Errors
/// When the storage refuses, or this cannot be had; nothing was changed in that case.
#[wasm_split(pairs, wasm_split_path = ::leptos::wasm_split, fallible)]
pub fn take_out(id: PairId) -> Result<bool, StoreError> {
    store::here().take_out(&id)
}

/// Puts the pair that was taken out last back: see [`Store::put_back`](store::Store::put_back).
///
/// # Errors
/// When there is none, the storage refuses, or this cannot be had; it is still kept then.
#[wasm_split(pairs, wasm_split_path = ::leptos::wasm_split, fallible)]
pub fn put_back() -> Result<(), StoreError> {
    store::here().put_back()
}

/// The path on which the recipe that a pair was cast on with is changed for another foot.
///
/// # Errors
/// When the pair does not open, or this cannot be had.
#[wasm_split(pairs, wasm_split_path = ::leptos::wasm_split, fallible)]
pub fn again_path(id: PairId) -> Result<String, StoreError> {
    let recipe = &store::here().open(&id)?.meant.plan.recipe;
    Ok(match recipe.written {
        Some(_) => routes::pattern_of(&id),
        None => routes::measure_recipe(&write_link(recipe)),
    })
}
