//! What stands in the form of Measure and on the screen of a pattern. The store keeps the texts and does not
//! read them.

use super::error::StoreError;
use super::handle::Store;
use super::keys;

impl Store<'_> {
    /// What stood in the form of Measure, as it was given to [`Store::save_draft`].
    pub fn draft(self) -> Option<String> {
        self.shelf().get(keys::DRAFT).ok().flatten()
    }

    /// Keeps what stands in the form of Measure.
    ///
    /// # Errors
    /// When it cannot be stored.
    pub fn save_draft(self, text: &str) -> Result<(), StoreError> {
        self.shelf().put(keys::DRAFT, text)
    }

    /// Forgets what stood in the form of Measure.
    ///
    /// # Errors
    /// When the storage refuses.
    pub fn drop_draft(self) -> Result<(), StoreError> {
        self.shelf().remove(keys::DRAFT)
    }

    /// What stood on the screen of a pattern, as it was given to [`Store::save_pattern_draft`].
    pub fn pattern_draft(self) -> Option<String> {
        self.shelf().get(keys::PATTERN_DRAFT).ok().flatten()
    }

    /// Keeps what stands on the screen of a pattern.
    ///
    /// # Errors
    /// When it cannot be stored.
    pub fn save_pattern_draft(self, text: &str) -> Result<(), StoreError> {
        self.shelf().put(keys::PATTERN_DRAFT, text)
    }

    /// What stood in the form of Measure before a recipe came with an address.
    pub fn draft_before(self) -> Option<String> {
        self.shelf().get(keys::DRAFT_BEFORE).ok().flatten()
    }

    /// Keeps what stood in the form of Measure before a recipe came.
    ///
    /// # Errors
    /// When it cannot be stored.
    pub fn keep_draft_before(self, text: &str) -> Result<(), StoreError> {
        self.shelf().put(keys::DRAFT_BEFORE, text)
    }

    /// Forgets what stood in the form of Measure before a recipe came.
    ///
    /// # Errors
    /// When the storage refuses.
    pub fn drop_draft_before(self) -> Result<(), StoreError> {
        self.shelf().remove(keys::DRAFT_BEFORE)
    }
}
