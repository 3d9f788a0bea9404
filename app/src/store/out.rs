//! The pair that was taken out of the basket last: kept whole, to be put back, until another is
//! taken out or it is let go.

use std::collections::BTreeMap;

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use super::keys::{self, Held};
use super::pairs::{self, PairId};
use super::shelf::Shelf;
use super::{StoreError, aside};

/// Every key of it with its text.
#[derive(Serialize, Deserialize)]
struct Out {
    id: String,
    name: String,
    entries: BTreeMap<String, String>,
}

/// Takes a pair out of the basket. Whether it can be put back: not where there is no room to keep
/// it, and one that cannot be read is set aside instead.
///
/// # Errors
/// When the storage refuses.
pub(super) fn take_out(shelf: &dyn Shelf, id: &PairId) -> Result<bool, StoreError> {
    let readable = shelf
        .get(&keys::plan(id))?
        .is_some_and(|text| pairs::read_plan(&text).is_ok());
    if !readable {
        pairs::delete(shelf, id)?;
        return Ok(false);
    }
    let head = shelf.get(&keys::head(id))?;
    let name = head.and_then(|text| pairs::read_head(id, &text).ok());
    let mut entries = BTreeMap::new();
    for key in shelf.keys()? {
        if keys::read(&key).is_some_and(|(owner, _)| owner == *id)
            && let Some(text) = shelf.get(&key)?
        {
            entries.insert(key, text);
        }
    }
    let out = Out {
        id: id.to_string(),
        name: name.map_or_else(|| pairs::tidy_name(""), |head| head.name),
        entries,
    };
    // Texts under texts: nothing in it that JSON could refuse.
    let text = serde_json::to_string(&out).unwrap_or_default();
    // The one before is let go now; it may make the room that is needed.
    shelf.remove(keys::OUT)?;
    let kept = match shelf.put(keys::OUT, &text) {
        Ok(()) => true,
        Err(StoreError::Full) => false,
        Err(error) => return Err(error),
    };
    pairs::delete(shelf, id)?;
    Ok(kept || shelf.put(keys::OUT, &text).is_ok())
}

/// What is looked at while it only waits.
#[derive(Deserialize)]
struct Label {
    name: String,
}

/// What the pair that was taken out last is called, if it is still kept.
pub(super) fn taken_out(shelf: &dyn Shelf) -> Result<Option<String>, StoreError> {
    Ok(read(shelf)?.map(|label: Label| label.name))
}

/// Puts it back as it was.
///
/// # Errors
/// When the storage refuses; it is still kept then.
pub(super) fn put_back(shelf: &dyn Shelf) -> Result<(), StoreError> {
    let Some(out) = read::<Out>(shelf)? else {
        return Err(StoreError::NotThere);
    };
    let mut owned: Vec<(Held, &String, &String)> = out
        .entries
        .iter()
        .filter_map(|(key, text)| match keys::read(key) {
            Some((owner, held)) if owner.to_string() == out.id => Some((held, key, text)),
            _ => None,
        })
        .collect();
    // A restore may have brought the pair back meanwhile; that one stays.
    let there = PairId::read(&out.id)
        .map(|id| shelf.get(&keys::plan(&id)))
        .transpose()?
        .flatten()
        .is_some();
    if !there {
        // Logs first, head and plan last, so that it appears when it is whole.
        owned.sort_by_key(|(held, ..)| std::cmp::Reverse(*held));
        for (i, (_, key, text)) in owned.iter().enumerate() {
            if let Err(error) = shelf.put(key, text) {
                for (_, key, _) in &owned[..i] {
                    shelf.remove(key)?;
                }
                return Err(error);
            }
        }
    }
    shelf.remove(keys::OUT)
}

/// Lets it go for good.
///
/// # Errors
/// When the storage refuses.
pub(super) fn let_go(shelf: &dyn Shelf) -> Result<(), StoreError> {
    shelf.remove(keys::OUT)
}

fn read<T: DeserializeOwned>(shelf: &dyn Shelf) -> Result<Option<T>, StoreError> {
    let Some(text) = shelf.get(keys::OUT)? else {
        return Ok(None);
    };
    if let Ok(out) = serde_json::from_str(&text) {
        return Ok(Some(out));
    }
    aside::set_aside(shelf, keys::OUT)?;
    Ok(None)
}
