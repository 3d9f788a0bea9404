//! A file on its way in: what of it is done to the pairs that are here, as changes. Nothing is stored in here.

use std::collections::BTreeMap;

use evenloop_engine::journal::Seconds;
use evenloop_engine::text::Typed;

use super::report::{Choices, Chosen, PartedPair, Restored};
use super::unreadable::UnreadableTexts;
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::heads::read_head;
use crate::store::keys::{self, KeyKind};
use crate::store::not_chosen::{head_in, not_chosen_under, read_not_chosen};
use crate::store::operation::StoredChange;
use crate::store::pair::{PairId, tidy_name};
use crate::store::quarantine::{aside_key, quarantined_as};
use crate::store::side::{Meeting, MergeOrigin, PairSide, PartedOver};
use crate::store::taken_out::out_in_place;
use crate::text;

/// What the file says of one pair: what each key holds, and its text.
type FilePair<'a> = Vec<(&'a str, KeyKind, &'a str)>;

/// One thing that a file brings, with the changes for it and what is said of it.
#[derive(Default)]
pub(super) struct Brought {
    pub(super) changes: Vec<StoredChange>,
    pub(super) said: Restored,
}

/// A file on its way in.
pub(super) struct Merge<'a> {
    pub(super) origin: MergeOrigin,
    store: Store<'a>,
    entries: &'a BTreeMap<String, String>,
    pairs: BTreeMap<PairId, FilePair<'a>>,
    /// Pairs of which the other was chosen there, with their records.
    not_chosen: BTreeMap<PairId, &'a str>,
    /// What the knitter chose; while it is only looked into, nothing.
    choices: Option<&'a Choices>,
    now: Seconds,
    unreadable: UnreadableTexts,
    pub(super) parted: Vec<PartedPair>,
}

impl<'a> Merge<'a> {
    pub(super) fn of(
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
            origin: MergeOrigin::File,
            store,
            entries,
            pairs,
            not_chosen,
            choices,
            now,
            unreadable: UnreadableTexts::default(),
            parted: Vec::new(),
        }
    }

    /// All that is to be done, what cannot be read first: nothing is written over what is not aside yet.
    pub(super) fn all(&mut self) -> Result<Vec<Brought>, StoreError> {
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
            let change = StoredChange::put(key.to_owned(), text.to_owned());
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
            rest.changes.push(StoredChange::put(key, text.to_owned()));
            let name = head_in(id, text).map_or_else(|| id.to_string(), |head| head.name);
            rest.said.not_chosen.push(name);
        }
        Ok(())
    }

    fn pair(&mut self, id: &PairId, pair: &FilePair<'_>) -> Result<Brought, StoreError> {
        let mut brought = Brought::default();
        let Some(theirs) = PairSide::from_texts(id, pair.iter().copied()) else {
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
        let Some(ours) = PairSide::from_store(self.store, id)? else {
            self.add_pair(id, theirs, &mut brought)?;
            return Ok(brought);
        };
        let was_out = self.store.is_out(id)?;
        if was_out {
            // It comes back into the basket, as far as either knows.
            brought
                .changes
                .push(StoredChange::remove(keys::TAKEN_OUT.to_owned()));
            brought.said.added.push(theirs.name.clone());
        }
        // A pair that has lost its name is called as in the file.
        let unnamed = ours.name == tidy_name("");
        let ours = if unnamed {
            ours.called(theirs.name.clone())
        } else {
            ours
        };
        brought.said.named.extend(ours.names_given(&theirs));
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
        side: PairSide,
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
        ours: PairSide,
        theirs: PairSide,
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
        let (stays, goes, goes_to) = if stays_ours {
            (ours, theirs, theirs_id)
        } else {
            (theirs, ours, ours_id)
        };
        let name = match self.origin {
            MergeOrigin::File if stays_ours => told_apart(&goes, text::settings::FROM_BACKUP),
            MergeOrigin::File => told_apart(&goes, text::settings::AS_ON_DEVICE),
            // Both were knitted on this device.
            MergeOrigin::SecondCopy => {
                text::settings::told_apart(&Typed::new(&*goes.name), text::recovery::COUNTED_APART)
            }
        };
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
        ours: &PairSide,
        ours_id: &PairId,
        theirs: &PairSide,
        theirs_id: &PairId,
    ) -> Result<Option<Chosen>, StoreError> {
        let stands_here = PairSide::from_store(self.store, theirs_id)?;
        let stands_here = stands_here.is_some_and(|beside| beside.has_all_of(theirs));
        let pair = self.pairs.get(ours_id).into_iter().flatten().copied();
        let came_along = PairSide::from_texts(ours_id, pair);
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
fn told_apart(side: &PairSide, whence: &str) -> String {
    let name = Typed::new(&*side.name);
    match side.branch().device {
        Some(device) => text::bring_in::on_device(&name, &Typed::new(device)),
        None => text::settings::told_apart(&name, whence),
    }
}
