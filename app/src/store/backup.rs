//! Everything in one file. The file carries every key with its text as it lies on the shelf, what is in
//! quarantine included, so that nothing has to be understood to be saved; and which device it is of.

use std::collections::BTreeMap;

use evenloop_engine::journal::Seconds;
use evenloop_engine::json::from_json;
use evenloop_engine::sort::sort;
use serde::{Deserialize, Serialize, Serializer};

use super::error::StoreError;
use super::handle::Store;
use super::keys;
use super::this_device::DeviceForm;

/// Largest file that is looked at, in bytes: several times what a browser stores for one site.
pub const FILE_LIMIT: usize = 24 * 1024 * 1024;

const VERSION: u32 = 1;

/// What is of this device alone, or is counted by it later: it means nothing elsewhere.
const NOT_IN_FILES: [&str; 4] = [
    keys::ECHO_NUMBER,
    keys::RESERVE,
    keys::DEVICE,
    keys::TOUCHED,
];

/// What is read of it, once its label is known to be ours ([`BackupHeader`]).
#[derive(Deserialize)]
pub(super) struct BackupFile {
    /// When it was saved.
    pub(super) made: Seconds,
    /// Where; an older Evenloop neither says nor looks.
    #[serde(default)]
    pub(super) device: Option<DeviceForm>,
    pub(super) entries: BTreeMap<String, String>,
}

/// The same as it is written: a map would be more code than all of this, and this lies in a page's first load.
#[derive(Serialize)]
struct SavedFile {
    evenloop: BackupMarker,
    version: u32,
    made: Seconds,
    #[serde(skip_serializing_if = "Option::is_none")]
    device: Option<DeviceForm>,
    #[serde(serialize_with = "as_object")]
    entries: Vec<(String, String)>,
}

fn as_object<S: Serializer>(entries: &[(String, String)], s: S) -> Result<S::Ok, S::Error> {
    s.collect_map(entries.iter().map(|(key, text)| (key, text)))
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
enum BackupMarker {
    Backup,
}

#[derive(Deserialize)]
struct BackupHeader {
    #[allow(dead_code)] // read so that another file is not taken for a backup
    evenloop: BackupMarker,
    version: u32,
}

/// Why a file is refused. Nothing was changed then.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BackupRefused {
    /// It is larger than [`FILE_LIMIT`].
    TooLarge,
    /// It is not a backup of ours.
    NotOurs,
    /// It was made by a newer Evenloop.
    Newer,
    /// The part of the app that reads it cannot be had just now.
    NotLoaded,
}

impl Store<'_> {
    /// Everything as one document to keep elsewhere; `now` is seconds since 1970.
    ///
    /// # Errors
    /// When there is no storage.
    pub fn backup(self, now: u64) -> Result<String, StoreError> {
        self.finish_operation()?;
        let mut keys = self.shelf().keys()?;
        sort(&mut keys, |a, b| a < b);
        let mut entries = Vec::new();
        for key in keys {
            if key.starts_with(keys::ROOT)
                && !NOT_IN_FILES.contains(&key.as_str())
                && let Some(text) = self.shelf().get(&key)?
            {
                entries.push((key, text));
            }
        }
        let file = SavedFile {
            evenloop: BackupMarker::Backup,
            version: VERSION,
            made: now,
            device: self.known_device().as_ref().map(DeviceForm::of),
            entries,
        };
        // Texts under texts: nothing in it that JSON could refuse.
        Ok(serde_json::to_string(&file).unwrap_or_default())
    }
}

/// Reads a backup.
///
/// # Errors
/// When it is none that can be read.
pub(super) fn read_backup(text: &str) -> Result<BackupFile, BackupRefused> {
    if text.len() > FILE_LIMIT {
        return Err(BackupRefused::TooLarge);
    }
    let label: BackupHeader = from_json(text).map_err(|_| BackupRefused::NotOurs)?;
    match label.version {
        0 => return Err(BackupRefused::NotOurs),
        1..=VERSION => {}
        _ => return Err(BackupRefused::Newer),
    }
    from_json(text).map_err(|_| BackupRefused::NotOurs)
}
