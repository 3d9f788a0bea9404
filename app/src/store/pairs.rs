//! Pairs: begun, opened, gone on with, deleted. A pair's plan is stored beside it and never
//! made again. Where a sock was planned anew on the way, its own plan lies beside the pair's; the
//! second sock follows the first one's unless it has its own. Pairs without such plans, all older ones
//! among them, have both socks the same.

use std::sync::Arc;

use evenloop_engine::journal::{Digest, Event, Journal};
use evenloop_engine::together::Sock;
use evenloop_engine::trace::Trace;
use evenloop_engine::wire::{self, WireError};

use super::device;
use super::error::{StoreError, StoredPart};
use super::handle::Store;
use super::heads::{head_text, latest_first, read_head, unreadable};
use super::keys;
use super::operation::StoredChange;
use super::pair::{
    KnittedPlan, OpenPair, PairHead, PairId, PairProgress, PlanTexts, on_needles, tidy_name,
};
use super::shelf::Memory;

impl Store<'_> {
    /// All pairs, the latest first.
    ///
    /// # Errors
    /// When there is no storage.
    pub fn pairs(self) -> Result<Vec<PairHead>, StoreError> {
        self.finish_operation()?;
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

    /// Puts a new pair in the basket and takes it in hand; `now` is seconds since 1970. The second sock has a plan
    /// of its own where it is not as the first.
    ///
    /// # Errors
    /// When a plan cannot be read or stored; nothing is left behind then.
    pub fn create(
        self,
        name: &str,
        plan_doc: &str,
        second_doc: Option<&str>,
        now: u64,
    ) -> Result<PairId, StoreError> {
        let id = PairId::new(now, device::random());
        let mut changes = new_pair(&id, name, plan_doc, second_doc, now)?;
        changes.push(StoredChange::put(keys::CURRENT.to_owned(), id.to_string()));
        self.commit(&changes)?;
        self.keep_reserve();
        Ok(id)
    }

    /// Puts a new pair in the basket under an id.
    #[cfg(test)]
    pub(super) fn create_as(
        self,
        id: &PairId,
        name: &str,
        plan_doc: &str,
        now: u64,
    ) -> Result<(), StoreError> {
        self.commit(&new_pair(id, name, plan_doc, None, now)?)
    }

    /// Opens a pair. What of its logs cannot be read goes into quarantine and is reported in [`OpenPair::trouble`]; what
    /// comes before it is kept.
    ///
    /// # Errors
    /// When there is no such pair, its plan cannot be read, or a newer Evenloop has written anything of
    /// it. All of it stays where it is.
    pub fn open(self, id: &PairId) -> Result<OpenPair, StoreError> {
        self.finish_operation()?;
        if self.is_out(id)? {
            return Err(StoreError::NotThere);
        }
        self.open_anywhere(id)
    }

    /// Opens a pair in the basket or out of it.
    pub(super) fn open_anywhere(self, id: &PairId) -> Result<OpenPair, StoreError> {
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
        let plan_texts = self.plan_texts(id)?;
        let (meant, patterns, plan_digests) = read_plans(&plan_texts.meant, &plan_texts.own)?;
        let mut trouble = None;
        let mut journals = [Journal::new(), Journal::new()];
        let chunks = self.chunks(id)?;
        let socks = (1..).zip(&mut journals).zip(&patterns).zip(plan_digests);
        for ((((sock, journal), pattern), digest), chunks) in socks.zip(chunks) {
            let (events, wrong) = self.open_log(sock, chunks)?;
            *journal = Journal::replay(&events, &pattern.trace);
            let other = journal.plan().is_some_and(|plan| plan != digest);
            trouble = trouble
                .or(wrong)
                .or(other.then_some(StoreError::OtherPlan(sock)));
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
                let mut head = match found {
                    Ok(Some(head)) => head,
                    _ => PairHead {
                        created: begun,
                        readable: true,
                        name: self.name_left(id)?.unwrap_or_else(|| tidy_name("")),
                        ..unreadable(id)
                    },
                };
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
            plan_digests,
            plan_texts: Arc::new(plan_texts),
            journals,
            device: self.known_device(),
            trouble,
        })
    }

    /// What was cast on, and what both socks are knitted by.
    fn plan_texts(self, id: &PairId) -> Result<PlanTexts, StoreError> {
        // The pair's plan is there as long as the pair is, and has to be readable even where both socks
        // have their own: it is what the knitter meant to do.
        let meant = self
            .shelf()
            .get(&keys::plan(id))?
            .ok_or(StoreError::NotThere)?;
        Ok(PlanTexts {
            meant,
            own: self.own_plans(id)?,
        })
    }

    /// The plans of single socks as they are stored, where they are not the pair's.
    pub(super) fn own_plans(self, id: &PairId) -> Result<[Option<String>; 2], StoreError> {
        let own = |sock| self.shelf().get(&keys::own_plan(id, sock));
        Ok([own(1)?, own(2)?])
    }

    /// Stores something that happened to one sock of a pair, or at once to both: all of it or nothing. Where another
    /// window has gone on, it is done again from there. Also catches up on what an earlier failure kept
    /// from being stored.
    ///
    /// # Errors
    /// When it cannot be stored. The logs in memory are right all the same and the next call tries again.
    pub fn record(self, pair: &mut OpenPair, events: &[(Sock, Event)]) -> Result<(), StoreError> {
        match self.record_once(pair, events) {
            Err(StoreError::Behind) => {
                let Ok(there) = self.open(&pair.head.id) else {
                    return Err(StoreError::Behind);
                };
                *pair = there;
                self.record_once(pair, events)
            }
            other => other,
        }
    }

    fn record_once(self, pair: &mut OpenPair, events: &[(Sock, Event)]) -> Result<(), StoreError> {
        // A log that is not stored cannot say by itself that another window has changed the pair.
        let stored_beginning = |sock: &Sock| {
            let first = keys::chunk(&pair.head.id, sock.number(), 0);
            self.shelf().get(&first).is_ok_and(|text| text.is_some())
        };
        let mut unstored = events.iter().map(|(sock, _)| sock);
        if let Some(sock) = unstored.find(|sock| !stored_beginning(sock)) {
            let changed = if pair.journals[sock.index()].is_empty() {
                self.is_planned_anew(pair)?
            } else {
                // Either there was no room for it, or the pair was replaced by what a file or the second copy has.
                self.is_replaced(pair)
            };
            if changed {
                return Err(StoreError::Behind);
            }
        }
        for (sock, event) in events {
            pair.add(*sock, event.clone());
        }
        let socks = Sock::BOTH.into_iter();
        let moved = socks.filter(|sock| events.iter().any(|(of, _)| of == sock));
        let logs: Vec<(u8, &[Event])> = moved
            .map(|sock| (sock.number(), pair.journals[sock.index()].events()))
            .collect();
        self.append_events(&pair.head.id, &logs)
    }

    /// Whether another window had this pair planned anew.
    fn is_planned_anew(self, pair: &OpenPair) -> Result<bool, StoreError> {
        let Some(meant) = self.shelf().get(&keys::plan(&pair.head.id))? else {
            return Ok(false);
        };
        let mut before = meant;
        for (own, digest) in self
            .own_plans(&pair.head.id)?
            .into_iter()
            .zip(pair.plan_digests)
        {
            before = own.unwrap_or(before);
            if Digest::of(&before) != digest {
                return Ok(true);
            }
        }
        Ok(false)
    }

    /// Whether what is stored of this pair is not the beginning of what the window has of it.
    fn is_replaced(self, pair: &OpenPair) -> bool {
        self.open_anywhere(&pair.head.id).is_ok_and(|there| {
            let mut logs = pair.journals.iter().zip(&there.journals);
            there.plan_digests != pair.plan_digests
                || logs.any(|(ours, there)| !ours.events().starts_with(there.events()))
        })
    }

    pub(super) fn append_events(
        self,
        id: &PairId,
        logs: &[(u8, &[Event])],
    ) -> Result<(), StoreError> {
        self.goes_on(id)?;
        self.append_logs(id, logs)
    }

    /// Whether a pair can be knitted on here: one taken out, or let go for good, in another window must not go on
    /// there unseen.
    ///
    /// # Errors
    /// [`StoreError::NotThere`] when it must not; others when the shelf cannot be read.
    pub(super) fn goes_on(self, id: &PairId) -> Result<(), StoreError> {
        if self.shelf().get(&keys::head(id))?.is_none() || self.is_out(id)? {
            return Err(StoreError::NotThere);
        }
        Ok(())
    }

    /// The pair at hand, if it is still there.
    pub fn current(self) -> Option<PairId> {
        self.finish_operation().ok()?;
        let id = PairId::read(&self.shelf().get(keys::CURRENT).ok().flatten()?)?;
        let there = self.shelf().get(&keys::plan(&id)).ok().flatten().is_some();
        (there && !self.is_out(&id).ok()?).then_some(id)
    }

    /// Takes a pair in hand.
    ///
    /// # Errors
    /// When it cannot be stored.
    pub fn set_current(self, id: &PairId) -> Result<(), StoreError> {
        self.shelf().put(keys::CURRENT, id.as_str())
    }
}

/// Does what [`Store::record`] does and stores nothing: a browser translates code when it is first run,
/// and the first touch should not have to wait for that. Once where there is no log, and once where it
/// lies already.
pub fn rehearse_record(pair: &OpenPair, sock: Sock, event: Event) {
    let nowhere = Memory::default();
    let mut pair = pair.clone();
    pair.add(sock, event);
    for _ in 0..2 {
        let events = pair.journals[sock.index()].events();
        // Memory has room.
        let _ = Store::on(&nowhere).append_logs(&pair.head.id, &[(sock.number(), events)]);
    }
}

/// What was cast on, what both socks are knitted by, and the digests of the texts of the latter.
pub(super) type Patterns = (Arc<KnittedPlan>, [Arc<KnittedPlan>; 2], [Digest; 2]);

/// Reads the plans of a pair: a sock without its own is knitted by that of the one before it.
pub(super) fn read_plans(meant: &str, own: &[Option<String>; 2]) -> Result<Patterns, StoreError> {
    let cast_on = read_plan(meant)?;
    let mut before = (Arc::clone(&cast_on), Digest::of(meant));
    let mut next = |own: &Option<String>| {
        if let Some(text) = own {
            before = (read_plan(text)?, Digest::of(text));
        }
        Ok::<_, StoreError>(before.clone())
    };
    let [(first, one), (second, other)] = [next(&own[0])?, next(&own[1])?];
    Ok((cast_on, [first, second], [one, other]))
}

/// The changes that put a pair in the basket on which nothing is knitted yet.
pub(super) fn new_pair(
    id: &PairId,
    name: &str,
    plan_doc: &str,
    second_doc: Option<&str>,
    now: u64,
) -> Result<Vec<StoredChange>, StoreError> {
    let own = [None, second_doc.map(str::to_owned)];
    let (_, patterns, _) = read_plans(plan_doc, &own)?;
    let head = PairHead {
        id: id.clone(),
        name: tidy_name(name),
        named: 0,
        created: now,
        progress: PairProgress::of(on_needles(&patterns, &[Journal::new(), Journal::new()])),
        readable: true,
    };
    let [_, second] = own;
    let second = second.map(|text| StoredChange::put(keys::own_plan(id, 2), text));
    let rest = [
        StoredChange::put(keys::plan(id), plan_doc.to_owned()),
        StoredChange::put(keys::head(id), head_text(&head)),
    ];
    Ok(second.into_iter().chain(rest).collect())
}

/// Reads a plan document and knits it through.
pub(super) fn read_plan(text: &str) -> Result<Arc<KnittedPlan>, StoreError> {
    // Thousands of simulated weeks knit by the same few plans.
    #[cfg(test)]
    return super::tests::read_before(text, knit_through);
    #[cfg(not(test))]
    knit_through(text).map(Arc::new)
}

fn knit_through(text: &str) -> Result<KnittedPlan, StoreError> {
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
