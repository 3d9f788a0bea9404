//! An operation that changes several texts has one commit point: a record of all its changes, put under one
//! key before the first of them. Stopped before that, nothing was changed; stopped after it, the
//! next start does the rest. A change of a single text needs no record: it is its own commit point.
//!
//! The record is first put with as much blank space after it as the changes need, then without: where there was
//! room for that, there is room for them, so no operation stops half-way for want of it.

use evenloop_engine::journal::Digest;

use super::error::StoreError;
use super::handle::Store;
use super::keys;
use super::shelf::Shelf;

/// What one key is to hold; without a text, nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct StoredChange {
    pub(super) key: String,
    pub(super) text: Option<String>,
}

impl StoredChange {
    pub(super) const fn put(key: String, text: String) -> Self {
        Self {
            key,
            text: Some(text),
        }
    }

    pub(super) const fn remove(key: String) -> Self {
        Self { key, text: None }
    }

    /// Whether it changes anything; where that cannot be known, it may.
    pub(super) fn is_due(&self, store: Store<'_>) -> bool {
        store.shelf().get(&self.key).as_ref() != Ok(&self.text)
    }

    fn make(&self, on: &dyn Shelf) -> Result<(), StoreError> {
        match &self.text {
            Some(text) => on.put(&self.key, text),
            None => on.remove(&self.key),
        }
    }
}

/// Enough for the record that lets a pair of a hundred chunks go, in characters.
const RESERVED: usize = 4 * 1024;

impl Store<'_> {
    /// Makes all changes, or none of them.
    ///
    /// # Errors
    /// When the storage refuses; everything is then as it was, or the next start does it all.
    pub(super) fn commit(self, changes: &[StoredChange]) -> Result<(), StoreError> {
        self.finish_operation()?;
        let on = self.shelf();
        let mut due = Vec::new();
        for change in changes {
            let before = on.get(&change.key)?;
            if before != change.text {
                due.push((change, before));
            }
        }
        match due.as_slice() {
            [] => return Ok(()),
            [(only, _)] => return only.make(on),
            _ => {}
        }
        let growth = due
            .iter()
            .map(|(change, before)| growth(change, before.as_deref()));
        let record = write_changes(due.iter().map(|(change, _)| *change));
        on.put(
            keys::OPERATION,
            &(record.clone() + &" ".repeat(growth.sum())),
        )?;
        on.put(keys::OPERATION, &record)?;
        for (done, (change, _)) in due.iter().enumerate() {
            if let Err(error) = change.make(on) {
                // Backwards, so that whatever was there before has room again.
                for (change, before) in due[..done].iter().rev() {
                    StoredChange {
                        key: change.key.clone(),
                        text: before.clone(),
                    }
                    .make(on)?;
                }
                on.remove(keys::OPERATION)?;
                return Err(error);
            }
        }
        on.remove(keys::OPERATION)
    }

    /// Makes changes that take something away, on a full shelf with the room that was kept for that.
    ///
    /// # Errors
    /// As [`Store::commit`].
    pub(super) fn commit_taking_away(self, changes: &[StoredChange]) -> Result<(), StoreError> {
        let done = match self.commit(changes) {
            Err(StoreError::Full) => {
                self.shelf().remove(keys::RESERVE)?;
                self.commit(changes)
            }
            other => other,
        };
        self.keep_reserve();
        done
    }

    /// Keeps some room for [`Store::commit_taking_away`].
    pub(super) fn keep_reserve(self) {
        // Where there is no room for it, there was none to keep.
        if let Ok(None) = self.shelf().get(keys::RESERVE) {
            let _ = self.shelf().put(keys::RESERVE, &" ".repeat(RESERVED));
        }
    }

    /// Does the rest of an operation that was stopped after its commit point. To be called before anything that
    /// such an operation may have changed is read.
    ///
    /// # Errors
    /// When there is no storage.
    pub(super) fn finish_operation(self) -> Result<(), StoreError> {
        let on = self.shelf();
        let Some(text) = on.get(keys::OPERATION)? else {
            return Ok(());
        };
        let record = text.trim_end_matches(' ');
        let Some(changes) = read_changes(record) else {
            // Nobody can tell what was meant; what it would have changed is as it was left.
            return self.quarantine(keys::OPERATION);
        };
        let done = || {
            on.put(keys::OPERATION, record)?;
            for change in &changes {
                if on.get(&change.key)? != change.text {
                    change.make(on)?;
                }
            }
            on.remove(keys::OPERATION)
        };
        match done() {
            // Another window took the room. It is tried again, and keeps nothing shut meanwhile.
            Err(StoreError::Full) => Ok(()),
            other => other,
        }
    }
}

/// By how much a change makes the shelf fuller, whether that counts bytes or UTF-16 units as browsers do.
fn growth(change: &StoredChange, before: Option<&str>) -> usize {
    let Some(text) = &change.text else {
        return 0;
    };
    let key = if before.is_some() {
        0
    } else {
        change.key.len()
    };
    let before = before.unwrap_or_default();
    let bytes = text.len().saturating_sub(before.len());
    let units = |text: &str| text.encode_utf16().count();
    key + bytes.max(units(text).saturating_sub(units(before)))
}

/// Changes as a text: `form digest` and for each the lengths of its key and its text in bytes (`-` for none),
/// the key and the text.
pub(super) fn write_changes<'a>(changes: impl Iterator<Item = &'a StoredChange>) -> String {
    let mut body = String::new();
    for StoredChange { key, text } in changes {
        let length = text.as_ref().map(|text| text.len().to_string());
        body += &key.len().to_string();
        body.push(' ');
        body += length.as_deref().unwrap_or("-");
        body.push(' ');
        body += key;
        body += text.as_deref().unwrap_or_default();
        body.push('\n');
    }
    format!("1 {} {body}", Digest::of(&body))
}

/// Reads what [`write_changes`] wrote; `None` for anything else.
pub(super) fn read_changes(text: &str) -> Option<Vec<StoredChange>> {
    let (digest, mut rest) = text.strip_prefix("1 ")?.split_once(' ')?;
    if Digest::read(digest)? != Digest::of(rest) {
        return None;
    }
    let mut changes = Vec::new();
    while !rest.is_empty() {
        let (key_length, after) = rest.split_once(' ')?;
        let (text_length, after) = after.split_once(' ')?;
        let (key, after) = after.split_at_checked(key_length.parse().ok()?)?;
        let (text, after) = match text_length {
            "-" => (None, after),
            length => {
                let (text, after) = after.split_at_checked(length.parse().ok()?)?;
                (Some(text.to_owned()), after)
            }
        };
        rest = after.strip_prefix('\n')?;
        changes.push(StoredChange {
            key: key.to_owned(),
            text,
        });
    }
    Some(changes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changes_read_back_and_damage_is_noticed() {
        let changes = [
            StoredChange::put("evenloop:a".to_owned(), "12 - \nß, {}  ".to_owned()),
            StoredChange::remove("evenloop:b".to_owned()),
            StoredChange::put("evenloop:c".to_owned(), String::new()),
        ];
        let text = write_changes(changes.iter());
        assert_eq!(read_changes(&text), Some(changes.to_vec()));
        for (at, _) in text.char_indices() {
            let worse: String = text
                .char_indices()
                .map(|(i, letter)| if i == at { '7' } else { letter })
                .collect();
            assert!(worse == text || read_changes(&worse).is_none(), "{worse}");
            assert_eq!(read_changes(&text[..at]), None);
        }
    }
}
