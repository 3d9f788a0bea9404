//! Pairs: begun, opened, gone on with, renamed, deleted. A pair's plan is stored beside it and never
//! made again. Where a sock was planned anew on the way, its own plan lies beside the pair's; the
//! second sock follows the first one's unless it has its own. Pairs without such plans, all older ones
//! among them, have both socks the same.

use std::fmt;
use std::sync::Arc;

use evenloop_engine::journal::{Event, Journal};
use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::together::{self, OnNeedles, Sock};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::wire::{self, WireError};
use serde::{Deserialize, Serialize};

use super::keys::{self, Held};
use super::shelf::{Memory, Shelf};
use super::{Part, StoreError, aside, logs, order};
use crate::text;

/// Names a pair for as long as it exists.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PairId(String);

impl PairId {
    /// An id made from the time and a random number.
    pub fn new(now: u64, random: u32) -> Self {
        Self(format!("{now:x}-{random:08x}"))
    }

    /// Reads an id; `None` for anything that could not be one.
    pub fn read(text: &str) -> Option<Self> {
        let fits = (1..=40).contains(&text.len())
            && text.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-');
        fits.then(|| Self(text.to_owned()))
    }
}

impl fmt::Display for PairId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// What the basket knows of a pair without opening it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PairHead {
    /// Its id.
    pub id: PairId,
    /// What the knitter calls it.
    pub name: String,
    /// When it was cast on, seconds since 1970.
    pub created: u64,
    /// How far it is.
    pub place: Place,
    /// Whether its plan can be read, as far as is known without opening it.
    pub readable: bool,
}

/// How far a pair is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Place {
    /// The sock on the needles, 1 or 2.
    pub sock: u8,
    /// Steps of it that are done.
    pub done: u32,
    /// Steps it has.
    pub total: u32,
    /// Stored name of the section at hand; the last one when the sock is finished.
    pub section: String,
    /// Whether both socks are finished.
    pub finished: bool,
    /// Steps of both socks that are done, where they are knitted two at a time.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub both: Option<[u32; 2]>,
}

impl Place {
    /// How far a pair is, by its logs.
    pub fn of(pair: [OnNeedles<'_>; 2]) -> Self {
        let together = together::is_together(pair);
        let sock = if together {
            together::turn(pair).map_or(Sock::Second, together::Turn::sock)
        } else if pair[1].journal.is_empty() {
            Sock::First
        } else {
            Sock::Second
        };
        let OnNeedles { trace, journal, .. } = pair[sock.index()];
        let at = journal.position();
        let section = trace
            .steps
            .get(at.step)
            .or(trace.steps.last())
            .map_or("", |step| step.kind.key());
        Self {
            sock: sock.number(),
            done: steps(at, trace),
            total: steps(trace.end(), trace),
            section: section.to_owned(),
            finished: pair
                .iter()
                .all(|sock| sock.journal.position() == sock.trace.end()),
            both: together.then(|| pair.map(|sock| steps(sock.journal.position(), sock.trace))),
        }
    }

    /// Steps that are done of both socks.
    pub fn done_of_pair(&self) -> u32 {
        match self.both {
            Some([first, second]) => first.saturating_add(second),
            None if self.sock == 2 => self.total.saturating_add(self.done),
            None => self.done,
        }
    }

    /// The section at hand.
    pub fn section(&self) -> Option<SectionKind> {
        SectionKind::from_key(&self.section)
    }
}

fn steps(at: Position, trace: &Trace) -> u32 {
    u32::try_from(at.step.min(trace.steps.len())).unwrap_or(u32::MAX)
}

/// A plan, knitted through once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pattern {
    /// The plan.
    pub plan: Plan,
    /// What the simulator saw of it.
    pub trace: Trace,
}

/// A pair with everything needed to knit on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenPair {
    /// Name and progress.
    pub head: PairHead,
    /// What was cast on.
    pub meant: Arc<Pattern>,
    /// What the first and the second sock are knitted by.
    pub patterns: [Arc<Pattern>; 2],
    /// The logs of the first and the second sock.
    pub journals: [Journal; 2],
    /// What of its logs could not be read and was set aside; to be said.
    pub trouble: Option<StoreError>,
}

impl OpenPair {
    /// How far it is, by its logs.
    pub fn place(&self) -> Place {
        Place::of(self.on_needles())
    }

    /// Both socks, each with what it is knitted by.
    pub fn on_needles(&self) -> [OnNeedles<'_>; 2] {
        on_needles(&self.patterns, &self.journals)
    }
}

fn on_needles<'a>(
    patterns: &'a [Arc<Pattern>; 2],
    journals: &'a [Journal; 2],
) -> [OnNeedles<'a>; 2] {
    [0, 1].map(|sock| OnNeedles {
        plan: &patterns[sock].plan,
        trace: &patterns[sock].trace,
        journal: &journals[sock],
    })
}

/// A head as it is stored.
#[derive(Serialize, Deserialize)]
struct HeadForm {
    version: u32,
    name: String,
    created: u64,
    place: Place,
}

#[derive(Deserialize)]
struct Versioned {
    version: u32,
}

const HEAD_VERSION: u32 = 1;
/// Longest name that is kept, in characters.
pub const NAME_LIMIT: usize = 120;

/// A name as it is kept: trimmed, not too long, never empty.
pub fn tidy_name(name: &str) -> String {
    let name: String = name.split_whitespace().collect::<Vec<_>>().join(" ");
    let name: String = name.chars().take(NAME_LIMIT).collect();
    if name.is_empty() {
        text::frame::UNNAMED_PAIR.to_owned()
    } else {
        name.trim_end().to_owned()
    }
}

/// All pairs, the latest first.
pub(super) fn pairs(shelf: &dyn Shelf) -> Result<Vec<PairHead>, StoreError> {
    let heads = ids(shelf)?.into_iter().map(|id| head(shelf, &id));
    Ok(latest_first(heads.collect::<Result<_, _>>()?))
}

/// Those that are known without opening them, and whether there are more.
pub(super) fn heads(shelf: &dyn Shelf) -> Result<(Vec<PairHead>, bool), StoreError> {
    let mut more = false;
    let mut known = Vec::new();
    for id in ids(shelf)? {
        let stored = shelf.get(&keys::head(&id))?;
        match stored.map(|text| read_head(&id, &text)) {
            Some(Ok(head)) => known.push(head),
            Some(Err(StoreError::Newer { .. })) => known.push(unreadable(&id)),
            _ => more = true,
        }
    }
    Ok((latest_first(known), more))
}

fn latest_first(mut heads: Vec<PairHead>) -> Vec<PairHead> {
    order::sort(&mut heads, |a, b| (b.created, &b.id) < (a.created, &a.id));
    heads
}

fn ids(shelf: &dyn Shelf) -> Result<Vec<PairId>, StoreError> {
    // A pair is there when it has a head or a plan: a lost head must not hide it.
    let mut ids: Vec<PairId> = shelf
        .keys()?
        .iter()
        .filter_map(|key| keys::read(key))
        .filter(|(_, held)| matches!(held, Held::Head | Held::Plan))
        .map(|(id, _)| id)
        .collect();
    order::sort(&mut ids, |a, b| a < b);
    ids.dedup();
    Ok(ids)
}

/// A pair's head; made anew from plan and logs when it is missing or cannot be read.
fn head(shelf: &dyn Shelf, id: &PairId) -> Result<PairHead, StoreError> {
    if let Some(text) = shelf.get(&keys::head(id))?
        && let Ok(head) = read_head(id, &text)
    {
        return Ok(head);
    }
    match open(shelf, id) {
        Ok(pair) => Ok(pair.head),
        Err(StoreError::Damaged { .. } | StoreError::Newer { .. } | StoreError::NotThere) => {
            Ok(unreadable(id))
        }
        Err(error) => Err(error),
    }
}

/// Reads a head.
///
/// # Errors
/// When it is damaged, or of a newer Evenloop.
pub(super) fn read_head(id: &PairId, text: &str) -> Result<PairHead, StoreError> {
    let what = Part::Head;
    let damaged = |_| StoreError::Damaged { what, kept: 0 };
    // The version first: a newer form may differ anywhere else.
    let Versioned { version } = serde_json::from_str(text).map_err(damaged)?;
    if version > HEAD_VERSION {
        return Err(StoreError::Newer { what, kept: 0 });
    }
    let form: HeadForm = serde_json::from_str(text).map_err(damaged)?;
    if version < HEAD_VERSION || !(1..=2).contains(&form.place.sock) {
        return Err(StoreError::Damaged { what, kept: 0 });
    }
    Ok(PairHead {
        id: id.clone(),
        name: tidy_name(&form.name),
        created: form.created,
        place: form.place,
        readable: true,
    })
}

fn unreadable(id: &PairId) -> PairHead {
    let place = Place {
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
        created: 0,
        place,
        readable: false,
    }
}

pub(super) fn write_head(shelf: &dyn Shelf, head: &PairHead) -> Result<(), StoreError> {
    let form = HeadForm {
        version: HEAD_VERSION,
        name: tidy_name(&head.name),
        created: head.created,
        place: head.place.clone(),
    };
    // Plain fields: nothing in it that JSON could refuse.
    let text = serde_json::to_string(&form).unwrap_or_default();
    shelf.put(&keys::head(&head.id), &text)
}

/// Puts a new pair in the basket: the plan first, so that a head never stands without one.
pub(super) fn create(
    shelf: &dyn Shelf,
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
        place: Place::of(on_needles(&patterns, &[Journal::new(), Journal::new()])),
        readable: true,
    };
    let plan_key = keys::plan(id);
    shelf.put(&plan_key, plan_doc)?;
    write_head(shelf, &head).inspect_err(|_| {
        // Half a pair is of no use; that it cannot be taken away again does no harm.
        let _ = shelf.remove(&plan_key);
    })
}

/// Opens a pair. What of its logs cannot be read is set aside and said in the result; what comes
/// before it is kept.
///
/// # Errors
/// When the plan itself is missing or cannot be read, or a newer Evenloop has written anything of the
/// pair. All of it stays where it is.
pub(super) fn open(shelf: &dyn Shelf, id: &PairId) -> Result<OpenPair, StoreError> {
    let head_key = keys::head(id);
    let stored = shelf.get(&head_key)?;
    let head = stored
        .as_deref()
        .map(|text| read_head(id, text))
        .transpose();
    // Whatever a newer Evenloop has to do with is left to it as it is.
    if let Err(newer @ StoreError::Newer { .. }) = head {
        return Err(newer);
    }
    let (meant, patterns) = patterns(shelf, id)?;
    let mut trouble = None;
    let mut journals = [Journal::new(), Journal::new()];
    let chunks = logs::chunks(shelf, id)?;
    for (((sock, journal), pattern), chunks) in (1..).zip(&mut journals).zip(&patterns).zip(chunks)
    {
        let (events, wrong) = logs::open(shelf, sock, chunks)?;
        *journal = Journal::replay(&events, &pattern.trace);
        trouble = trouble.or(wrong);
    }
    let place = Place::of(on_needles(&patterns, &journals));
    let head = match head {
        Ok(Some(head)) if head.place == place => head,
        found => {
            if let Err(damaged) = &found {
                aside::set_aside(shelf, &head_key)?;
                trouble = trouble.or(Some(damaged.clone()));
            }
            let begun = journals[0].events().first().map_or(0, Event::at);
            let mut head = found.ok().flatten().unwrap_or_else(|| PairHead {
                created: begun,
                readable: true,
                ..unreadable(id)
            });
            head.place = place;
            // A head only repeats what plan and logs say; a full shelf must not keep a pair shut.
            let _ = write_head(shelf, &head);
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
    shelf: &dyn Shelf,
    id: &PairId,
) -> Result<(Arc<Pattern>, [Arc<Pattern>; 2]), StoreError> {
    // The pair's plan is there as long as the pair is, and has to be readable even where both socks
    // have their own: it is what the knitter meant to do.
    let text = shelf.get(&keys::plan(id))?.ok_or(StoreError::NotThere)?;
    let meant = Arc::new(read_plan(&text)?);
    let mut before = Arc::clone(&meant);
    let mut own = |sock| {
        if let Some(text) = shelf.get(&keys::own_plan(id, sock))? {
            before = Arc::new(read_plan(&text)?);
        }
        Ok::<_, StoreError>(Arc::clone(&before))
    };
    let socks = [own(1)?, own(2)?];
    Ok((meant, socks))
}

/// Gives a sock a plan of its own from now on. What of it is knitted must be the same in the new one;
/// the pair's own plan stays as it was cast on. The pair has to be opened again after it.
pub(super) fn set_own_plan(
    shelf: &dyn Shelf,
    id: &PairId,
    sock: u8,
    plan_doc: &str,
) -> Result<(), StoreError> {
    read_plan(plan_doc)?;
    if shelf.get(&keys::plan(id))?.is_none() {
        return Err(StoreError::NotThere);
    }
    shelf.put(&keys::own_plan(id, sock), plan_doc)
}

/// Gives the first sock a plan of its own from now on, and the second one that follows it; both or
/// neither. Without one of its own the second is knitted as the first.
pub(super) fn set_both_plans(
    shelf: &dyn Shelf,
    id: &PairId,
    first_doc: &str,
    second_doc: Option<&str>,
) -> Result<(), StoreError> {
    let key = keys::own_plan(id, 2);
    let before = shelf.get(&key)?;
    let put = |doc: Option<&str>| match doc {
        Some(doc) => set_own_plan(shelf, id, 2, doc),
        None => shelf.remove(&key),
    };
    put(second_doc)?;
    set_own_plan(shelf, id, 1, first_doc).inspect_err(|_| {
        // What was there has room again.
        let _ = put(before.as_deref());
    })
}

/// Reads a plan document and knits it through.
pub(super) fn read_plan(text: &str) -> Result<Pattern, StoreError> {
    let what = Part::Plan;
    let plan = wire::read_plan(text).map_err(|error| match error {
        WireError::Newer(_) => StoreError::Newer { what, kept: 0 },
        _ => StoreError::Damaged { what, kept: 0 },
    })?;
    match Trace::of(&plan) {
        Ok(trace) if !trace.steps.is_empty() => Ok(Pattern { plan, trace }),
        _ => Err(StoreError::Damaged { what, kept: 0 }),
    }
}

/// Stores the end of a sock's log.
pub(super) fn append(
    shelf: &dyn Shelf,
    id: &PairId,
    sock: u8,
    events: &[Event],
) -> Result<(), StoreError> {
    // A pair deleted in another window must not come back as a log without a plan.
    if shelf.get(&keys::head(id))?.is_none() {
        return Err(StoreError::NotThere);
    }
    logs::append(shelf, id, sock, events)
}

/// Stores a sock's log nowhere: once where there is none, and once where it lies already.
pub(super) fn rehearse(id: &PairId, sock: u8, events: &[Event]) {
    let nowhere = Memory::default();
    for _ in 0..2 {
        // Memory has room.
        let _ = logs::append(&nowhere, id, sock, events);
    }
}

/// Notes in the head how far a pair is, for the basket.
pub(super) fn note_place(shelf: &dyn Shelf, id: &PairId, place: &Place) -> Result<(), StoreError> {
    change_head(shelf, id, |head| head.place = place.clone())
}

/// Calls a pair something else.
pub(super) fn rename(shelf: &dyn Shelf, id: &PairId, name: &str) -> Result<(), StoreError> {
    change_head(shelf, id, |head| head.name = tidy_name(name))
}

fn change_head(
    shelf: &dyn Shelf,
    id: &PairId,
    change: impl FnOnce(&mut PairHead),
) -> Result<(), StoreError> {
    let text = shelf.get(&keys::head(id))?.ok_or(StoreError::NotThere)?;
    let mut head = read_head(id, &text)?;
    change(&mut head);
    write_head(shelf, &head)
}

/// Takes a pair out of the basket for good. One that cannot be read is set aside instead: nobody
/// has seen what is in it.
pub(super) fn delete(shelf: &dyn Shelf, id: &PairId) -> Result<(), StoreError> {
    let readable = match shelf.get(&keys::plan(id))? {
        Some(text) => read_plan(&text).is_ok(),
        None => false,
    };
    let mut owned: Vec<(Held, String)> = shelf
        .keys()?
        .into_iter()
        .filter_map(|key| match keys::read(&key) {
            Some((owner, held)) if owner == *id => Some((held, key)),
            _ => None,
        })
        .collect();
    // The plan goes first: another window that looks meanwhile finds no pair, and does not make a head
    // for one that has lost it. Should it stop half-way, none stands there with half a log.
    owned.sort_by_key(|(held, _)| (*held != Held::Plan, *held));
    for (_, key) in owned {
        if readable {
            shelf.remove(&key)?;
        } else {
            aside::set_aside(shelf, &key)?;
        }
    }
    if current(shelf).as_ref() == Some(id) {
        shelf.remove(keys::CURRENT)?;
    }
    Ok(())
}

/// The pair at hand.
pub(super) fn current(shelf: &dyn Shelf) -> Option<PairId> {
    let id = PairId::read(&shelf.get(keys::CURRENT).ok().flatten()?)?;
    let there = shelf.get(&keys::plan(&id)).ok().flatten().is_some();
    there.then_some(id)
}

/// Takes a pair in hand.
pub(super) fn set_current(shelf: &dyn Shelf, id: &PairId) -> Result<(), StoreError> {
    shelf.put(keys::CURRENT, &id.0)
}
