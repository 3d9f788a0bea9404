//! What both copies of this device's storage do not agree on: the second copy's text of a pair went another way than the
//! one that is stored. The script that keeps the second copy sets it aside (`public/echo.js`); here it is
//! brought together with the pair like a file from elsewhere, so what parted becomes a pair of its own.

use std::collections::BTreeMap;

use evenloop_engine::journal::Seconds;

use super::error::StoreError;
use super::handle::Store;
use super::keys::{self, KeyKind};
use super::operation::StoredChange;
use super::pair::PairId;
use super::quarantine::quarantined_as;
use super::restore::Restored;
use super::side::MergeOrigin;

/// Texts of one pair that were set aside together: the keys they lie under, and what they hold. An empty text says that the
/// second copy had none.
#[derive(Default)]
struct Aside {
    under: Vec<String>,
    texts: BTreeMap<String, String>,
}

/// What lies under this key because both copies parted: the number it was set aside by, the pair, and the key it had.
pub(super) fn parted_under(key: &str) -> Option<(u32, PairId, &str)> {
    let was = quarantined_as(key)?.strip_prefix(keys::PARTED)?;
    let (number, _) = key.strip_prefix(keys::QUARANTINE)?.split_once(':')?;
    let (id, _) = keys::read(was)?;
    Some((number.parse().ok()?, id, was))
}

impl Store<'_> {
    /// Brings what the second copy had and this storage went on without together with its pair: what goes on from the
    /// pair is added, what went another way becomes a pair of its own. `now` is seconds since 1970.
    ///
    /// # Errors
    /// When the storage refuses; what is not brought together is still set aside.
    pub fn join_parted(self, now: Seconds) -> Result<Restored, StoreError> {
        let mut all: BTreeMap<(u32, PairId), Aside> = BTreeMap::new();
        for key in self.shelf().keys()? {
            if let Some((number, id, was)) = parted_under(&key)
                && let Some(text) = self.shelf().get(&key)?
            {
                let was = was.to_owned();
                let aside = all.entry((number, id)).or_default();
                aside.texts.insert(was, text);
                aside.under.push(key);
            }
        }
        let mut report = Restored::default();
        for ((_, id), Aside { under, texts }) in all {
            let texts = self.with_texts_of(&id, texts)?;
            let gone = under.into_iter().map(StoredChange::remove).collect();
            report.add(self.merge_texts(&texts, MergeOrigin::SecondCopy, gone, now)?);
        }
        Ok(report)
    }

    /// The texts of a pair as the second copy had them: these, and what is stored of the others. A chunk that comes after
    /// one of these in the same log goes on from another.
    fn with_texts_of(
        self,
        id: &PairId,
        mut texts: BTreeMap<String, String>,
    ) -> Result<BTreeMap<String, String>, StoreError> {
        let mut last = [None::<u32>; 2];
        for key in texts.keys() {
            if let Some((_, KeyKind::Chunk(sock, index))) = keys::read(key) {
                let last = &mut last[usize::from(sock == 2)];
                *last = (*last).max(Some(index));
            }
        }
        for key in self.keys_of(id)? {
            let follows = match keys::read(&key) {
                Some((_, KeyKind::Chunk(sock, index))) => {
                    last[usize::from(sock == 2)].is_some_and(|last| index > last)
                }
                _ => false,
            };
            if !follows
                && !texts.contains_key(&key)
                && let Some(text) = self.shelf().get(&key)?
            {
                texts.insert(key, text);
            }
        }
        texts.retain(|_, text| !text.is_empty());
        Ok(texts)
    }
}
