//! What is shown once on a device: whether the knitter has read that everything is stored and
//! how it is kept longer. Should a note of it not be stored, it is shown once more.

use super::handle::Store;
use super::keys;

impl Store<'_> {
    /// Whether the knitter has been told that everything is stored on the device.
    pub fn was_told_stored(self) -> bool {
        self.shelf().get(keys::TOLD_STORED).ok().flatten().is_some()
    }

    /// Notes that the knitter has been told.
    pub fn note_told_stored(self) {
        let _ = self.shelf().put(keys::TOLD_STORED, "1");
    }
    /// Whether the knitter has been told what an installed app does for what is stored.
    pub fn was_told_install(self) -> bool {
        self.shelf()
            .get(keys::TOLD_INSTALL)
            .ok()
            .flatten()
            .is_some()
    }

    /// Notes that the knitter has been told.
    pub fn note_told_install(self) {
        let _ = self.shelf().put(keys::TOLD_INSTALL, "1");
    }
}
