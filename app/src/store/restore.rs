//! A backup of another device, or an earlier one of this, brought together with what is here.
//!
//! Of a pair that is in both, each log goes on with all that either has: see `journal`. Where both went different
//! ways, the knitter chooses, and what was not chosen is kept; nothing here is overwritten that the file
//! does not continue. All of it is one operation.

use std::collections::BTreeMap;

use evenloop_engine::journal::Seconds;
use evenloop_engine::text::Typed;

use super::backup::{BackupRefused, read_backup};
use super::error::StoreError;
use super::handle::Store;
use super::heads::read_head;
use super::keys::{self, KeyKind};
use super::not_chosen::{head_in, not_chosen_under, read_not_chosen};
use super::operation::Change;
use super::pair::{PairId, tidy_name};
use super::quarantine::{aside_key, quarantined_as};
use super::side::{Branch, Meeting, PartedOver, Side};
use super::taken_out::out_in_place;
use super::this_device::DeviceForm;
use crate::text;

/// What bringing a file in does, or did; names of pairs.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Restored {
    /// Were not here.
    pub added: Vec<String>,
    /// The file had gone further, or the other device's was chosen.
    pub continued: Vec<String>,
    /// This device had gone further, or was just as far, or its own was chosen.
    pub kept: Vec<String>,
    /// Each had something that the other lacked, and both were put together.
    pub joined: Vec<String>,
    /// Had gone different ways and were both kept: the other stands beside it under this name.
    pub beside: Vec<String>,
    /// Had gone different ways, and this one was not chosen, here or there: it is kept aside under this name.
    pub not_chosen: Vec<String>,
    /// Cannot be read; in quarantine, raw.
    pub unreadable: Vec<String>,
    /// Whether the settings were taken from the file; they are when there were none here.
    pub settings: bool,
    /// What stopped it before the end.
    pub stopped: Option<StoreError>,
}

/// A pair that went different ways here and there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartedPair {
    /// The pair.
    pub id: PairId,
    /// What it is called here.
    pub name: String,
    /// What is not the same.
    pub over: PartedOver,
    /// How far it was when it was last the same; its device is not told.
    pub common: Branch,
    /// How far it is here.
    pub here: Branch,
    /// How far it is in the file.
    pub there: Branch,
}

/// What of a pair that went different ways is gone on with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Chosen {
    /// That of this device.
    Here,
    /// That of the file.
    There,
    /// Both, as two pairs.
    #[default]
    Both,
}

/// What the knitter chose, pair by pair; of others both are kept.
pub type Choices = BTreeMap<PairId, Chosen>;

/// What would become of everything in a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Preview {
    /// What the device is called that saved it, where it says so.
    pub device: Option<String>,
    /// When it was saved, seconds since 1970.
    pub made: Seconds,
    /// What would be done. Pairs that went different ways are not among it.
    pub would: Restored,
    /// Pairs that went different ways: of each the knitter chooses.
    pub parted: Vec<PartedPair>,
    /// Whether anything would be changed at all, apart from those.
    pub changes: bool,
}

impl Store<'_> {
    /// Says what bringing a file in would do. Nothing is changed, but what cannot be read here is set aside as by opening it.
    ///
    /// # Errors
    /// When it is no backup that can be read.
    pub fn look_into(self, text: &str, now: Seconds) -> Result<Preview, BackupRefused> {
        let file = read_backup(text)?;
        let mut preview = Preview {
            device: file
                .device
                .as_ref()
                .and_then(DeviceForm::read)
                .map(|device| device.name),
            made: file.made,
            would: Restored::default(),
            parted: Vec::new(),
            changes: false,
        };
        let mut each = Merge::of(self, &file.entries, None, now);
        match each.all() {
            Ok(all) => {
                preview.parted = each.parted;
                for one in all {
                    let mut changes = one.changes.iter();
                    preview.changes |= changes.any(|change| change.is_due(self));
                    preview.would.add(one.said);
                }
            }
            Err(error) => preview.would.stopped = Some(error),
        }
        Ok(preview)
    }

    /// Brings a file in; see [`Restored`] for what became of what. All of it is one operation where there is room
    /// for that, else each pair is one. The same file a second time changes nothing.
    ///
    /// # Errors
    /// When it is no backup that can be read; nothing was changed then.
    pub fn restore(
        self,
        text: &str,
        choices: &Choices,
        now: Seconds,
    ) -> Result<Restored, BackupRefused> {
        let file = read_backup(text)?;
        let mut report = Restored::default();
        let done = Merge::of(self, &file.entries, Some(choices), now)
            .all()
            .and_then(|all| commit(self, all, &mut report));
        report.stopped = done.err();
        Ok(report)
    }

    /// Merges texts as those of a backup; of pairs that went different ways both are kept.
    ///
    /// # Errors
    /// When the storage refuses.
    pub(super) fn merge_texts(
        self,
        texts: &BTreeMap<String, String>,
        now: Seconds,
    ) -> Result<(), StoreError> {
        let all = Merge::of(self, texts, Some(&Choices::new()), now).all()?;
        commit(self, all, &mut Restored::default())
    }
}

fn commit(store: Store<'_>, all: Vec<Brought>, report: &mut Restored) -> Result<(), StoreError> {
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

/// What the file says of one pair: what each key holds, and its text.
type FilePair<'a> = Vec<(&'a str, KeyKind, &'a str)>;

/// One thing that a file brings, with the changes for it and what is said of it.
#[derive(Default)]
struct Brought {
    changes: Vec<Change>,
    said: Restored,
}

impl Restored {
    fn add(&mut self, other: Self) {
        self.added.extend(other.added);
        self.continued.extend(other.continued);
        self.kept.extend(other.kept);
        self.joined.extend(other.joined);
        self.beside.extend(other.beside);
        self.not_chosen.extend(other.not_chosen);
        self.unreadable.extend(other.unreadable);
        self.settings |= other.settings;
    }
}

/// A file on its way in.
struct Merge<'a> {
    store: Store<'a>,
    entries: &'a BTreeMap<String, String>,
    pairs: BTreeMap<PairId, FilePair<'a>>,
    /// Pairs of which the other was chosen there, with their records.
    not_chosen: BTreeMap<PairId, &'a str>,
    /// What the knitter chose; while it is only looked into, nothing.
    choices: Option<&'a Choices>,
    now: Seconds,
    unreadable: Unreadable,
    parted: Vec<PartedPair>,
}

impl<'a> Merge<'a> {
    fn of(
        store: Store<'a>,
        entries: &'a BTreeMap<String, String>,
        choices: Option<&'a Choices>,
        now: Seconds,
    ) -> Self {
        let mut pairs: BTreeMap<PairId, FilePair<'_>> = BTreeMap::new();
        let mut not_chosen = BTreeMap::new();
        for (key, text) in entries {
            if let Some((id, held)) = keys::read(key) {
                pairs.entry(id).or_default().push((key, held, text));
            } else if let Some(id) = not_chosen_under(key)
                && read_not_chosen(&id, text).is_some()
            {
                not_chosen.insert(id, text.as_str());
            }
        }
        // A pair that had been taken out there is not brought back.
        if let Some(out) = entries
            .get(keys::TAKEN_OUT)
            .and_then(|text| out_in_place(text))
        {
            pairs.remove(&out);
        }
        Self {
            store,
            entries,
            pairs,
            not_chosen,
            choices,
            now,
            unreadable: Unreadable::default(),
            parted: Vec::new(),
        }
    }

    /// All that is to be done, what cannot be read first: nothing is written over what is not aside yet.
    fn all(&mut self) -> Result<Vec<Brought>, StoreError> {
        self.store.finish_operation()?;
        let mut all = Vec::new();
        let pairs: Vec<_> = self
            .pairs
            .iter()
            .map(|(id, pair)| (id.clone(), pair.clone()))
            .collect();
        for (id, pair) in pairs {
            all.push(self.pair(&id, &pair)?);
        }
        let mut rest = Brought::default();
        let entries = self.entries.iter();
        for (key, text) in entries.filter(|(key, _)| keys::read(key).is_none()) {
            self.other(key, text, &mut rest)?;
        }
        let unreadable = std::mem::take(&mut self.unreadable);
        rest.changes.extend(unreadable.aside(self.store)?);
        all.insert(0, rest);
        Ok(all)
    }

    /// Something in a file that is no pair's.
    fn other(&mut self, key: &str, text: &str, rest: &mut Brought) -> Result<(), StoreError> {
        let on = self.store.shelf();
        let mut put = || {
            let change = Change::put(key.to_owned(), text.to_owned());
            rest.changes.push(change);
        };
        match key {
            keys::SETTINGS if on.get(key)?.is_none() => {
                put();
                rest.said.settings = true;
            }
            keys::CURRENT if self.store.current().is_none() => put(),
            keys::DRAFT | keys::PATTERN_DRAFT if on.get(key)?.is_none() => put(),
            keys::SETTINGS
            | keys::CURRENT
            | keys::DRAFT
            | keys::DRAFT_BEFORE
            | keys::PATTERN_DRAFT
            | keys::DEVICE
            | keys::STEPS_AT_BACKUP
            | keys::STEPS_AT_REMINDER
            | keys::TAKEN_OUT
            | keys::OPERATION
            | keys::RESERVE
            | keys::GUIDE
            | keys::ECHO_NUMBER
            | keys::TOLD_INSTALL
            | keys::TOLD_STORED
            | keys::TOUCHED => {}
            _ => {
                if let Some(id) = not_chosen_under(key)
                    && self.not_chosen.contains_key(&id)
                {
                    return self.not_chosen(&id, text, rest);
                }
                let was = quarantined_as(key);
                if was.is_none() {
                    rest.said.unreadable.push(key.to_owned());
                }
                self.unreadable.add(was.unwrap_or(key), text);
            }
        }
        Ok(())
    }

    /// A pair that was not chosen there: it is kept here as well.
    fn not_chosen(&self, id: &PairId, text: &str, rest: &mut Brought) -> Result<(), StoreError> {
        let on = self.store.shelf();
        if on.get(&keys::plan(id))?.is_none() && !self.store.is_not_chosen(id)? {
            let (key, _) = aside_key(on, &format!("{}{id}", keys::NOT_CHOSEN), text)?;
            rest.changes.push(Change::put(key, text.to_owned()));
            let name = head_in(id, text).map_or_else(|| id.to_string(), |head| head.name);
            rest.said.not_chosen.push(name);
        }
        Ok(())
    }

    fn pair(&mut self, id: &PairId, pair: &FilePair<'_>) -> Result<Brought, StoreError> {
        let mut brought = Brought::default();
        let Some(theirs) = Side::from_texts(id, pair.iter().copied()) else {
            let mut heads = pair.iter().filter(|(_, held, _)| *held == KeyKind::Head);
            let head = heads.next().and_then(|(.., text)| read_head(id, text).ok());
            let name = head.map_or_else(|| id.to_string(), |head| head.name);
            brought.said.unreadable.push(name);
            for (key, _, text) in pair {
                self.unreadable.add(key, text);
            }
            return Ok(brought);
        };
        if !theirs.lost.is_empty() {
            brought.said.unreadable.push(theirs.name.clone());
            let lost = |key: &str| theirs.lost.iter().any(|lost| lost == key);
            for (key, _, text) in pair.iter().filter(|(key, ..)| lost(key)) {
                self.unreadable.add(key, text);
            }
        }
        let Some(ours) = Side::from_store(self.store, id)? else {
            self.add_pair(id, theirs, &mut brought)?;
            return Ok(brought);
        };
        let was_out = self.store.is_out(id)?;
        if was_out {
            // It comes back into the basket, as far as either knows.
            brought
                .changes
                .push(Change::remove(keys::TAKEN_OUT.to_owned()));
            brought.said.added.push(theirs.name.clone());
        }
        // A pair that has lost its name is called as in the file.
        let unnamed = ours.name == tidy_name("");
        let ours = if unnamed {
            ours.called(theirs.name.clone())
        } else {
            ours
        };
        let told = |of: &mut Vec<String>, name: &str| {
            if !was_out {
                of.push(name.to_owned());
            }
        };
        match ours.meets(&theirs) {
            Meeting::Same | Meeting::Ahead => {
                told(&mut brought.said.kept, &ours.name);
                if unnamed {
                    brought.changes.extend(ours.put(self.store, id)?);
                }
            }
            Meeting::Behind => {
                told(&mut brought.said.continued, &theirs.name);
                let side = theirs.in_place_of(&ours).brought_in(self.now);
                brought.changes.extend(side.put(self.store, id)?);
            }
            Meeting::Both => {
                // What does not contradict can be joined.
                let Some(side) = ours.joined_with(&theirs) else {
                    let over = PartedOver::Rounds;
                    return self.parted(id, over, ours, theirs, brought);
                };
                told(&mut brought.said.joined, &side.name);
                let side = side.brought_in(self.now);
                brought.changes.extend(side.put(self.store, id)?);
            }
            Meeting::Parted(over) => return self.parted(id, over, ours, theirs, brought),
        }
        Ok(brought)
    }

    /// A pair that is not here.
    fn add_pair(
        &mut self,
        id: &PairId,
        side: Side,
        brought: &mut Brought,
    ) -> Result<(), StoreError> {
        let (store, on) = (self.store, self.store.shelf());
        // A plan that cannot be read, or a newer Evenloop's, stays where it is.
        let occupied = on.get(&keys::plan(id))?.is_some();
        let id = if occupied { side.id(id) } else { id.clone() };
        if occupied && on.get(&keys::plan(&id))?.is_some() {
            brought.said.kept.push(side.name);
            return Ok(());
        }
        brought.said.added.push(side.name.clone());
        let changes = side.brought_in(self.now).put(store, &id)?;
        // What is left there of a pair that has lost its plan.
        for chunks in store.chunks(&id)? {
            for (key, _, text) in chunks {
                let goes_on = changes.iter().any(|change| {
                    let continues = |new: &String| new.starts_with(&text);
                    change.key == key && change.text.as_ref().is_some_and(continues)
                });
                if !goes_on {
                    self.unreadable.add(&key, &text);
                }
            }
        }
        brought.changes.extend(changes);
        Ok(())
    }

    /// A pair that went different ways here and there.
    fn parted(
        &mut self,
        id: &PairId,
        over: PartedOver,
        ours: Side,
        theirs: Side,
        mut brought: Brought,
    ) -> Result<Brought, StoreError> {
        let store = self.store;
        let (ours_id, theirs_id) = (ours.id(id), theirs.id(id));
        let chosen = match self.settled(id, &ours, &ours_id, &theirs, &theirs_id)? {
            Some(Chosen::There) => {
                brought.said.continued.push(theirs.name.clone());
                let side = theirs.brought_in(self.now);
                brought.changes.extend(side.put(store, id)?);
                return Ok(brought);
            }
            Some(_) => {
                brought.said.kept.push(ours.name);
                return Ok(brought);
            }
            None => {
                let Some(choices) = self.choices else {
                    self.parted.push(PartedPair {
                        id: id.clone(),
                        over,
                        common: ours.common_with(&theirs),
                        here: ours.branch(),
                        there: theirs.branch(),
                        name: ours.name,
                    });
                    return Ok(brought);
                };
                choices.get(id).copied().unwrap_or_default()
            }
        };
        let stays_ours = match chosen {
            Chosen::Here => true,
            Chosen::There => false,
            Chosen::Both => !theirs.is_longer(&ours, id),
        };
        let (stays, goes, goes_to, whence) = if stays_ours {
            (ours, theirs, theirs_id, text::keep::FROM_BACKUP)
        } else {
            (theirs, ours, ours_id, text::keep::AS_ON_DEVICE)
        };
        let name = told_apart(&goes, whence);
        let goes = goes.called(name.clone());
        if chosen == Chosen::Both {
            brought.changes.extend(goes.put(store, &goes_to)?);
            brought.said.beside.push(name);
        } else {
            brought
                .changes
                .push(store.keep_not_chosen(&goes_to, &goes)?);
            brought.said.not_chosen.push(name);
        }
        if stays_ours {
            brought.said.kept.push(stays.name);
        } else {
            brought.said.continued.push(stays.name.clone());
            let side = stays.brought_in(self.now);
            brought.changes.extend(side.put(store, id)?);
        }
        Ok(brought)
    }

    /// What was chosen before, on this device or on that, of this very state of both.
    fn settled(
        &self,
        id: &PairId,
        ours: &Side,
        ours_id: &PairId,
        theirs: &Side,
        theirs_id: &PairId,
    ) -> Result<Option<Chosen>, StoreError> {
        let stands_here = Side::from_store(self.store, theirs_id)?;
        let stands_here = stands_here.is_some_and(|beside| beside.has_all_of(theirs));
        let pair = self.pairs.get(ours_id).into_iter().flatten().copied();
        let came_along = Side::from_texts(ours_id, pair);
        let came_along = came_along.is_some_and(|beside| beside.has_all_of(ours));
        match (stands_here, came_along) {
            (true, true) if theirs.is_longer(ours, id) => return Ok(Some(Chosen::There)),
            (true, _) => return Ok(Some(Chosen::Here)),
            (false, true) => return Ok(Some(Chosen::There)),
            (false, false) => {}
        }
        let kept = self.not_chosen.get(ours_id);
        let kept = kept.and_then(|text| read_not_chosen(ours_id, text));
        let there = kept.is_some_and(|kept| kept.has_all_of(ours));
        // Where each device chose its own, it has to be asked again.
        Ok(match (self.store.is_not_chosen(theirs_id)?, there) {
            (true, false) => Some(Chosen::Here),
            (false, true) => Some(Chosen::There),
            _ => None,
        })
    }
}

/// The name of a pair that stands beside another, by the device on which it was knitted or, where that is not known, by
/// where it comes from.
fn told_apart(side: &Side, whence: &str) -> String {
    let name = Typed::new(&*side.name);
    match side.branch().device {
        Some(device) => text::bring_in::on_device(&name, &Typed::new(device)),
        None => text::keep::told_apart(&name, whence),
    }
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
