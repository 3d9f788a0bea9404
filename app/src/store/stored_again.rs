//! What a page still has of its pair when all that the browser stored was cleared under it: it is stored again.

use super::error::StoreError;
use super::handle::Store;
use super::heads::head_text;
use super::keys;
use super::logs::chunks_of;
use super::operation::StoredChange;
use super::pair::{OpenPair, PairHead};
use super::this_device::device_text;

impl Store<'_> {
    /// Stores an open pair again, where the storage was emptied since it was opened; says whether it was. A pair that was
    /// only taken out for good in another window is no longer there either, but this device is still known then.
    ///
    /// # Errors
    /// When the storage refuses; the pair in memory is right all the same, and the next call tries again.
    pub fn store_again_if_emptied(self, pair: &OpenPair) -> Result<bool, StoreError> {
        let id = &pair.head.id;
        let Some(device) = &pair.device else {
            return Ok(false);
        };
        if self.shelf().get(&keys::head(id))?.is_some() {
            return Ok(false);
        }
        if self
            .known_device()
            .is_some_and(|known| known.id == device.id)
        {
            return Ok(false);
        }
        let head = PairHead {
            progress: pair.progress(),
            ..pair.head.clone()
        };
        let plans = &*pair.plan_texts;
        let mut changes = vec![
            StoredChange::put(keys::DEVICE.to_owned(), device_text(device)),
            StoredChange::put(keys::plan(id), plans.meant.clone()),
            StoredChange::put(keys::head(id), head_text(&head)),
            StoredChange::put(keys::CURRENT.to_owned(), id.to_string()),
        ];
        for (sock, own) in (1..).zip(&plans.own) {
            changes.extend(
                own.clone()
                    .map(|own| StoredChange::put(keys::own_plan(id, sock), own)),
            );
        }
        for (sock, journal) in (1..).zip(&pair.journals) {
            changes.extend(chunks_of(id, sock, journal.events()));
        }
        self.commit(&changes)?;
        Ok(true)
    }
}
