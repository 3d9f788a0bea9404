//! Everything in one file, and back. The file carries every key with its text as it lies on the
//! shelf, what is in quarantine included, so that nothing has to be understood to be saved.
//!
//! Coming back, nothing here is overwritten that the file does not continue: of two logs that went
//! different ways the longer stays under the pair's id and the other becomes a pair of its own.

use std::collections::BTreeMap;
use std::sync::Arc;

use evenloop_engine::journal::{CHUNK_EVENTS, Digest, Event, Journal, Seconds, write_chunk};
use evenloop_engine::text::Typed;
use serde::{Deserialize, Serialize};

use super::error::StoreError;
use super::handle::Store;
use super::heads::{head_text, read_head};
use super::keys::{self, KeyKind};
use super::logs::{self, Chunk};
use super::operation::Change;
use super::pair::{KnittedPlan, PairHead, PairId, PairProgress, on_needles, tidy_name};
use super::pairs::read_plans;
use super::taken_out::out_in_place;
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
#[derive(Clone)]
struct Side {
    name: String,
    created: u64,
    plan: String,
    /// Plans of single socks, where they are not the pair's.
    own: [Option<String>; 2],
    /// The ways back from plans made anew: sock, number of the event and text.
    earlier: Vec<(u8, usize, String)>,
    patterns: [Arc<KnittedPlan>; 2],
    digests: [Digest; 2],
    logs: [Vec<Event>; 2],
    /// Keys of chunks that cannot be read.
    lost: Vec<String>,
}

impl Side {
    fn events(&self) -> usize {
        self.logs[0].len() + self.logs[1].len()
    }

    /// Whether this is the other, or the other gone on with.
    fn continues(&self, other: &Self) -> bool {
        let since = |sock: usize| self.logs[sock].strip_prefix(&*other.logs[sock]);
        let (Some(first), Some(second)) = (since(0), since(1)) else {
            return false;
        };
        // A plan made anew since is an event of a log; an older Evenloop did not say so.
        let anew = first
            .iter()
            .chain(second)
            .any(|event| matches!(event, Event::Replanned(..) | Event::PlanTakenBack(..)));
        let follows = |sock: usize| {
            let before = &other.own[sock];
            anew || before.is_none() || self.own[sock] == *before
        };
        self.plan == other.plan && follows(0) && follows(1)
    }

    /// A name for this very state of a pair, and so the same whenever it is met again.
    fn id(&self, of: &PairId, whence: &str) -> PairId {
        let mut digest = Digest::of(of.as_str()).and(whence).and(&self.plan);
        for own in self.own.iter().flatten() {
            digest = digest.and(own);
        }
        for log in &self.logs {
            for (index, part) in (0..).zip(log.chunks(CHUNK_EVENTS)) {
                digest = digest.and(&write_chunk(index, part));
            }
        }
        PairId::of(digest)
    }

    /// The same with a word in each log that is begun that it came from a backup.
    fn brought_back(self, now: Seconds) -> Self {
        let logs = [0, 1].map(|sock| {
            let (trace, plan) = (&self.patterns[sock].trace, self.digests[sock]);
            let mut journal = Journal::replay(&self.logs[sock], trace);
            if !journal.is_empty() {
                let at = journal.position();
                journal.record(Event::Restored(now, at, plan), trace, plan);
            }
            journal.events().to_vec()
        });
        Self { logs, ..self }
    }
}

impl Store<'_> {
    /// Everything as one document to keep elsewhere; `now` is seconds since 1970.
    ///
    /// # Errors
    /// When there is no storage.
    pub fn backup(self, now: u64) -> Result<String, StoreError> {
        self.finish_operation()?;
        let mut entries = BTreeMap::new();
        for key in self.shelf().keys()? {
            if key.starts_with(keys::ROOT)
                && key != keys::ECHO_NUMBER
                && key != keys::RESERVE
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

    /// Merges a backup; see [`Restored`] for what became of what. All of it is one operation where there is room
    /// for that, else each pair is one. The same file a second time changes nothing.
    ///
    /// # Errors
    /// When it is no backup that can be read; nothing was changed then.
    pub fn restore(self, text: &str, now: Seconds) -> Result<Restored, BackupRefused> {
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
        report.stopped = merge(self, &file.entries, now, &mut report).err();
        Ok(report)
    }
}

impl Store<'_> {
    /// Merges texts as those of a backup.
    ///
    /// # Errors
    /// When the storage refuses.
    pub(super) fn merge_texts(
        self,
        texts: &BTreeMap<String, String>,
        now: Seconds,
    ) -> Result<(), StoreError> {
        merge(self, texts, now, &mut Restored::default())
    }
}

/// What the file says of one pair: what each key holds, and its text.
type FilePair<'a> = Vec<(&'a String, KeyKind, &'a String)>;

/// One thing that a file brings, with the changes for it and what is said of it.
#[derive(Default)]
struct Brought {
    changes: Vec<Change>,
    said: Restored,
}

fn merge(
    store: Store<'_>,
    entries: &BTreeMap<String, String>,
    now: Seconds,
    report: &mut Restored,
) -> Result<(), StoreError> {
    store.finish_operation()?;
    let mut pairs: BTreeMap<PairId, FilePair<'_>> = BTreeMap::new();
    for (key, text) in entries {
        if let Some((id, held)) = keys::read(key) {
            pairs.entry(id).or_default().push((key, held, text));
        }
    }
    // A pair that had been taken out there is not brought back.
    if let Some(out) = entries
        .get(keys::TAKEN_OUT)
        .and_then(|text| out_in_place(text))
    {
        pairs.remove(&out);
    }
    let mut unreadable = Unreadable::default();
    let mut all = Vec::new();
    for (id, pair) in &pairs {
        all.push(merge_pair(store, id, pair, &mut unreadable, now)?);
    }
    let mut rest = Brought::default();
    for (key, text) in entries.iter().filter(|(key, _)| keys::read(key).is_none()) {
        merge_other(store, key, text, &mut unreadable, &mut rest)?;
    }
    // Before the pairs: nothing is written over what is not aside yet.
    rest.changes.extend(unreadable.aside(store)?);
    all.insert(0, rest);
    let changes: Vec<Change> = all.iter().flat_map(|one| one.changes.clone()).collect();
    match store.commit(&changes) {
        Err(StoreError::Full) => {
            // Not all at once: then as much as there is room for, pair by pair.
            for one in all {
                store.commit(&one.changes)?;
                report.add(one.said);
            }
        }
        done => {
            done?;
            for one in all {
                report.add(one.said);
            }
        }
    }
    Ok(())
}

impl Restored {
    fn add(&mut self, other: Self) {
        self.added.extend(other.added);
        self.continued.extend(other.continued);
        self.kept.extend(other.kept);
        self.beside.extend(other.beside);
        self.unreadable.extend(other.unreadable);
        self.settings |= other.settings;
    }
}

/// Something in a file that is no pair's.
fn merge_other(
    store: Store<'_>,
    key: &str,
    text: &str,
    unreadable: &mut Unreadable,
    rest: &mut Brought,
) -> Result<(), StoreError> {
    let shelf = store.shelf();
    let mut put = || {
        let change = Change::put(key.to_owned(), text.to_owned());
        rest.changes.push(change);
    };
    match key {
        keys::SETTINGS if shelf.get(key)?.is_none() => {
            put();
            rest.said.settings = true;
        }
        keys::CURRENT if store.current().is_none() => put(),
        keys::DRAFT if shelf.get(key)?.is_none() => put(),
        keys::SETTINGS
        | keys::CURRENT
        | keys::DRAFT
        | keys::DRAFT_BEFORE
        | keys::STEPS_AT_BACKUP
        | keys::STEPS_AT_REMINDER
        | keys::TAKEN_OUT
        | keys::OPERATION
        | keys::RESERVE
        | keys::GUIDE
        | keys::ECHO_NUMBER
        | keys::TOLD_INSTALL
        | keys::TOLD_STORED => {}
        _ => {
            let was = key
                .strip_prefix(keys::QUARANTINE)
                .and_then(|rest| rest.split_once(':'));
            if was.is_none() {
                rest.said.unreadable.push(key.to_owned());
            }
            unreadable.add(was.map_or(key, |(_, was)| was), text);
        }
    }
    Ok(())
}

/// So many texts of a file that cannot be read are set aside each by itself; more go in one piece.
const EACH_BY_ITSELF: usize = 50;

/// The key that texts of a file have in quarantine which go there in one piece.
const IN_ONE_PIECE: &str = "backup";

/// Texts that cannot be read, with the keys they had in the file.
#[derive(Default)]
struct Unreadable(Vec<(String, String)>);

impl Unreadable {
    fn add(&mut self, key: &str, text: &str) {
        self.0.push((key.to_owned(), text.to_owned()));
    }

    /// The changes that set all of it aside.
    fn aside(self, store: Store<'_>) -> Result<Vec<Change>, StoreError> {
        let mut quarantine = store.file_quarantine()?;
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

fn merge_pair(
    store: Store<'_>,
    id: &PairId,
    pair: &FilePair<'_>,
    unreadable: &mut Unreadable,
    now: Seconds,
) -> Result<Brought, StoreError> {
    let mut brought = Brought::default();
    let Some(theirs) = from_file(id, pair) else {
        let head = text_of(pair, KeyKind::Head).and_then(|text| read_head(id, text).ok());
        let name = head.map_or_else(|| id.to_string(), |head| head.name);
        brought.said.unreadable.push(name);
        for (key, _, text) in pair {
            unreadable.add(key, text);
        }
        return Ok(brought);
    };
    if !theirs.lost.is_empty() {
        brought.said.unreadable.push(theirs.name.clone());
        for (key, _, text) in pair.iter().filter(|(key, ..)| theirs.lost.contains(key)) {
            unreadable.add(key, text);
        }
    }
    let name = theirs.name.clone();
    let Some(ours) = from_store(store, id)? else {
        add_pair(store, id, theirs, unreadable, now, &mut brought)?;
        return Ok(brought);
    };
    if store.is_out(id)? {
        // It comes back into the basket, as far as either knows.
        brought
            .changes
            .push(Change::remove(keys::TAKEN_OUT.to_owned()));
        brought.said.added.push(name.clone());
    }
    // A pair that has lost its name is called as in the file.
    let unnamed = ours.name == tidy_name("");
    let ours = Side {
        name: if unnamed { name.clone() } else { ours.name },
        ..ours
    };
    let said = &mut brought.said;
    if ours.continues(&theirs) {
        if unnamed {
            brought.changes.extend(put(store, id, &ours)?);
        }
        if said.added.is_empty() {
            said.kept.push(name);
        }
    } else if theirs.continues(&ours) {
        if said.added.is_empty() {
            said.continued.push(name);
        }
        let name = ours.name;
        let side = Side { name, ..theirs }.brought_back(now);
        brought.changes.extend(put(store, id, &side)?);
    } else if theirs.events() > ours.events() {
        said.continued.push(name);
        let beside = beside(store, id, ours, text::keep::AS_ON_DEVICE, said)?;
        brought.changes.extend(beside);
        let side = theirs.brought_back(now);
        brought.changes.extend(put(store, id, &side)?);
    } else {
        said.kept.push(name);
        let came = text::keep::FROM_BACKUP;
        let beside = beside(store, id, theirs, came, said)?;
        brought.changes.extend(beside);
    }
    Ok(brought)
}

/// A pair that is not here.
fn add_pair(
    store: Store<'_>,
    id: &PairId,
    side: Side,
    unreadable: &mut Unreadable,
    now: Seconds,
    brought: &mut Brought,
) -> Result<(), StoreError> {
    let shelf = store.shelf();
    // A plan that cannot be read, or a newer Evenloop's, stays where it is.
    let occupied = shelf.get(&keys::plan(id))?.is_some();
    let id = if occupied {
        side.id(id, "")
    } else {
        id.clone()
    };
    if occupied && shelf.get(&keys::plan(&id))?.is_some() {
        brought.said.kept.push(side.name);
        return Ok(());
    }
    brought.said.added.push(side.name.clone());
    let side = side.brought_back(now);
    let changes = put(store, &id, &side)?;
    // What is left there of a pair that has lost its plan.
    for chunks in store.chunks(&id)? {
        for (key, _, text) in chunks {
            let goes_on = changes.iter().any(|change| {
                let continues = |new: &String| new.starts_with(&text);
                change.key == key && change.text.as_ref().is_some_and(continues)
            });
            if !goes_on {
                unreadable.add(&key, &text);
            }
        }
    }
    brought.changes.extend(changes);
    Ok(())
}

/// The changes that make a pair of its own of a side, unless that was done before.
fn beside(
    store: Store<'_>,
    of: &PairId,
    side: Side,
    whence: &str,
    said: &mut Restored,
) -> Result<Vec<Change>, StoreError> {
    let id = side.id(of, whence);
    if store.shelf().get(&keys::plan(&id))?.is_some() {
        return Ok(Vec::new());
    }
    let name = text::keep::told_apart(&Typed::new(&*side.name), whence);
    said.beside.push(name.clone());
    put(store, &id, &Side { name, ..side })
}

/// The changes for a pair to be this, whatever it was.
fn put(store: Store<'_>, id: &PairId, side: &Side) -> Result<Vec<Change>, StoreError> {
    let mut changes = Vec::new();
    for (sock, events) in (1..).zip(&side.logs) {
        changes.extend(store.whole_log(id, sock, events)?);
    }
    for (sock, own) in (1..).zip(&side.own) {
        changes.push(Change {
            key: keys::own_plan(id, sock),
            text: own.clone(),
        });
    }
    for (sock, event, text) in &side.earlier {
        changes.push(Change::put(keys::earlier(id, *sock, *event), text.clone()));
    }
    changes.push(Change::put(keys::plan(id), side.plan.clone()));
    let journals = [0, 1].map(|sock| Journal::replay(&side.logs[sock], &side.patterns[sock].trace));
    let head = PairHead {
        id: id.clone(),
        name: side.name.clone(),
        created: side.created,
        progress: PairProgress::of(on_needles(&side.patterns, &journals)),
        readable: true,
    };
    changes.push(Change::put(keys::head(id), head_text(&head)));
    Ok(changes)
}

fn text_of<'a>(pair: &FilePair<'a>, held: KeyKind) -> Option<&'a String> {
    let found = pair.iter().find(|(_, kind, _)| *kind == held);
    found.map(|(.., text)| *text)
}

/// A pair out of a file; `None` when its plan cannot be read.
fn from_file(id: &PairId, pair: &FilePair<'_>) -> Option<Side> {
    let mut chunks = [Vec::new(), Vec::new()];
    let mut earlier = Vec::new();
    for (key, held, text) in pair {
        match *held {
            KeyKind::Chunk(sock, index) => {
                chunks[usize::from(sock == 2)].push(((*key).clone(), index, (*text).clone()));
            }
            KeyKind::Earlier(sock, event) => earlier.push((sock, event, (*text).clone())),
            KeyKind::Head | KeyKind::Plan | KeyKind::OwnPlan(_) => {}
        }
    }
    let head = text_of(pair, KeyKind::Head).map(String::as_str);
    let own = [1, 2].map(|sock| text_of(pair, KeyKind::OwnPlan(sock)).cloned());
    let plan = text_of(pair, KeyKind::Plan)?;
    side(id, head, plan, own, earlier, chunks)
}

/// A pair here, in the basket or out of it; `None` when its plan is missing or cannot be read, or when a newer
/// Evenloop has to do with it. What cannot be read of its logs goes into quarantine first: what is
/// merged into them writes over it.
fn from_store(store: Store<'_>, id: &PairId) -> Result<Option<Side>, StoreError> {
    let shelf = store.shelf();
    let Some(plan) = shelf.get(&keys::plan(id))? else {
        return Ok(None);
    };
    if let Err(StoreError::Damaged { .. } | StoreError::Newer { .. }) = store.open_anywhere(id) {
        return Ok(None);
    }
    let head = shelf.get(&keys::head(id))?;
    let own = store.own_plans(id)?;
    let chunks = store.chunks(id)?;
    Ok(side(id, head.as_deref(), &plan, own, Vec::new(), chunks))
}

fn side(
    id: &PairId,
    head: Option<&str>,
    plan: &str,
    own: [Option<String>; 2],
    earlier: Vec<(u8, usize, String)>,
    [first, second]: [Vec<Chunk>; 2],
) -> Option<Side> {
    let (_, patterns, digests) = read_plans(plan, &own).ok()?;
    let head = head.and_then(|text| read_head(id, text).ok());
    let (first, second) = (logs::read(1, first), logs::read(2, second));
    Some(Side {
        created: head.as_ref().map_or(0, |head| head.created),
        name: head.map_or_else(|| tidy_name(""), |head| head.name),
        plan: plan.to_owned(),
        own,
        earlier,
        patterns,
        digests,
        logs: [first.events, second.events],
        lost: [first.lost, second.lost].concat(),
    })
}
