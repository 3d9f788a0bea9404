//! What is said where the storage refuses, or something stored was damaged.

use crate::store::{StoreError, StoredPart};
use crate::text;

/// Why a pair does not open.
pub(super) const fn shut(error: &StoreError) -> &'static str {
    match error {
        StoreError::Damaged {
            what: StoredPart::Plan,
            ..
        } => text::basket::SHUT_DAMAGED,
        StoreError::Newer { .. } => text::basket::SHUT_NEWER,
        StoreError::NotThere => text::basket::SHUT_TAKEN_OUT,
        StoreError::Denied => text::basket::DENIED,
        StoreError::NotLoaded => text::basket::NOT_LOADED,
        StoreError::Full
        | StoreError::Behind
        | StoreError::Elsewhere
        | StoreError::OtherPlan(_)
        | StoreError::Damaged { .. } => text::basket::SHUT_JUST_NOW,
    }
}

/// Why a pair opens with less than was counted.
pub(super) fn opens_with_less(error: &StoreError) -> String {
    match error {
        StoreError::Damaged {
            what: StoredPart::Log(_),
            kept,
        } => text::basket::log_damaged(*kept),
        StoreError::OtherPlan(_) => text::now::OTHER_PLAN.to_owned(),
        _ => text::basket::MENDED.to_owned(),
    }
}

/// Why a pair that was taken out stays out.
pub(super) const fn stays_out(error: &StoreError) -> &'static str {
    match error {
        StoreError::NotLoaded => text::basket::NOT_LOADED,
        _ => text::basket::NO_ROOM_BACK,
    }
}
