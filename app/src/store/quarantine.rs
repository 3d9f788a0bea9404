//! Quarantine: what cannot be read is moved under another key, out of the way, never erased, part of
//! every backup. To the knitter it is "set aside".

use evenloop_engine::sort::sort;

use super::error::StoreError;
use super::handle::Store;
use super::keys;
use super::operation::StoredChange;
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
pub(super) fn had(key: &str) -> Option<&str> {
    // A pair that was not chosen can be read, and so can what parted; neither belongs to this.
    let readable = [keys::NOT_CHOSEN, keys::PARTED];
    quarantined_as(key).filter(|was| !readable.iter().any(|form| was.starts_with(form)))
}

/// The key that anything had which lies under this one in quarantine.
pub(super) fn quarantined_as(key: &str) -> Option<&str> {
    let (_, was) = key.strip_prefix(keys::QUARANTINE)?.split_once(':')?;
    Some(was)
}

impl Store<'_> {
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
        sort(&mut found, |a, b| (&a.key, &a.text) < (&b.key, &b.text));
        Ok(found)
    }

    /// Lets everything in quarantine go for good.
    ///
    /// # Errors
    /// When the storage refuses; all of it is still there then.
    pub fn let_quarantined_go(self) -> Result<(), StoreError> {
        let keys = self.shelf().keys()?.into_iter();
        let gone = keys
            .filter(|key| had(key).is_some())
            .map(StoredChange::remove);
        self.commit_taking_away(&gone.collect::<Vec<_>>())
    }

    /// Moves what is under a key into quarantine, if there is anything.
    pub(super) fn quarantine(self, key: &str) -> Result<(), StoreError> {
        let Some(text) = self.shelf().get(key)? else {
            return Ok(());
        };
        let (new_key, there) = aside_key(self.shelf(), key, &text)?;
        if there {
            // It was stopped between the two once before.
            return self.shelf().remove(key);
        }
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

    /// The changes that move these keys into quarantine.
    pub(super) fn to_quarantine(self, keys: &[String]) -> Result<Vec<StoredChange>, StoreError> {
        let mut changes = Vec::new();
        for key in keys {
            if let Some(text) = self.shelf().get(key)? {
                let (new_key, _) = aside_key(self.shelf(), key, &text)?;
                changes.push(StoredChange::put(new_key, text));
                changes.push(StoredChange::remove(key.clone()));
            }
        }
        Ok(changes)
    }
}

/// A key to put a text into quarantine under, and whether it lies there already.
pub(super) fn aside_key(
    shelf: &dyn Shelf,
    key: &str,
    text: &str,
) -> Result<(String, bool), StoreError> {
    let mut number = 1_u32;
    loop {
        let new_key = format!("{}{number}:{key}", keys::QUARANTINE);
        match shelf.get(&new_key)? {
            None => return Ok((new_key, false)),
            Some(there) if there == text => return Ok((new_key, true)),
            Some(_) => number += 1,
        }
    }
}
