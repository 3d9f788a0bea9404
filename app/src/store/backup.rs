//! Everything in one file, and back. The file carries every key with its text as it lies on the
//! shelf, what is in quarantine included, so that nothing has to be understood to be saved.
//!
//! Coming back, nothing here is overwritten that the file does not continue: of two logs that went
//! different ways the longer stays under the pair's id and the other becomes a pair of its own.

use std::collections::{BTreeMap, BTreeSet};

use evenloop_engine::journal::Event;
use evenloop_engine::text::Typed;
use serde::{Deserialize, Serialize};

use super::device;
use super::error::StoreError;
use super::handle::Store;
use super::heads::read_head;
use super::keys::{self, KeyKind};
use super::logs::{self, Chunk};
use super::pair::{PairHead, PairId, tidy_name};
use super::pairs::read_plan;
use super::quarantine::FileQuarantine;
use crate::text;

/// Largest file that is looked at, in bytes: several times what a browser stores for one site.
pub const FILE_LIMIT: usize = 24 * 1024 * 1024;

const VERSION: u32 = 1;

#[derive(Serialize, Deserialize)]
struct BackupFile {
    evenloop: BackupMarker,
    version: u32,
    /// Seconds since 1970.
    made: u64,
    entries: BTreeMap<String, String>,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
enum BackupMarker {
    Backup,
}

#[derive(Deserialize)]
struct BackupHeader {
    #[allow(dead_code)] // read so that another file is not taken for a backup
    evenloop: BackupMarker,
    version: u32,
}

/// Why a file is refused. Nothing was changed then.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BackupRefused {
    /// It is larger than [`FILE_LIMIT`].
    TooLarge,
    /// It is not a backup of ours.
    NotOurs,
    /// It was made by a newer Evenloop.
    Newer,
    /// The part of the app that reads it cannot be had just now.
    NotLoaded,
}

/// What a restore did; names of pairs.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Restored {
    /// Were not here.
    pub added: Vec<String>,
    /// The file had gone further.
    pub continued: Vec<String>,
    /// This device had gone further, or was just as far.
    pub kept: Vec<String>,
    /// Had gone different ways: the longer stays, the other stands beside it under this name.
    pub beside: Vec<String>,
    /// Cannot be read; in quarantine, raw.
    pub unreadable: Vec<String>,
    /// Whether the settings were taken from the file; they are when there were none here.
    pub settings: bool,
    /// What stopped it before the end.
    pub stopped: Option<StoreError>,
}

/// One pair, from a file or a shelf.
struct StoredPair {
    name: String,
    created: u64,
    plan: String,
    /// Plans of single socks, where they are not the pair's.
    own: [Option<String>; 2],
    logs: [Vec<Event>; 2],
    /// Keys of chunks that cannot be read.
    lost: Vec<String>,
}

impl StoredPair {
    fn events(&self) -> usize {
        self.logs[0].len() + self.logs[1].len()
    }

    /// Whether this is the other, or the other gone on with.
    fn continues(&self, other: &Self) -> bool {
        let follows =
            |(own, before): (&Option<String>, &Option<String>)| before.is_none() || own == before;
        self.plan == other.plan
            && self.own.iter().zip(&other.own).all(follows)
            && self.logs[0].starts_with(&other.logs[0])
            && self.logs[1].starts_with(&other.logs[1])
    }
}

impl Store<'_> {
    /// Everything as one document to keep elsewhere; `now` is seconds since 1970.
    ///
    /// # Errors
    /// When there is no storage.
    pub fn backup(self, now: u64) -> Result<String, StoreError> {
        let mut entries = BTreeMap::new();
        for key in self.shelf().keys()? {
            if key.starts_with(keys::ROOT)
                && key != keys::ECHO_NUMBER
                && let Some(text) = self.shelf().get(&key)?
            {
                entries.insert(key, text);
            }
        }
        let file = BackupFile {
            evenloop: BackupMarker::Backup,
            version: VERSION,
            made: now,
            entries,
        };
        // Texts under texts: nothing in it that JSON could refuse.
        Ok(serde_json::to_string(&file).unwrap_or_default())
    }

    /// Merges a backup; see [`Restored`] for what became of what.
    ///
    /// # Errors
    /// When it is no backup that can be read; nothing was changed then.
    pub fn restore(self, text: &str, now: u64) -> Result<Restored, BackupRefused> {
        self.restore_with(text, &mut || PairId::new(now, device::random()))
    }

    /// Merges a backup. `fresh` gives ids that were never used.
    pub(super) fn restore_with(
        self,
        text: &str,
        fresh: &mut dyn FnMut() -> PairId,
    ) -> Result<Restored, BackupRefused> {
        if text.len() > FILE_LIMIT {
            return Err(BackupRefused::TooLarge);
        }
        let label: BackupHeader = serde_json::from_str(text).map_err(|_| BackupRefused::NotOurs)?;
        match label.version {
            0 => return Err(BackupRefused::NotOurs),
            1..=VERSION => {}
            _ => return Err(BackupRefused::Newer),
        }
        let file: BackupFile = serde_json::from_str(text).map_err(|_| BackupRefused::NotOurs)?;
        let mut report = Restored::default();
        report.stopped = merge(self, &file.entries, fresh, &mut report).err();
        Ok(report)
    }
}

/// The pairs that keys belong to.
fn owners<'a>(keys: impl IntoIterator<Item = &'a String>) -> BTreeSet<PairId> {
    let owned = keys.into_iter().filter_map(|key| keys::read(key));
    owned.map(|(id, _)| id).collect()
}

fn merge(
    store: Store<'_>,
    entries: &BTreeMap<String, String>,
    fresh: &mut dyn FnMut() -> PairId,
    report: &mut Restored,
) -> Result<(), StoreError> {
    let shelf = store.shelf();
    let mut target = Target {
        store,
        occupied: owners(&shelf.keys()?),
        quarantine: store.file_quarantine()?,
        fresh,
    };
    for id in &owners(entries.keys()) {
        merge_pair(&mut target, entries, id, report)?;
    }
    for (key, text) in entries {
        if keys::read(key).is_some() {
            continue;
        }
        match key.as_str() {
            keys::SETTINGS if shelf.get(key)?.is_none() => {
                shelf.put(key, text)?;
                report.settings = true;
            }
            keys::CURRENT if store.current().is_none() => shelf.put(key, text)?,
            keys::DRAFT if shelf.get(key)?.is_none() => shelf.put(key, text)?,
            keys::SETTINGS
            | keys::CURRENT
            | keys::DRAFT
            | keys::DRAFT_BEFORE
            | keys::STEPS_AT_BACKUP
            | keys::STEPS_AT_REMINDER
            | keys::TAKEN_OUT
            | keys::GUIDE
            | keys::ECHO_NUMBER
            | keys::TOLD_STORED => {}
            _ => {
                let was = key
                    .strip_prefix(keys::QUARANTINE)
                    .and_then(|rest| rest.split_once(':'));
                if was.is_none() {
                    report.unreadable.push(key.clone());
                }
                target
                    .quarantine
                    .put(was.map_or(key, |(_, was)| was), text)?;
            }
        }
    }
    Ok(())
}

/// Where a pair goes.
struct Target<'a> {
    store: Store<'a>,
    /// Ids under which something lay there before.
    occupied: BTreeSet<PairId>,
    quarantine: FileQuarantine<'a>,
    fresh: &'a mut dyn FnMut() -> PairId,
}

fn merge_pair(
    target: &mut Target<'_>,
    entries: &BTreeMap<String, String>,
    id: &PairId,
    report: &mut Restored,
) -> Result<(), StoreError> {
    let store = target.store;
    let Some(theirs) = from_file(entries, id) else {
        let head = entries
            .get(&keys::head(id))
            .and_then(|text| read_head(id, text).ok());
        report
            .unreadable
            .push(head.map_or_else(|| id.to_string(), |head| head.name));
        return put_into_quarantine(&mut target.quarantine, entries, |key| {
            keys::read(key).is_some_and(|(owner, _)| owner == *id)
        });
    };
    if !theirs.lost.is_empty() {
        report.unreadable.push(theirs.name.clone());
        put_into_quarantine(&mut target.quarantine, entries, |key| {
            theirs.lost.iter().any(|lost| lost == key)
        })?;
    }
    let name = theirs.name.clone();
    let Some(ours) = from_store(store, id)? else {
        // Whatever lies here under that id is no pair that can be read, or a newer Evenloop's.
        let id = if target.occupied.contains(id) {
            (target.fresh)()
        } else {
            id.clone()
        };
        put(store, &id, &theirs)?;
        report.added.push(name);
        return Ok(());
    };
    if ours.continues(&theirs) {
        report.kept.push(name);
    } else if theirs.continues(&ours) {
        put(
            store,
            id,
            &StoredPair {
                name: ours.name,
                ..theirs
            },
        )?;
        report.continued.push(name);
    } else if theirs.events() > ours.events() {
        beside(target, &ours, text::keep::AS_ON_DEVICE, report)?;
        put(store, id, &theirs)?;
        report.continued.push(name);
    } else {
        beside(target, &theirs, text::keep::FROM_BACKUP, report)?;
        report.kept.push(name);
    }
    Ok(())
}

/// Makes a pair of its own of a side, unless the basket has one that says the same already.
fn beside(
    target: &mut Target<'_>,
    side: &StoredPair,
    whence: &str,
    report: &mut Restored,
) -> Result<(), StoreError> {
    let store = target.store;
    for head in store.pairs()? {
        let same = from_store(store, &head.id)?
            .is_some_and(|other| other.continues(side) && side.continues(&other));
        if same && head.name.ends_with(whence) {
            return Ok(());
        }
    }
    let name = text::keep::told_apart(&Typed::new(&*side.name), whence);
    put(
        store,
        &(target.fresh)(),
        &StoredPair {
            name: name.clone(),
            ..side.clone_logs()
        },
    )?;
    report.beside.push(name);
    Ok(())
}

impl StoredPair {
    fn clone_logs(&self) -> Self {
        Self {
            name: String::new(),
            created: self.created,
            plan: self.plan.clone(),
            own: self.own.clone(),
            logs: self.logs.clone(),
            lost: Vec::new(),
        }
    }
}

/// Puts those entries of a file into quarantine.
fn put_into_quarantine(
    quarantine: &mut FileQuarantine<'_>,
    entries: &BTreeMap<String, String>,
    which: impl Fn(&str) -> bool,
) -> Result<(), StoreError> {
    for (key, text) in entries.iter().filter(|(key, _)| which(key)) {
        quarantine.put(key, text)?;
    }
    Ok(())
}

/// Writes a pair: logs first, then plan, then head, so that it appears when it is whole.
fn put(store: Store<'_>, id: &PairId, side: &StoredPair) -> Result<(), StoreError> {
    let shelf = store.shelf();
    for (sock, events) in (1..).zip(&side.logs) {
        store.replace_log(id, sock, events)?;
    }
    for (sock, own) in (1..).zip(&side.own) {
        let key = keys::own_plan(id, sock);
        match own {
            Some(own) => shelf.put(&key, own)?,
            None => shelf.remove(&key)?,
        }
    }
    shelf.put(&keys::plan(id), &side.plan)?;
    let pair = store.open(id)?;
    let head = PairHead {
        id: id.clone(),
        name: side.name.clone(),
        created: side.created,
        progress: pair.progress(),
        readable: true,
    };
    store.write_head(&head)
}

/// A pair out of a file; `None` when its plan cannot be read.
fn from_file(entries: &BTreeMap<String, String>, id: &PairId) -> Option<StoredPair> {
    let chunks = |sock| {
        let of_sock = entries
            .iter()
            .filter_map(|(key, text)| match keys::read(key)? {
                (owner, KeyKind::Chunk(of, index)) if owner == *id && of == sock => {
                    Some((key.clone(), index, text.clone()))
                }
                _ => None,
            });
        of_sock.collect()
    };
    let head = entries.get(&keys::head(id)).map(String::as_str);
    let own = [1, 2].map(|sock| entries.get(&keys::own_plan(id, sock)).cloned());
    side(
        id,
        head,
        entries.get(&keys::plan(id))?,
        own,
        [chunks(1), chunks(2)],
    )
}

/// A pair here; `None` when its plan is missing or cannot be read, or when a newer Evenloop has to do
/// with it. What cannot be read of its logs goes into quarantine first: what is merged into them writes over
/// it.
fn from_store(store: Store<'_>, id: &PairId) -> Result<Option<StoredPair>, StoreError> {
    let shelf = store.shelf();
    let Some(plan) = shelf.get(&keys::plan(id))? else {
        return Ok(None);
    };
    let head = shelf.get(&keys::head(id))?;
    let own = [1, 2].map(|sock| shelf.get(&keys::own_plan(id, sock)));
    let [first, second] = own;
    if let Err(StoreError::Damaged { .. } | StoreError::Newer { .. }) = store.open(id) {
        return Ok(None);
    }
    let chunks = store.chunks(id)?;
    Ok(side(id, head.as_deref(), &plan, [first?, second?], chunks))
}

fn side(
    id: &PairId,
    head: Option<&str>,
    plan: &str,
    own: [Option<String>; 2],
    [first, second]: [Vec<Chunk>; 2],
) -> Option<StoredPair> {
    for plan in own.iter().flatten().map(String::as_str).chain([plan]) {
        read_plan(plan).ok()?;
    }
    let head = head.and_then(|text| read_head(id, text).ok());
    let (first, second) = (logs::read(1, first), logs::read(2, second));
    Some(StoredPair {
        created: head.as_ref().map_or(0, |head| head.created),
        name: head.map_or_else(|| tidy_name(""), |head| head.name),
        plan: plan.to_owned(),
        own,
        logs: [first.events, second.events],
        lost: [first.lost, second.lost].concat(),
    })
}
