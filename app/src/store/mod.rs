//! Everything the knitter would not want to lose: pairs, their logs, settings, drafts.
//!
//! A touch of the pad rewrites one small chunk of one log and one small head. Every chunk has a
//! checksum; what cannot be read goes into quarantine, never erased, and what comes before it is kept. The
//! plan of a pair is stored with it and never made again.
//!
//! [`here`] is the store of this browser, a [`Store`] over a shelf; tests put one over a shelf in memory.
//!
//! May use the engine's stored forms and, in the browser, `localStorage` through gloo-storage; must
//! not know any screen. Use it only from effects and event handlers: on the server there is no
//! shelf and every call says [`StoreError::Denied`]. A browser that denies storage gets the page's
//! memory instead: see [`lasts`].
mod backup;
mod backup_reminder;
#[cfg(feature = "hydrate")]
mod browser;
mod comparison;
mod device;
mod drafts;
mod error;
mod first_paint;
mod follow;
mod handle;
mod heads;
pub mod keys;
mod logs;
mod not_chosen;
mod operation;
mod pair;
mod pairs;
mod parted;
mod permanence;
mod practice;
mod quarantine;
mod replans;
mod restore;
mod settings;
mod shelf;
mod shown_once;
mod side;
mod stored_again;
mod taken_out;
#[cfg(test)]
mod tests;
mod this_device;
mod torn;
#[cfg(any(test, feature = "hydrate"))]
mod waiting;

pub use backup::{BackupRefused, FILE_LIMIT};
pub use comparison::{COMPARED_AFTER, COMPARED_BY};
pub use device::{copies_last_the_same, lasts, nearly_full, note_shown, now, take_put_back, waits};
pub use error::{StoreError, StoredPart};
pub use first_paint::{StoredText, TakenTouches, base};
pub use follow::OtherWindows;
pub use handle::{Store, here};
pub use not_chosen::NotChosen;
pub use pair::{
    KnittedPlan, NAME_LIMIT, OpenPair, PairHead, PairId, PairProgress, PairStanding, PlanTexts,
    tidy_name,
};
pub use pairs::rehearse_record;
pub use permanence::{
    AppleDevice, Permanence, ask_to_stay, is_installed, may_be_cleared_unvisited, permanence,
    second_copy_is_whole,
};
pub use practice::Practice;
pub use quarantine::Quarantined;
pub use replans::NewPlans;
pub use restore::{Choices, Chosen, PartedPair, Preview, Restored};
pub use settings::{Handedness, Settings, Theme};
pub use side::{Branch, PartedOver};
