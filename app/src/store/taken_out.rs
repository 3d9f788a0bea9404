//! The pair that was taken out of the basket last: kept whole where it lies, to be put back, until another is
//! taken out or it is let go. One text says which it is, and so takes it out and puts it back in
//! one write.

use std::collections::BTreeMap;

use evenloop_engine::json::from_json;
use evenloop_engine::sort::sort;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use super::device;
use super::error::StoreError;
use super::handle::Store;
use super::heads::read_head;
use super::keys::{self, KeyKind};
use super::operation::StoredChange;
use super::pair::{PairId, tidy_name};
use super::pairs::read_plan;
use super::side::MergeOrigin;

#[derive(Serialize, Deserialize)]
struct TakenOutForm {
    id: String,
    name: String,
    /// An older Evenloop put every text of the pair in here and took it from its key.
    entries: BTreeMap<String, String>,
}

/// A pair and all its texts by their keys.
pub(super) type TextsOfPair = (PairId, BTreeMap<String, String>);

/// What is looked at while it only waits.
#[derive(Deserialize)]
struct TakenOutLabel {
    id: String,
    name: String,
}

/// How the text ends of a pair that lies where it always did.
const IN_PLACE: &str = r#""entries":{}}"#;

impl Store<'_> {
    /// Takes a pair out of the basket; the one that was taken out before is let go. Whether it can be put back
    /// with [`Store::put_back`]: one that cannot be read goes into quarantine instead.
    ///
    /// # Errors
    /// When the storage refuses; it is in the basket as it was then.
    pub fn take_out(self, id: &PairId) -> Result<bool, StoreError> {
        self.finish_operation()?;
        let plan = self.shelf().get(&keys::plan(id))?;
        let readable = plan.is_some_and(|text| read_plan(&text).is_ok());
        if !readable {
            return self.delete(id).map(|()| false);
        }
        let mut changes = self.gone_for_good()?;
        let head = self.shelf().get(&keys::head(id))?;
        let name = head.and_then(|text| read_head(id, &text).ok());
        let out = TakenOutForm {
            id: id.to_string(),
            name: name.map_or_else(|| tidy_name(""), |head| head.name),
            entries: BTreeMap::new(),
        };
        // Two plain fields: nothing in it that JSON could refuse.
        let text = serde_json::to_string(&out).unwrap_or_default();
        changes.push(StoredChange::put(keys::TAKEN_OUT.to_owned(), text));
        match self.commit_taking_away(&changes) {
            Ok(()) => Ok(true),
            // Not even room for a word that it is out. Then it cannot be put back.
            Err(StoreError::Full) => self.erase(id).map(|()| false),
            Err(error) => Err(error),
        }
    }

    /// What the pair that was taken out last is called, while it can be put back.
    ///
    /// # Errors
    /// When there is no storage.
    pub fn taken_out(self) -> Result<Option<String>, StoreError> {
        self.finish_operation()?;
        Ok(self
            .read_taken_out()?
            .map(|label: TakenOutLabel| label.name))
    }

    /// Puts the pair that was taken out last back as it was.
    ///
    /// # Errors
    /// When there is none, or the storage refuses; it is still kept then.
    pub fn put_back(self) -> Result<(), StoreError> {
        self.finish_operation()?;
        let Some(out) = self.read_taken_out::<TakenOutForm>()? else {
            return Err(StoreError::NotThere);
        };
        let there = PairId::read(&out.id)
            .map(|id| self.shelf().get(&keys::plan(&id)))
            .transpose()?
            .flatten()
            .is_some();
        let mut entries = out.entries;
        entries.retain(|key, _| keys::read(key).is_some_and(|(id, _)| id.as_str() == out.id));
        let back = StoredChange::remove(keys::TAKEN_OUT.to_owned());
        if there {
            // A restore may have brought the pair back meanwhile, or an older Evenloop was stopped half-way.
            self.merge_texts(&entries, MergeOrigin::File, vec![back], device::now())?;
            return Ok(());
        }
        let mut changes: Vec<StoredChange> = entries
            .into_iter()
            .map(|(key, text)| StoredChange::put(key, text))
            .collect();
        changes.push(back);
        self.commit(&changes)
    }

    /// The pair that was taken out, wherever its texts lie.
    pub(super) fn pair_taken_out(self) -> Result<Option<PairId>, StoreError> {
        let label: Option<TakenOutLabel> = self.read_taken_out()?;
        Ok(label.and_then(|label| PairId::read(&label.id)))
    }

    /// The pair that an older Evenloop took out of the basket, with all its texts, which that one put under one
    /// key.
    pub(super) fn taken_out_in_one_text(self) -> Result<Option<TextsOfPair>, StoreError> {
        let Some(text) = self.shelf().get(keys::TAKEN_OUT)? else {
            return Ok(None);
        };
        if text.ends_with(IN_PLACE) {
            return Ok(None);
        }
        let out: Option<TakenOutForm> = from_json(&text).ok();
        Ok(out.and_then(|out| Some((PairId::read(&out.id)?, out.entries))))
    }

    /// Lets the pair that was taken out last go for good.
    ///
    /// # Errors
    /// When the storage refuses; it can still be put back then.
    pub fn let_go(self) -> Result<(), StoreError> {
        self.finish_operation()?;
        let mut changes = self.gone_for_good()?;
        changes.push(StoredChange::remove(keys::TAKEN_OUT.to_owned()));
        self.commit_taking_away(&changes)
    }

    /// The pair that was taken out and lies where it always did.
    pub(super) fn out_of_basket(self) -> Result<Option<PairId>, StoreError> {
        let text = self.shelf().get(keys::TAKEN_OUT)?;
        Ok(text.and_then(|text| out_in_place(&text)))
    }

    /// Whether this pair was taken out: what a touch asks, so it reads no more than it must.
    pub(super) fn is_out(self, id: &PairId) -> Result<bool, StoreError> {
        let text = self.shelf().get(keys::TAKEN_OUT)?;
        let named = |text: String| text.ends_with(IN_PLACE) && text.contains(id.as_str());
        Ok(text.is_some_and(named) && self.out_of_basket()?.as_ref() == Some(id))
    }

    /// The changes that let go of the pair that was taken out.
    fn gone_for_good(self) -> Result<Vec<StoredChange>, StoreError> {
        self.out_of_basket()?
            .map_or_else(|| Ok(Vec::new()), |id| self.removal_of(&id))
    }

    /// The changes that take every text of a pair away.
    pub(super) fn removal_of(self, id: &PairId) -> Result<Vec<StoredChange>, StoreError> {
        let mut changes: Vec<StoredChange> = self
            .keys_of(id)?
            .into_iter()
            .map(StoredChange::remove)
            .collect();
        if self.shelf().get(keys::CURRENT)?.as_deref() == Some(id.as_str()) {
            changes.push(StoredChange::remove(keys::CURRENT.to_owned()));
        }
        Ok(changes)
    }

    /// Deletes a pair and keeps nothing of it; one that cannot be read goes into quarantine: nobody has seen
    /// what is in it.
    ///
    /// # Errors
    /// When the storage refuses.
    fn delete(self, id: &PairId) -> Result<(), StoreError> {
        let owned = self.keys_of(id)?;
        match self.commit(&self.to_quarantine(&owned)?) {
            // No room for copies beside the originals: then one by one.
            Err(StoreError::Full) => owned.iter().try_for_each(|key| self.quarantine(key)),
            other => other,
        }
    }

    /// Takes every text of a pair away, its plan first: another window that looks meanwhile finds no pair.
    fn erase(self, id: &PairId) -> Result<(), StoreError> {
        let owned = self.keys_of(id)?;
        owned
            .iter()
            .rev()
            .try_for_each(|key| self.shelf().remove(key))
    }

    /// Every key of a pair: its plan last, so that it is there until it is gone.
    pub(super) fn keys_of(self, id: &PairId) -> Result<Vec<String>, StoreError> {
        let mut owned: Vec<(bool, String)> = self
            .shelf()
            .keys()?
            .into_iter()
            .filter_map(|key| match keys::read(&key) {
                Some((owner, held)) if owner == *id => Some((held == KeyKind::Plan, key)),
                _ => None,
            })
            .collect();
        sort(&mut owned, |a, b| a < b);
        Ok(owned.into_iter().map(|(_, key)| key).collect())
    }

    fn read_taken_out<T: DeserializeOwned>(self) -> Result<Option<T>, StoreError> {
        let Some(text) = self.shelf().get(keys::TAKEN_OUT)? else {
            return Ok(None);
        };
        if let Ok(out) = from_json(&text) {
            return Ok(Some(out));
        }
        self.quarantine(keys::TAKEN_OUT)?;
        Ok(None)
    }
}

/// The pair of which a text says that it was taken out and lies where it always did.
pub(super) fn out_in_place(text: &str) -> Option<PairId> {
    let label = text.ends_with(IN_PLACE).then(|| from_json(text));
    let TakenOutLabel { id, .. } = label?.ok()?;
    PairId::read(&id)
}
