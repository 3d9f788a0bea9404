//! What is said where the storage refuses, or something stored was damaged.

use crate::store::{StoreError, StoredPart};
use crate::text;

/// Why nothing can be stored just now; counting goes on.
pub(super) const fn not_stored(error: &StoreError) -> &'static str {
    match error {
        StoreError::Denied => text::now::NOT_STORED_DENIED,
        StoreError::Full => text::now::NOT_STORED_FULL,
        StoreError::NotThere => text::now::NOT_STORED_TAKEN_OUT,
        StoreError::Behind => text::now::NOT_STORED_BEHIND,
        StoreError::Newer { .. } => text::now::NOT_STORED_NEWER,
        StoreError::Damaged { .. }
        | StoreError::Elsewhere
        | StoreError::OtherPlan(_)
        | StoreError::NotLoaded => text::now::NOT_STORED,
    }
}

/// What was lost of a log when the pair was opened.
pub(super) fn lost(error: &StoreError) -> String {
    match error {
        StoreError::Damaged {
            what: StoredPart::Log(_),
            kept,
        } => text::now::log_damaged(*kept),
        StoreError::OtherPlan(_) => text::now::OTHER_PLAN.to_owned(),
        _ => text::now::MENDED.to_owned(),
    }
}
