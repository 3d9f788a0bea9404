//! Quarantine: what cannot be read is moved under another key, out of the way, never erased, part of
//! every backup. To the knitter it is "set aside".

use std::collections::BTreeSet;

use super::error::StoreError;
use super::handle::Store;
use super::keys;
use super::shelf::Shelf;

/// Something in quarantine.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Quarantined {
    /// The key it had.
    pub key: String,
    /// What it says, raw.
    pub text: String,
}

/// The key that something had which is in quarantine under this one.
fn had(key: &str) -> Option<&str> {
    let (_, was) = key.strip_prefix(keys::QUARANTINE)?.split_once(':')?;
    Some(was)
}

impl<'a> Store<'a> {
    /// Whether anything is in quarantine.
    ///
    /// # Errors
    /// When there is no storage.
    pub fn any_quarantined(self) -> Result<bool, StoreError> {
        Ok(self.shelf().keys()?.iter().any(|key| had(key).is_some()))
    }

    /// Everything that could not be read and is in quarantine.
    ///
    /// # Errors
    /// When there is no storage.
    pub fn quarantined(self) -> Result<Vec<Quarantined>, StoreError> {
        let mut found = Vec::new();
        for key in self.shelf().keys()? {
            let Some(was) = had(&key) else {
                continue;
            };
            if let Some(text) = self.shelf().get(&key)? {
                found.push(Quarantined {
                    key: was.to_owned(),
                    text,
                });
            }
        }
        found.sort_by(|a, b| a.key.cmp(&b.key));
        Ok(found)
    }

    /// Moves what is under a key into quarantine, if there is anything.
    pub(super) fn quarantine(self, key: &str) -> Result<(), StoreError> {
        let Some(text) = self.shelf().get(key)? else {
            return Ok(());
        };
        let (new_key, _) = free_key(self.shelf(), key, 1)?;
        match self.shelf().put(&new_key, &text) {
            Ok(()) => self.shelf().remove(key),
            // Too full for a copy beside the original: make room first, and put the original back
            // should even that not do.
            Err(StoreError::Full) => {
                self.shelf().remove(key)?;
                self.shelf().put(&new_key, &text).inspect_err(|_| {
                    // It stood there a moment ago, so it fits.
                    let _ = self.shelf().put(key, &text);
                })
            }
            Err(error) => Err(error),
        }
    }

    /// The quarantine of a file that comes from elsewhere.
    pub(super) fn file_quarantine(self) -> Result<FileQuarantine<'a>, StoreError> {
        let there = self.quarantined()?;
        Ok(FileQuarantine {
            shelf: self.shelf(),
            there: there.into_iter().map(|one| (one.key, one.text)).collect(),
            number: 1,
        })
    }
}

/// What comes in a file and cannot be read is put in here. A text that is in quarantine already under
/// the same key is not put again.
pub(super) struct FileQuarantine<'a> {
    shelf: &'a dyn Shelf,
    /// Keys and texts in quarantine. Listed once: a file may bring very many.
    there: BTreeSet<(String, String)>,
    /// Where to go on looking for a free number.
    number: u32,
}

impl FileQuarantine<'_> {
    /// Puts a text into quarantine under the key it had there.
    pub(super) fn put(&mut self, key: &str, text: &str) -> Result<(), StoreError> {
        let entry = (key.to_owned(), text.to_owned());
        if self.there.contains(&entry) {
            return Ok(());
        }
        let (new_key, number) = free_key(self.shelf, key, self.number)?;
        self.shelf.put(&new_key, text)?;
        self.number = number;
        self.there.insert(entry);
        Ok(())
    }
}

/// A key to put something into quarantine under, with its number, which is not below `number`.
fn free_key(shelf: &dyn Shelf, key: &str, mut number: u32) -> Result<(String, u32), StoreError> {
    loop {
        let new_key = format!("{}{number}:{key}", keys::QUARANTINE);
        if shelf.get(&new_key)?.is_none() {
            return Ok((new_key, number));
        }
        number += 1;
    }
}
