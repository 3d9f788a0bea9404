//! How much was knitted since the last backup, so that the knitter can be reminded of one.

use super::error::StoreError;
use super::handle::Store;
use super::keys;
use super::pair::PairHead;

impl Store<'_> {
    /// Steps knitted in these pairs since the last backup, and since a reminder of it was put off.
    ///
    /// # Errors
    /// When there is no storage.
    pub fn since_backup(self, pairs: &[PairHead]) -> Result<(u32, u32), StoreError> {
        let done = steps_done(pairs);
        let since = |key| -> Result<u32, StoreError> {
            let noted = self.shelf().get(key)?.and_then(|text| text.parse().ok());
            Ok(done.saturating_sub(noted.unwrap_or(0)))
        };
        Ok((
            since(keys::STEPS_AT_BACKUP)?,
            since(keys::STEPS_AT_REMINDER)?,
        ))
    }

    /// Notes that a backup was made just now.
    ///
    /// # Errors
    /// When it cannot be stored.
    pub fn note_backup(self) -> Result<(), StoreError> {
        self.note_steps_done(keys::STEPS_AT_BACKUP)
    }

    /// Notes that the reminder of a backup is to come later.
    ///
    /// # Errors
    /// When it cannot be stored.
    pub fn put_off_backup(self) -> Result<(), StoreError> {
        self.note_steps_done(keys::STEPS_AT_REMINDER)
    }

    fn note_steps_done(self, key: &str) -> Result<(), StoreError> {
        let (pairs, _) = self.heads()?;
        self.shelf().put(key, &steps_done(&pairs).to_string())
    }
}

fn steps_done(pairs: &[PairHead]) -> u32 {
    let done = pairs.iter().map(|head| head.progress.done_of_pair());
    done.fold(0, u32::saturating_add)
}
