//! Pairs: begun, opened, gone on with, deleted. A pair's plan is stored beside it and never
//! made again. Where a sock was planned anew on the way, its own plan lies beside the pair's; the
//! second sock follows the first one's unless it has its own. Pairs without such plans, all older ones
//! among them, have both socks the same.

use std::sync::Arc;

use evenloop_engine::journal::{Event, Journal};
use evenloop_engine::trace::Trace;
use evenloop_engine::wire::{self, WireError};

use super::device;
use super::error::{StoreError, StoredPart};
use super::handle::Store;
use super::heads::{latest_first, read_head, unreadable};
use super::keys::{self, KeyKind};
use super::pair::{KnittedPlan, OpenPair, PairHead, PairId, PairProgress, on_needles, tidy_name};
use super::shelf::Memory;

impl Store<'_> {
    /// All pairs, the latest first.
    ///
    /// # Errors
    /// When there is no storage.
    pub fn pairs(self) -> Result<Vec<PairHead>, StoreError> {
        let heads = self.pair_ids()?.into_iter().map(|id| self.head(&id));
        Ok(latest_first(heads.collect::<Result<_, _>>()?))
    }

    /// A pair's head; made anew from plan and logs when it is missing or cannot be read.
    fn head(self, id: &PairId) -> Result<PairHead, StoreError> {
        if let Some(text) = self.shelf().get(&keys::head(id))?
            && let Ok(head) = read_head(id, &text)
        {
            return Ok(head);
        }
        match self.open(id) {
            Ok(pair) => Ok(pair.head),
            Err(StoreError::Damaged { .. } | StoreError::Newer { .. } | StoreError::NotThere) => {
                Ok(unreadable(id))
            }
            Err(error) => Err(error),
        }
    }

    /// Puts a new pair in the basket; `now` is seconds since 1970.
    ///
    /// # Errors
    /// When the plan cannot be read or stored; nothing is left behind then.
    pub fn create(self, name: &str, plan_doc: &str, now: u64) -> Result<PairId, StoreError> {
        let id = PairId::new(now, device::random());
        self.create_as(&id, name, plan_doc, now).map(|()| id)
    }

    /// Puts a new pair in the basket under an id: the plan first, so that a head never stands without
    /// one.
    pub(super) fn create_as(
        self,
        id: &PairId,
        name: &str,
        plan_doc: &str,
        now: u64,
    ) -> Result<(), StoreError> {
        let pattern = Arc::new(read_plan(plan_doc)?);
        let patterns = [Arc::clone(&pattern), pattern];
        let head = PairHead {
            id: id.clone(),
            name: tidy_name(name),
            created: now,
            progress: PairProgress::of(on_needles(&patterns, &[Journal::new(), Journal::new()])),
            readable: true,
        };
        let plan_key = keys::plan(id);
        self.shelf().put(&plan_key, plan_doc)?;
        self.write_head(&head).inspect_err(|_| {
            // Half a pair is of no use; that it cannot be taken away again does no harm.
            let _ = self.shelf().remove(&plan_key);
        })
    }

    /// Opens a pair. What of its logs cannot be read goes into quarantine and said in [`OpenPair::trouble`]; what
    /// comes before it is kept.
    ///
    /// # Errors
    /// When there is no such pair, its plan cannot be read, or a newer Evenloop has written anything of
    /// it. All of it stays where it is.
    pub fn open(self, id: &PairId) -> Result<OpenPair, StoreError> {
        let head_key = keys::head(id);
        let stored = self.shelf().get(&head_key)?;
        let head = stored
            .as_deref()
            .map(|text| read_head(id, text))
            .transpose();
        // Whatever a newer Evenloop has to do with is left to it as it is.
        if let Err(newer @ StoreError::Newer { .. }) = head {
            return Err(newer);
        }
        let (meant, patterns) = self.patterns(id)?;
        let mut trouble = None;
        let mut journals = [Journal::new(), Journal::new()];
        let chunks = self.chunks(id)?;
        for (((sock, journal), pattern), chunks) in
            (1..).zip(&mut journals).zip(&patterns).zip(chunks)
        {
            let (events, wrong) = self.open_log(sock, chunks)?;
            *journal = Journal::replay(&events, &pattern.trace);
            trouble = trouble.or(wrong);
        }
        let progress = PairProgress::of(on_needles(&patterns, &journals));
        let head = match head {
            Ok(Some(head)) if head.progress == progress => head,
            found => {
                if let Err(damaged) = &found {
                    self.quarantine(&head_key)?;
                    trouble = trouble.or(Some(damaged.clone()));
                }
                let begun = journals[0].events().first().map_or(0, Event::at);
                let mut head = found.ok().flatten().unwrap_or_else(|| PairHead {
                    created: begun,
                    readable: true,
                    ..unreadable(id)
                });
                head.progress = progress;
                // A head only repeats what plan and logs say; a full shelf must not keep a pair shut.
                let _ = self.write_head(&head);
                head
            }
        };
        Ok(OpenPair {
            head,
            meant,
            patterns,
            journals,
            trouble,
        })
    }

    /// What was cast on, and what both socks are knitted by.
    fn patterns(
        self,
        id: &PairId,
    ) -> Result<(Arc<KnittedPlan>, [Arc<KnittedPlan>; 2]), StoreError> {
        // The pair's plan is there as long as the pair is, and has to be readable even where both socks
        // have their own: it is what the knitter meant to do.
        let text = self
            .shelf()
            .get(&keys::plan(id))?
            .ok_or(StoreError::NotThere)?;
        let meant = Arc::new(read_plan(&text)?);
        let mut before = Arc::clone(&meant);
        let mut own = |sock| {
            if let Some(text) = self.shelf().get(&keys::own_plan(id, sock))? {
                before = Arc::new(read_plan(&text)?);
            }
            Ok::<_, StoreError>(Arc::clone(&before))
        };
        let socks = [own(1)?, own(2)?];
        Ok((meant, socks))
    }

    /// Gives a sock a plan of its own from now on: it was planned anew on the way. What is knitted of it
    /// must be the same in both, and the pair's own plan stays as it was cast on. [`Store::open`] the pair
    /// again after it.
    ///
    /// # Errors
    /// When the plan cannot be read or stored; the sock keeps the plan it had.
    pub fn set_own_plan(self, id: &PairId, sock: u8, plan_doc: &str) -> Result<(), StoreError> {
        read_plan(plan_doc)?;
        if self.shelf().get(&keys::plan(id))?.is_none() {
            return Err(StoreError::NotThere);
        }
        self.shelf().put(&keys::own_plan(id, sock), plan_doc)
    }

    /// The same for the first sock, and the second one follows it: by a plan of its own (its mirror
    /// image), or without one as the first is knitted. Both are stored or neither.
    ///
    /// # Errors
    /// When a plan cannot be read or stored; both socks keep the plans they had.
    pub fn set_both_plans(
        self,
        id: &PairId,
        first_doc: &str,
        second_doc: Option<&str>,
    ) -> Result<(), StoreError> {
        let key = keys::own_plan(id, 2);
        let before = self.shelf().get(&key)?;
        let put = |doc: Option<&str>| match doc {
            Some(doc) => self.set_own_plan(id, 2, doc),
            None => self.shelf().remove(&key),
        };
        put(second_doc)?;
        self.set_own_plan(id, 1, first_doc).inspect_err(|_| {
            // What was there has room again.
            let _ = put(before.as_deref());
        })
    }

    /// Stores the end of a sock's log; the new events are in it already. Also catches up on what an
    /// earlier failure kept from being stored.
    ///
    /// # Errors
    /// [`StoreError::Behind`] when another window has gone on with this sock: nothing is written;
    /// [`Store::open`] it again and do again what was just done. Otherwise the log in memory is still
    /// right and the next call tries again.
    pub fn append(self, id: &PairId, sock: u8, journal: &Journal) -> Result<(), StoreError> {
        self.append_events(id, sock, journal.events())
    }

    pub(super) fn append_events(
        self,
        id: &PairId,
        sock: u8,
        events: &[Event],
    ) -> Result<(), StoreError> {
        // A pair deleted in another window must not come back as a log without a plan.
        if self.shelf().get(&keys::head(id))?.is_none() {
            return Err(StoreError::NotThere);
        }
        self.append_log(id, sock, events)
    }

    /// Deletes a pair: unlike [`Store::take_out`] it keeps nothing of one that can be read. One that
    /// cannot be read goes into quarantine: nobody has seen what is in it.
    ///
    /// # Errors
    /// When the storage refuses.
    pub fn delete(self, id: &PairId) -> Result<(), StoreError> {
        let readable = match self.shelf().get(&keys::plan(id))? {
            Some(text) => read_plan(&text).is_ok(),
            None => false,
        };
        let mut owned: Vec<(KeyKind, String)> = self
            .shelf()
            .keys()?
            .into_iter()
            .filter_map(|key| match keys::read(&key) {
                Some((owner, held)) if owner == *id => Some((held, key)),
                _ => None,
            })
            .collect();
        // The plan goes first: another window that looks meanwhile finds no pair, and does not make a head
        // for one that has lost it. Should it stop half-way, none stands there with half a log.
        owned.sort_by_key(|(held, _)| (*held != KeyKind::Plan, *held));
        for (_, key) in owned {
            if readable {
                self.shelf().remove(&key)?;
            } else {
                self.quarantine(&key)?;
            }
        }
        if self.current().as_ref() == Some(id) {
            self.shelf().remove(keys::CURRENT)?;
        }
        Ok(())
    }

    /// The pair at hand, if it is still there.
    pub fn current(self) -> Option<PairId> {
        let id = PairId::read(&self.shelf().get(keys::CURRENT).ok().flatten()?)?;
        let there = self.shelf().get(&keys::plan(&id)).ok().flatten().is_some();
        there.then_some(id)
    }

    /// Takes a pair in hand.
    ///
    /// # Errors
    /// When it cannot be stored.
    pub fn set_current(self, id: &PairId) -> Result<(), StoreError> {
        self.shelf().put(keys::CURRENT, id.as_str())
    }
}

/// Does what [`Store::append`] does and stores nothing: a browser translates code when it is first run,
/// and the first touch should not have to wait for that. Once where there is no log, and once where it
/// lies already.
pub fn rehearse_append(id: &PairId, sock: u8, journal: &Journal) {
    let nowhere = Memory::default();
    for _ in 0..2 {
        // Memory has room.
        let _ = Store::on(&nowhere).append_log(id, sock, journal.events());
    }
}

/// Reads a plan document and knits it through.
pub(super) fn read_plan(text: &str) -> Result<KnittedPlan, StoreError> {
    let what = StoredPart::Plan;
    let plan = wire::read_plan(text).map_err(|error| match error {
        WireError::Newer(_) => StoreError::Newer { what, kept: 0 },
        _ => StoreError::Damaged { what, kept: 0 },
    })?;
    match Trace::of(&plan) {
        Ok(trace) if !trace.steps.is_empty() => Ok(KnittedPlan { plan, trace }),
        _ => Err(StoreError::Damaged { what, kept: 0 }),
    }
}
