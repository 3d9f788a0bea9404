//! What of a file cannot be read goes into quarantine like what cannot be read here, each text once.

use std::collections::BTreeSet;

use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::keys;
use crate::store::operation::StoredChange;

/// So many texts of a file that cannot be read are set aside each by itself; more go in one piece.
const EACH_BY_ITSELF: usize = 50;

/// The key that texts of a file have in quarantine which go there in one piece.
const IN_ONE_PIECE: &str = "backup";

/// Texts that cannot be read, with the keys they had in the file.
#[derive(Default)]
pub(super) struct UnreadableTexts(Vec<(String, String)>);

impl UnreadableTexts {
    pub(super) fn add(&mut self, key: &str, text: &str) {
        self.0.push((key.to_owned(), text.to_owned()));
    }

    /// The changes that set all of it aside.
    pub(super) fn aside(self, store: Store<'_>) -> Result<Vec<StoredChange>, StoreError> {
        let mut quarantine = FileQuarantine::of(store)?;
        if self.0.len() > EACH_BY_ITSELF {
            // Plain texts: nothing in it that JSON could refuse.
            let piece = serde_json::to_string(&self.0).unwrap_or_default();
            quarantine.put(IN_ONE_PIECE, &piece);
        } else {
            for (key, text) in &self.0 {
                quarantine.put(key, text);
            }
        }
        Ok(quarantine.into_changes())
    }
}

/// What comes in a file and cannot be read is put in here. A text that is in quarantine already under
/// the same key is not put again.
struct FileQuarantine {
    /// Keys and texts in quarantine. Listed once: a file may bring very many.
    there: BTreeSet<(String, String)>,
    /// The highest number in use.
    last: u32,
    changes: Vec<StoredChange>,
}

impl FileQuarantine {
    fn of(store: Store<'_>) -> Result<Self, StoreError> {
        let mut last = 0;
        let mut there = BTreeSet::new();
        for key in store.shelf().keys()? {
            let numbered = key
                .strip_prefix(keys::QUARANTINE)
                .and_then(|rest| rest.split_once(':'));
            if let Some((number, was)) = numbered
                && let Some(text) = store.shelf().get(&key)?
            {
                last = last.max(number.parse().unwrap_or(0));
                there.insert((was.to_owned(), text));
            }
        }
        Ok(Self {
            there,
            last,
            changes: Vec::new(),
        })
    }

    /// Has a text put into quarantine under the key it had there.
    fn put(&mut self, key: &str, text: &str) {
        if self.there.insert((key.to_owned(), text.to_owned())) {
            // Numbers beyond all others, so that none has to be looked for.
            self.last = self.last.saturating_add(1);
            let new_key = format!("{}{}:{key}", keys::QUARANTINE, self.last);
            self.changes
                .push(StoredChange::put(new_key, text.to_owned()));
        }
    }

    /// The changes that put all of it there.
    fn into_changes(self) -> Vec<StoredChange> {
        self.changes
    }
}
