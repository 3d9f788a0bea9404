//! A backup of another device, or an earlier one of this, brought together with what is here.
//!
//! Of a pair that is in both, each log goes on with all that either has: see `side`. Where both went different
//! ways, the knitter chooses, and what was not chosen is kept; nothing here is overwritten that the file
//! does not continue. All of it is one operation.
//!
//! May use the store's other files and the engine's `merge`; must not know a screen.

mod merge;
mod report;
mod unreadable;

use std::collections::BTreeMap;

use evenloop_engine::journal::Seconds;

use self::merge::{Brought, Merge};
pub use self::report::{Choices, Chosen, PartedPair, Preview, Restored};
use super::backup::{BackupRefused, read_backup};
use super::error::StoreError;
use super::handle::Store;
use super::operation::StoredChange;
use super::side::MergeOrigin;
use super::this_device::DeviceForm;

impl Store<'_> {
    /// Says what bringing a file in would do. Nothing is changed, but what cannot be read here is set aside as by opening it.
    ///
    /// # Errors
    /// When it is no backup that can be read.
    pub fn look_into(self, text: &str, now: Seconds) -> Result<Preview, BackupRefused> {
        let file = read_backup(text)?;
        let mut preview = Preview {
            device: file
                .device
                .as_ref()
                .and_then(DeviceForm::read)
                .map(|device| device.name),
            made: file.made,
            would: Restored::default(),
            parted: Vec::new(),
            changes: false,
        };
        let mut each = Merge::of(self, &file.entries, None, now);
        match each.all() {
            Ok(all) => {
                preview.parted = each.parted;
                for one in all {
                    let mut changes = one.changes.iter();
                    preview.changes |= changes.any(|change| change.is_due(self));
                    preview.would.add(one.said);
                }
            }
            Err(error) => preview.would.stopped = Some(error),
        }
        Ok(preview)
    }

    /// Brings a file in; see [`Restored`] for what became of what. All of it is one operation where there is room
    /// for that, else each pair is one. The same file a second time changes nothing.
    ///
    /// # Errors
    /// When it is no backup that can be read; nothing was changed then.
    pub fn restore(
        self,
        text: &str,
        choices: &Choices,
        now: Seconds,
    ) -> Result<Restored, BackupRefused> {
        let file = read_backup(text)?;
        let mut report = Restored::default();
        let done = Merge::of(self, &file.entries, Some(choices), now)
            .all()
            .and_then(|all| commit(self, all, &mut report));
        report.stopped = done.err();
        Ok(report)
    }

    /// Merges texts as those of a file, and makes some more changes with it; of pairs that went different ways both
    /// are kept.
    ///
    /// # Errors
    /// When the storage refuses.
    pub(super) fn merge_texts(
        self,
        texts: &BTreeMap<String, String>,
        origin: MergeOrigin,
        changes: Vec<StoredChange>,
        now: Seconds,
    ) -> Result<Restored, StoreError> {
        let choices = Choices::new();
        let mut merge = Merge::of(self, texts, Some(&choices), now);
        merge.origin = origin;
        let mut all = merge.all()?;
        all.push(Brought {
            changes,
            said: Restored::default(),
        });
        let mut report = Restored::default();
        commit(self, all, &mut report)?;
        Ok(report)
    }
}

fn commit(store: Store<'_>, all: Vec<Brought>, report: &mut Restored) -> Result<(), StoreError> {
    let changes: Vec<StoredChange> = all.iter().flat_map(|one| one.changes.clone()).collect();
    match store.commit(&changes) {
        Err(StoreError::Full) => {
            // Not all at once: then as much as there is room for, pair by pair.
            for one in all {
                store.commit(&one.changes)?;
                report.add(one.said);
            }
        }
        done => {
            done?;
            for one in all {
                report.add(one.said);
            }
        }
    }
    Ok(())
}
