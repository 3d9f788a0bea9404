//! Heads: what the basket shows of a pair without opening it, stored beside the pair's plan. A head
//! only repeats what plan and logs say.

use evenloop_engine::json::{from_beginning, from_json};
use evenloop_engine::sort::sort;
use serde::{Deserialize, Serialize};

use super::error::{StoreError, StoredPart};
use super::handle::Store;
use super::keys::{self, KeyKind};
use super::pair::{PairHead, PairId, PairProgress, tidy_name};

/// A head as it is stored.
#[derive(Serialize, Deserialize)]
struct HeadForm {
    version: u32,
    name: String,
    /// An older Evenloop neither writes nor keeps it.
    #[serde(default, skip_serializing_if = "is_unknown")]
    named: u64,
    created: u64,
    #[serde(rename = "place")]
    progress: PairProgress,
}

#[derive(Deserialize)]
struct HeadVersion {
    version: u32,
}

const HEAD_VERSION: u32 = 1;

#[allow(clippy::trivially_copy_pass_by_ref)] // as serde calls it
const fn is_unknown(seconds: &u64) -> bool {
    *seconds == 0
}

impl Store<'_> {
    /// All pairs that are known without opening them, the latest first, and whether there are more or something is
    /// torn: [`Store::pairs`] finds out what those are, after [`Store::mend_torn`].
    ///
    /// # Errors
    /// When there is no storage.
    pub fn heads(self) -> Result<(Vec<PairHead>, bool), StoreError> {
        self.finish_operation()?;
        let mut more = false;
        let mut known = Vec::new();
        // All keys are asked for once: there are more of them with each pair.
        let keys = self.shelf().keys()?;
        let ids = self.ids_in(&keys)?;
        for id in &ids {
            let stored = self.shelf().get(&keys::head(id))?;
            match stored.map(|text| read_head(id, &text)) {
                Some(Ok(head)) => known.push(head),
                Some(Err(StoreError::Newer { .. })) => known.push(unreadable(id)),
                _ => more = true,
            }
        }
        more = more || self.is_torn(&keys, &ids, &known)?;
        Ok((latest_first(known), more))
    }

    /// Notes how far a pair is, for the basket: after a touch, with [`OpenPair::progress`].
    ///
    /// [`OpenPair::progress`]: super::OpenPair::progress
    ///
    /// # Errors
    /// When it cannot be stored; it is worked out again when the pair is next opened.
    pub fn note_progress(self, id: &PairId, progress: &PairProgress) -> Result<(), StoreError> {
        self.change_head(id, |head| head.progress = progress.clone())
    }

    /// Calls a pair something else; `now` is seconds since 1970.
    ///
    /// # Errors
    /// When it cannot be stored.
    pub fn rename(self, id: &PairId, name: &str, now: u64) -> Result<(), StoreError> {
        self.change_head(id, |head| {
            head.name = tidy_name(name);
            head.named = now;
        })
    }

    fn change_head(
        self,
        id: &PairId,
        change: impl FnOnce(&mut PairHead),
    ) -> Result<(), StoreError> {
        let stored = self.shelf().get(&keys::head(id))?;
        let mut head = read_head(id, &stored.ok_or(StoreError::NotThere)?)?;
        change(&mut head);
        self.write_head(&head)
    }

    pub(super) fn write_head(self, head: &PairHead) -> Result<(), StoreError> {
        self.shelf().put(&keys::head(&head.id), &head_text(head))
    }

    /// The ids of all pairs in the basket, each once.
    pub(super) fn pair_ids(self) -> Result<Vec<PairId>, StoreError> {
        let keys = self.shelf().keys()?;
        self.ids_in(&keys)
    }

    /// The ids of the pairs in the basket that have any of these keys, each once.
    fn ids_in(self, keys: &[String]) -> Result<Vec<PairId>, StoreError> {
        let out = self.out_of_basket()?;
        // A pair is there when it has a head or a plan: a lost head must not hide it.
        let mut ids: Vec<PairId> = keys
            .iter()
            .filter_map(|key| keys::read(key))
            .filter(|(_, held)| matches!(held, KeyKind::Head | KeyKind::Plan))
            .map(|(id, _)| id)
            .filter(|id| out.as_ref() != Some(id))
            .collect();
        sort(&mut ids, |a, b| a < b);
        ids.dedup();
        Ok(ids)
    }
}

/// A head as it is stored.
pub(super) fn head_text(head: &PairHead) -> String {
    let form = HeadForm {
        version: HEAD_VERSION,
        name: tidy_name(&head.name),
        named: head.named,
        created: head.created,
        progress: head.progress.clone(),
    };
    // Plain fields: nothing in it that JSON could refuse.
    serde_json::to_string(&form).unwrap_or_default()
}

/// Sorts heads as the basket shows them.
pub(super) fn latest_first(mut heads: Vec<PairHead>) -> Vec<PairHead> {
    sort(&mut heads, |a, b| (b.created, &b.id) < (a.created, &a.id));
    heads
}

/// Reads a head.
///
/// # Errors
/// When it is damaged, or of a newer Evenloop.
pub(super) fn read_head(id: &PairId, text: &str) -> Result<PairHead, StoreError> {
    let what = StoredPart::Head;
    let damaged = |_| StoreError::Damaged { what, kept: 0 };
    // The version first: a newer form may differ anywhere else.
    let HeadVersion { version } = from_json(text).map_err(damaged)?;
    if version > HEAD_VERSION {
        return Err(StoreError::Newer { what, kept: 0 });
    }
    let form: HeadForm = from_json(text).map_err(damaged)?;
    if version < HEAD_VERSION || !(1..=2).contains(&form.progress.sock) {
        return Err(StoreError::Damaged { what, kept: 0 });
    }
    Ok(PairHead {
        id: id.clone(),
        name: tidy_name(&form.name),
        named: form.named,
        created: form.created,
        progress: form.progress,
        readable: true,
    })
}

/// The name in a head, even where the rest of it is damaged.
pub(super) fn name_of_damaged(text: &str) -> Option<String> {
    let (_, rest) = text.split_once(r#""name":"#)?;
    let name: String = from_beginning(rest).ok()?;
    let name = tidy_name(&name);
    (name != tidy_name("")).then_some(name)
}

/// The head of a pair that cannot be read.
pub(super) fn unreadable(id: &PairId) -> PairHead {
    let progress = PairProgress {
        sock: 1,
        done: 0,
        total: 0,
        section: String::new(),
        finished: false,
        both: None,
    };
    PairHead {
        id: id.clone(),
        name: tidy_name(""),
        named: 0,
        created: 0,
        progress,
        readable: false,
    }
}
