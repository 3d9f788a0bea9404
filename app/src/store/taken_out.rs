//! The pair that was taken out of the basket last: kept whole, to be put back, until another is
//! taken out or it is let go.

use std::collections::BTreeMap;

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use super::error::StoreError;
use super::handle::Store;
use super::heads::read_head;
use super::keys::{self, KeyKind};
use super::pair::{PairId, tidy_name};
use super::pairs::read_plan;

/// Every key of it with its text.
#[derive(Serialize, Deserialize)]
struct TakenOutEntries {
    id: String,
    name: String,
    entries: BTreeMap<String, String>,
}

/// What is looked at while it only waits.
#[derive(Deserialize)]
struct TakenOutName {
    name: String,
}

impl Store<'_> {
    /// Takes a pair out of the basket. Whether it can be put back with [`Store::put_back`]: not where
    /// there is no room to keep it, and one that cannot be read goes into quarantine instead.
    ///
    /// # Errors
    /// When the storage refuses.
    pub fn take_out(self, id: &PairId) -> Result<bool, StoreError> {
        let readable = self
            .shelf()
            .get(&keys::plan(id))?
            .is_some_and(|text| read_plan(&text).is_ok());
        if !readable {
            self.delete(id)?;
            return Ok(false);
        }
        let head = self.shelf().get(&keys::head(id))?;
        let name = head.and_then(|text| read_head(id, &text).ok());
        let mut entries = BTreeMap::new();
        for key in self.shelf().keys()? {
            if keys::read(&key).is_some_and(|(owner, _)| owner == *id)
                && let Some(text) = self.shelf().get(&key)?
            {
                entries.insert(key, text);
            }
        }
        let out = TakenOutEntries {
            id: id.to_string(),
            name: name.map_or_else(|| tidy_name(""), |head| head.name),
            entries,
        };
        // Texts under texts: nothing in it that JSON could refuse.
        let text = serde_json::to_string(&out).unwrap_or_default();
        // The one before is let go now; it may make the room that is needed.
        self.shelf().remove(keys::TAKEN_OUT)?;
        let kept = match self.shelf().put(keys::TAKEN_OUT, &text) {
            Ok(()) => true,
            Err(StoreError::Full) => false,
            Err(error) => return Err(error),
        };
        self.delete(id)?;
        Ok(kept || self.shelf().put(keys::TAKEN_OUT, &text).is_ok())
    }

    /// What the pair that was taken out last is called, while it can be put back.
    ///
    /// # Errors
    /// When there is no storage.
    pub fn taken_out(self) -> Result<Option<String>, StoreError> {
        Ok(self.read_taken_out()?.map(|label: TakenOutName| label.name))
    }

    /// Puts the pair that was taken out last back as it was.
    ///
    /// # Errors
    /// When there is none, or the storage refuses; it is still kept then.
    pub fn put_back(self) -> Result<(), StoreError> {
        let Some(out) = self.read_taken_out::<TakenOutEntries>()? else {
            return Err(StoreError::NotThere);
        };
        let mut owned: Vec<(KeyKind, &String, &String)> = out
            .entries
            .iter()
            .filter_map(|(key, text)| match keys::read(key) {
                Some((owner, held)) if owner.to_string() == out.id => Some((held, key, text)),
                _ => None,
            })
            .collect();
        // A restore may have brought the pair back meanwhile; that one stays.
        let there = PairId::read(&out.id)
            .map(|id| self.shelf().get(&keys::plan(&id)))
            .transpose()?
            .flatten()
            .is_some();
        if !there {
            // Logs first, head and plan last, so that it appears when it is whole.
            owned.sort_by_key(|(held, ..)| std::cmp::Reverse(*held));
            for (i, (_, key, text)) in owned.iter().enumerate() {
                if let Err(error) = self.shelf().put(key, text) {
                    for (_, key, _) in &owned[..i] {
                        self.shelf().remove(key)?;
                    }
                    return Err(error);
                }
            }
        }
        self.shelf().remove(keys::TAKEN_OUT)
    }

    /// Lets the pair that was taken out last go for good.
    ///
    /// # Errors
    /// When the storage refuses.
    pub fn let_go(self) -> Result<(), StoreError> {
        self.shelf().remove(keys::TAKEN_OUT)
    }

    fn read_taken_out<T: DeserializeOwned>(self) -> Result<Option<T>, StoreError> {
        let Some(text) = self.shelf().get(keys::TAKEN_OUT)? else {
            return Ok(None);
        };
        if let Ok(out) = serde_json::from_str(&text) {
            return Ok(Some(out));
        }
        self.quarantine(keys::TAKEN_OUT)?;
        Ok(None)
    }
}
