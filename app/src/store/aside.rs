//! What cannot be read is moved aside under another key: out of the way, never erased, part of
//! every backup.

use super::shelf::Shelf;
use super::{StoreError, keys};

/// Something that was set aside.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Aside {
    /// The key it had.
    pub key: String,
    /// What it says, raw.
    pub text: String,
}

/// Everything that was set aside.
pub(super) fn list(shelf: &dyn Shelf) -> Result<Vec<Aside>, StoreError> {
    let mut found = Vec::new();
    for key in shelf.keys()? {
        let Some((_, was)) = key
            .strip_prefix(keys::ASIDE)
            .and_then(|rest| rest.split_once(':'))
        else {
            continue;
        };
        if let Some(text) = shelf.get(&key)? {
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
pub(super) fn set_aside(shelf: &dyn Shelf, key: &str) -> Result<(), StoreError> {
    let Some(text) = shelf.get(key)? else {
        return Ok(());
    };
    let new_key = free_key(shelf, key)?;
    match shelf.put(&new_key, &text) {
        Ok(()) => shelf.remove(key),
        // Too full for a copy beside the original: make room first, and put the original back
        // should even that not do.
        Err(StoreError::Full) => {
            shelf.remove(key)?;
            shelf.put(&new_key, &text).inspect_err(|_| {
                // It stood there a moment ago, so it fits.
                let _ = shelf.put(key, &text);
            })
        }
        Err(error) => Err(error),
    }
}

/// Puts a text that came from elsewhere aside under the key it had there. A text that already
/// stands aside under that key is not put again.
pub(super) fn put_aside(shelf: &dyn Shelf, key: &str, text: &str) -> Result<(), StoreError> {
    if list(shelf)?
        .iter()
        .any(|aside| aside.key == key && aside.text == text)
    {
        return Ok(());
    }
    let new_key = free_key(shelf, key)?;
    shelf.put(&new_key, text)
}

fn free_key(shelf: &dyn Shelf, key: &str) -> Result<String, StoreError> {
    let mut number = 1_u32;
    loop {
        let new_key = format!("{}{number}:{key}", keys::ASIDE);
        if shelf.get(&new_key)?.is_none() {
            return Ok(new_key);
        }
        number += 1;
    }
}
