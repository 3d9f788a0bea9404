//! What cannot be read is moved aside under another key: out of the way, never erased, part of
//! every backup.

use std::collections::BTreeSet;

use super::error::StoreError;
use super::handle::Store;
use super::keys;
use super::shelf::Shelf;

/// Something that was set aside.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Aside {
    /// The key it had.
    pub key: String,
    /// What it says, raw.
    pub text: String,
}

/// The key that something had which was set aside under this one.
fn had(key: &str) -> Option<&str> {
    let (_, was) = key.strip_prefix(keys::ASIDE)?.split_once(':')?;
    Some(was)
}

impl<'a> Store<'a> {
    /// Whether anything was set aside.
    ///
    /// # Errors
    /// When there is no storage.
    pub fn any_set_aside(self) -> Result<bool, StoreError> {
        Ok(self.shelf().keys()?.iter().any(|key| had(key).is_some()))
    }

    /// Everything that could not be read and was set aside.
    ///
    /// # Errors
    /// When there is no storage.
    pub fn all_set_aside(self) -> Result<Vec<Aside>, StoreError> {
        let mut found = Vec::new();
        for key in self.shelf().keys()? {
            let Some(was) = had(&key) else {
                continue;
            };
            if let Some(text) = self.shelf().get(&key)? {
                found.push(Aside {
                    key: was.to_owned(),
                    text,
                });
            }
        }
        found.sort_by(|a, b| a.key.cmp(&b.key));
        Ok(found)
    }

    /// Moves what is under a key aside, if there is anything.
    pub(super) fn set_aside(self, key: &str) -> Result<(), StoreError> {
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

    /// Where to put aside what comes from elsewhere.
    pub(super) fn arrivals(self) -> Result<Arrivals<'a>, StoreError> {
        let there = self.all_set_aside()?;
        Ok(Arrivals {
            shelf: self.shelf(),
            there: there.into_iter().map(|one| (one.key, one.text)).collect(),
            number: 1,
        })
    }
}

/// What comes from elsewhere and cannot be read is put aside here. A text that already stands aside
/// under the same key is not put again.
pub(super) struct Arrivals<'a> {
    shelf: &'a dyn Shelf,
    /// Keys and texts that stand aside. Listed once: a file may bring very many.
    there: BTreeSet<(String, String)>,
    /// Where to go on looking for a free number.
    number: u32,
}

impl Arrivals<'_> {
    /// Puts a text aside under the key it had there.
    pub(super) fn put(&mut self, key: &str, text: &str) -> Result<(), StoreError> {
        let arrival = (key.to_owned(), text.to_owned());
        if self.there.contains(&arrival) {
            return Ok(());
        }
        let (new_key, number) = free_key(self.shelf, key, self.number)?;
        self.shelf.put(&new_key, text)?;
        self.number = number;
        self.there.insert(arrival);
        Ok(())
    }
}

/// A key to set something aside under, with its number, which is not below `number`.
fn free_key(shelf: &dyn Shelf, key: &str, mut number: u32) -> Result<(String, u32), StoreError> {
    loop {
        let new_key = format!("{}{number}:{key}", keys::ASIDE);
        if shelf.get(&new_key)?.is_none() {
            return Ok((new_key, number));
        }
        number += 1;
    }
}
