//! Pairs that went different ways on two devices, and of which the knitter chose the other: each is kept whole in
//! quarantine, as a record of its texts, until it is put into the basket as a pair of its own or let go. An
//! older Evenloop keeps it with all else that is set aside, and takes it along in every backup.

use evenloop_engine::sort::sort;

use super::error::StoreError;
use super::handle::Store;
use super::heads::read_head;
use super::keys::{self, KeyKind};
use super::operation::{StoredChange, read_changes, write_changes};
use super::pair::{PairHead, PairId};
use super::quarantine::{aside_key, quarantined_as};
use super::side::PairSide;

/// A pair that was not chosen: a head that no basket shows.
pub type NotChosen = PairHead;

/// Which pair lies under this key because another was chosen.
pub(super) fn not_chosen_under(key: &str) -> Option<PairId> {
    PairId::read(quarantined_as(key)?.strip_prefix(keys::NOT_CHOSEN)?)
}

/// A pair out of a record; `None` when it is none of that pair.
pub(super) fn read_not_chosen(id: &PairId, text: &str) -> Option<PairSide> {
    let changes = read_changes(text)?;
    let texts = changes.iter().filter_map(|change| {
        let (owner, held) = keys::read(&change.key)?;
        (owner == *id).then_some((change.key.as_str(), held, change.text.as_deref()?))
    });
    PairSide::from_texts(id, texts)
}

/// The head in a record.
pub(super) fn head_in(id: &PairId, text: &str) -> Option<PairHead> {
    let changes = read_changes(text)?;
    let head = changes
        .iter()
        .find(|change| keys::read(&change.key) == Some((id.clone(), KeyKind::Head)));
    read_head(id, head?.text.as_deref()?).ok()
}

impl Store<'_> {
    /// The change that keeps a pair which was not chosen, under the id of this very state of it.
    pub(super) fn keep_not_chosen(
        self,
        id: &PairId,
        side: &PairSide,
    ) -> Result<StoredChange, StoreError> {
        let text = write_changes(side.texts(id).iter());
        let (key, _) = aside_key(self.shelf(), &format!("{}{id}", keys::NOT_CHOSEN), &text)?;
        Ok(StoredChange::put(key, text))
    }

    /// Whether this pair is kept as one that was not chosen.
    pub(super) fn is_not_chosen(self, id: &PairId) -> Result<bool, StoreError> {
        Ok(!self.keys_not_chosen(id)?.is_empty())
    }

    /// Whether there are pairs that were not chosen.
    ///
    /// # Errors
    /// When there is no storage.
    pub fn any_not_chosen(self) -> Result<bool, StoreError> {
        let keys = self.shelf().keys()?;
        Ok(keys.iter().any(|key| not_chosen_under(key).is_some()))
    }

    /// All pairs that were not chosen, as far as they can be read.
    ///
    /// # Errors
    /// When there is no storage.
    pub fn not_chosen(self) -> Result<Vec<NotChosen>, StoreError> {
        let mut found: Vec<NotChosen> = Vec::new();
        for key in self.shelf().keys()? {
            let Some(id) = not_chosen_under(&key) else {
                continue;
            };
            let text = self.shelf().get(&key)?.unwrap_or_default();
            if let Some(head) = head_in(&id, &text)
                && found.iter().all(|other| other.id != id)
            {
                found.push(head);
            }
        }
        sort(&mut found, |a, b| (&a.name, &a.id) < (&b.name, &b.id));
        Ok(found)
    }

    /// Puts a pair that was not chosen into the basket, as a pair of its own.
    ///
    /// # Errors
    /// [`StoreError::NotThere`] when there is none that can be read. When the storage refuses; it is still kept then.
    pub fn put_in_basket(self, id: &PairId) -> Result<(), StoreError> {
        self.finish_operation()?;
        let mut changes = Vec::new();
        let mut side = None;
        for key in self.keys_not_chosen(id)? {
            let text = self.shelf().get(&key)?.unwrap_or_default();
            side = side.or_else(|| read_not_chosen(id, &text));
            changes.push(StoredChange::remove(key));
        }
        let side = side.ok_or(StoreError::NotThere)?;
        // The other device may have put it into its basket, and it came along from there.
        if self.shelf().get(&keys::plan(id))?.is_none() {
            changes.extend(side.put(self, id)?);
        }
        self.commit(&changes)
    }

    /// Lets a pair that was not chosen go for good.
    ///
    /// # Errors
    /// When the storage refuses; it is still kept then.
    pub fn let_not_chosen_go(self, id: &PairId) -> Result<(), StoreError> {
        let keys = self.keys_not_chosen(id)?.into_iter();
        self.commit_taking_away(&keys.map(StoredChange::remove).collect::<Vec<_>>())
    }

    fn keys_not_chosen(self, id: &PairId) -> Result<Vec<String>, StoreError> {
        let mut keys = self.shelf().keys()?;
        keys.retain(|key| not_chosen_under(key).as_ref() == Some(id));
        Ok(keys)
    }
}
