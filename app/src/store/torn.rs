//! What an Evenloop that had no commit records left behind when it was stopped half-way: texts of pairs that are
//! not there, and pairs that have lost their name. See `operation` for why nothing tears like that any more.

use super::error::StoreError;
use super::handle::Store;
use super::heads::{head_text, name_of_damaged, read_head};
use super::keys::{self, KeyKind};
use super::operation::StoredChange;
use super::pair::{PairHead, PairId, tidy_name};
use super::parted::parted_under;
use super::quarantine::had;

impl Store<'_> {
    /// Whether something is torn that [`Store::mend_torn`] mends; told from all keys, and from ids and heads of the
    /// pairs in the basket.
    pub(super) fn is_torn(
        self,
        keys: &[String],
        ids: &[PairId],
        known: &[PairHead],
    ) -> Result<bool, StoreError> {
        if let Some(half) = self.pair_taken_out()?
            && ids.binary_search(&half).is_ok()
            && self.shelf().get(&keys::plan(&half))?.is_none()
        {
            return Ok(true);
        }
        let out = self.out_of_basket()?;
        let unnamed = tidy_name("");
        let lost_name = |key: &str| {
            had(key).and_then(keys::read).is_some_and(|(id, held)| {
                let is_it = |head: &PairHead| head.id == id && head.name == unnamed;
                held == KeyKind::Head && known.iter().any(is_it)
            })
        };
        let stray = |key: &str| {
            keys::read(key)
                .is_some_and(|(id, _)| ids.binary_search(&id).is_err() && out.as_ref() != Some(&id))
        };
        Ok(keys.iter().any(|key| stray(key) || lost_name(key)))
    }

    /// Whether anything is stored that belongs to no pair, or that both copies parted over: told from keys alone, with as
    /// little code as it takes, as every page asks.
    ///
    /// # Errors
    /// When there is no storage.
    pub fn any_left_over(self) -> Result<bool, StoreError> {
        let keys = self.shelf().keys()?;
        let mut there = Vec::new();
        for key in &keys {
            if let Some((id, KeyKind::Head | KeyKind::Plan)) = keys::read(key) {
                there.push(id);
            }
        }
        let stray = |key: &str| keys::read(key).is_some_and(|(id, _)| !there.contains(&id));
        let mut keys = keys.iter();
        Ok(keys.any(|key| stray(key) || parted_under(key).is_some()))
    }

    /// Ends a taking out that was stopped half-way, sets aside what belongs to no pair, and gives a pair back the
    /// name that it has lost, where that is left anywhere. To be called when the second copy has had its
    /// say: what is missing may still be there.
    ///
    /// # Errors
    /// When the storage refuses; everything is as it was then.
    pub fn mend_torn(self) -> Result<(), StoreError> {
        self.finish_operation()?;
        let mut changes = Vec::new();
        let out = self.taken_out_in_one_text()?;
        let mut strays = Vec::new();
        for key in self.shelf().keys()? {
            let Some((id, held)) = keys::read(&key) else {
                continue;
            };
            let has = |key: String| self.shelf().get(&key).map(|text| text.is_some());
            if has(keys::plan(&id))? {
                if held == KeyKind::Plan {
                    changes.extend(self.name_found_again(&id)?);
                }
                continue;
            }
            match &out {
                // Its texts are all in one: what still lies at its key was about to go.
                Some((of, texts)) if *of == id => {
                    if self.shelf().get(&key)?.as_ref() == texts.get(&key) {
                        changes.push(StoredChange::remove(key));
                    } else {
                        strays.push(key);
                    }
                }
                // A pair that has a head is shown as what cannot be read.
                _ if has(keys::head(&id))? => {}
                _ => strays.push(key),
            }
        }
        changes.extend(self.to_quarantine(&strays)?);
        self.commit(&changes)
    }

    /// The change that calls a pair by its name again.
    fn name_found_again(self, id: &PairId) -> Result<Option<StoredChange>, StoreError> {
        let key = keys::head(id);
        let head = self.shelf().get(&key)?;
        let Some(Ok(head)) = head.map(|text| read_head(id, &text)) else {
            // Opening the pair makes it anew.
            return Ok(None);
        };
        if head.name != tidy_name("") {
            return Ok(None);
        }
        let name = self.name_left(id)?;
        Ok(name.map(|name| StoredChange::put(key, head_text(&PairHead { name, ..head }))))
    }

    /// The name of a pair whose head is lost, where it is left: with what was taken out, or in quarantine.
    pub(super) fn name_left(self, id: &PairId) -> Result<Option<String>, StoreError> {
        let head = keys::head(id);
        if let Some((of, texts)) = self.taken_out_in_one_text()?
            && of == *id
            && let Some(name) = texts.get(&head).and_then(|text| name_of_damaged(text))
        {
            return Ok(Some(name));
        }
        for one in self.quarantined()? {
            if one.key == head
                && let Some(name) = name_of_damaged(&one.text)
            {
                return Ok(Some(name));
            }
        }
        Ok(None)
    }
}
