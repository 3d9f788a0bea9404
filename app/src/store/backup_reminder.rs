//! How much was knitted since the last backup, so that the knitter can be reminded of one. It is noted pair by
//! pair: what leaves the basket must not count against what is knitted of the others.

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
        let since = |key| -> Result<u32, StoreError> {
            let noted = self.shelf().get(key)?.unwrap_or_default();
            Ok(steps_since(&noted, pairs))
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
        let each = pairs
            .iter()
            .map(|head| format!("{}:{} ", head.id, head.progress.done_of_pair()));
        self.shelf().put(key, &each.collect::<String>())
    }
}

/// Steps since a note of them: `id:steps` for each pair, or their sum as an older Evenloop noted it.
fn steps_since(noted: &str, pairs: &[PairHead]) -> u32 {
    let done = |head: &PairHead| head.progress.done_of_pair();
    if let Ok(sum) = noted.parse::<u32>() {
        let all = pairs.iter().map(done).fold(0, u32::saturating_add);
        // More than there is by now: pairs have left since, and nobody knows with how much.
        return all.checked_sub(sum).unwrap_or(all);
    }
    let before = |head: &PairHead| {
        let of_pair = |each: &str| {
            let steps = each.strip_prefix(head.id.as_str())?.strip_prefix(':')?;
            steps.parse::<u32>().ok()
        };
        noted.split(' ').find_map(of_pair).unwrap_or(0)
    };
    let since = pairs
        .iter()
        .map(|head| done(head).saturating_sub(before(head)));
    since.fold(0, u32::saturating_add)
}
