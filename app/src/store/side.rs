//! One pair as one of two devices has it: out of a file or off the shelf, and how both stand to each other. Pure but
//! for reading the shelf.

use std::cmp::Ordering;
use std::sync::Arc;

use evenloop_engine::journal::{Digest, Event, Journal, Seconds};
use evenloop_engine::merge::{Acts, LogsCompared, Remarks, acts, compare, digest_of_log, joined};

use super::error::StoreError;
use super::handle::Store;
use super::heads::{head_text, read_head};
use super::keys::{self, KeyKind};
use super::logs::{self, Chunk};
use super::operation::StoredChange;
use super::pair::{KnittedPlan, PairHead, PairId, PairProgress, on_needles, tidy_name};
use super::pairs::read_plans;

/// Where the texts come from that are merged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum MergeOrigin {
    /// A file, of this device or another.
    File,
    /// The second copy of this device's own.
    SecondCopy,
}

/// One pair, from a file or a shelf.
#[derive(Clone)]
pub(super) struct PairSide {
    pub(super) name: String,
    named: u64,
    created: u64,
    plan: String,
    /// Plans of single socks, where they are not the pair's.
    own: [Option<String>; 2],
    /// The ways back from plans made anew.
    earlier: Vec<Earlier>,
    patterns: [Arc<KnittedPlan>; 2],
    digests: [Digest; 2],
    logs: [Vec<Event>; 2],
    /// Keys of chunks that cannot be read.
    pub(super) lost: Vec<String>,
}

/// The way back from a replan: sock, number of the event and text.
type Earlier = (u8, usize, String);

/// How a pair here stands to the same pair elsewhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Meeting {
    /// Both say the same.
    Same,
    /// Here is all that is there, and more.
    Ahead,
    /// There is all that is here, and more.
    Behind,
    /// Each has something that the other lacks, and nothing contradicts.
    Both,
    /// They went different ways.
    Parted(PartedOver),
}

/// What two devices disagree over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartedOver {
    /// What was counted or planned anew.
    Rounds,
    /// Only what was noted or weighed at a place.
    Remarks,
    /// What was cast on.
    Plan,
}

/// How far a pair is on one device.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Branch {
    /// How far.
    pub progress: PairProgress,
    /// When something last happened to it, seconds since 1970.
    pub last: Option<Seconds>,
    /// What the device is called on which it was last counted, where that is known.
    pub device: Option<String>,
}

impl Meeting {
    /// With something more that is so, or not.
    fn and(self, more: Self) -> Self {
        match (self, more) {
            (Self::Parted(over), _) | (_, Self::Parted(over)) => Self::Parted(over),
            (Self::Same, one) | (one, Self::Same) => one,
            (one, other) if one == other => one,
            _ => Self::Both,
        }
    }
}

impl From<Acts> for Meeting {
    fn from(acts: Acts) -> Self {
        match acts {
            Acts::Same => Self::Same,
            Acts::Ahead => Self::Ahead,
            Acts::Behind => Self::Behind,
            Acts::Parted(_) => Self::Parted(PartedOver::Rounds),
        }
    }
}

impl From<Remarks> for Meeting {
    fn from(remarks: Remarks) -> Self {
        match remarks {
            Remarks::Same => Self::Same,
            Remarks::Ahead => Self::Ahead,
            Remarks::Behind => Self::Behind,
            Remarks::Both => Self::Both,
            Remarks::Parted => Self::Parted(PartedOver::Remarks),
        }
    }
}

impl From<Ordering> for Meeting {
    fn from(ordering: Ordering) -> Self {
        match ordering {
            Ordering::Equal => Self::Same,
            Ordering::Greater => Self::Ahead,
            Ordering::Less => Self::Behind,
        }
    }
}

impl PairSide {
    /// Events of both socks, without what only binds a log together.
    fn events(&self) -> usize {
        let own = |log: &Vec<Event>| log.iter().filter(|event| !event.is_bond()).count();
        self.logs.iter().map(own).sum()
    }

    /// Which of two that parted stays where it was when both are kept: the same on either device.
    pub(super) fn is_longer(&self, other: &Self, of: &PairId) -> bool {
        let order = |side: &Self| (side.events(), side.id(of));
        order(self) > order(other)
    }

    fn compared(&self, theirs: &Self) -> [LogsCompared; 2] {
        [0, 1].map(|sock| compare(&self.logs[sock], &theirs.logs[sock]))
    }

    /// How this pair stands to the same pair elsewhere.
    pub(super) fn meets(&self, theirs: &Self) -> Meeting {
        if self.plan != theirs.plan {
            return Meeting::Parted(PartedOver::Plan);
        }
        let [first, second] = self.compared(theirs);
        let rounds = Meeting::from(first.acts).and(second.acts.into());
        let rounds = rounds.and(self.plans_meet(theirs, rounds));
        // Where one touch counts for both, a sock cannot go its own way.
        if rounds == Meeting::Both && (self.is_together() || theirs.is_together()) {
            return Meeting::Parted(PartedOver::Rounds);
        }
        let remarks = Meeting::from(first.remarks).and(second.remarks.into());
        rounds.and(remarks).and(self.names_meet(theirs))
    }

    /// How the plans of single socks stand to each other, once it is known how the rounds do.
    fn plans_meet(&self, theirs: &Self, rounds: Meeting) -> Meeting {
        if self.own == theirs.own {
            return Meeting::Same;
        }
        let parted = Meeting::Parted(PartedOver::Rounds);
        let (ahead, behind, meeting) = match rounds {
            Meeting::Ahead => (self, theirs, Meeting::Ahead),
            Meeting::Behind => (theirs, self, Meeting::Behind),
            Meeting::Same if self.plans_follow(theirs) => return Meeting::Ahead,
            Meeting::Same if theirs.plans_follow(self) => return Meeting::Behind,
            Meeting::Same | Meeting::Both | Meeting::Parted(_) => return parted,
        };
        // A plan made anew is an event of a log; an older Evenloop did not say so.
        let anew = [0, 1].iter().any(|sock| {
            let (long, short) = (acts(&ahead.logs[*sock]), acts(&behind.logs[*sock]));
            let since = long.iter().skip(short.len());
            let mut since = since
                .filter(|event| matches!(event, Event::Replanned(..) | Event::PlanTakenBack(..)));
            since.next().is_some()
        });
        if anew || ahead.plans_follow(behind) {
            meeting
        } else {
            parted
        }
    }

    /// Whether no sock has another plan than it had there.
    fn plans_follow(&self, before: &Self) -> bool {
        let mut socks = self.own.iter().zip(&before.own);
        socks.all(|(own, before)| before.is_none() || own == before)
    }

    /// The name that was given last holds; where it is not known which that is, each device keeps its own.
    fn names_meet(&self, theirs: &Self) -> Meeting {
        if self.name == theirs.name || (self.named, theirs.named) == (0, 0) {
            return Meeting::Same;
        }
        (self.named, &self.name)
            .cmp(&(theirs.named, &theirs.name))
            .into()
    }

    /// The name that was given last, and the other one, where the knitter gave the pair a name on both devices and it is
    /// not the same. The first is the one that holds where both are put together.
    pub(super) fn names_given(&self, theirs: &Self) -> Option<[String; 2]> {
        if self.named == 0 || theirs.named == 0 || self.name == theirs.name {
            return None;
        }
        let [last, other] = match self.names_meet(theirs) {
            Meeting::Behind => [theirs, self],
            _ => [self, theirs],
        };
        Some([last.name.clone(), other.name.clone()])
    }

    /// Whether this one has everything that the other has, whatever both are called.
    pub(super) fn has_all_of(&self, other: &Self) -> bool {
        let other = Self {
            name: self.name.clone(),
            named: self.named,
            ..other.clone()
        };
        matches!(self.meets(&other), Meeting::Same | Meeting::Ahead)
    }

    /// This pair as it will be stored here: where it is not known which name was given last, that of this device stays.
    pub(super) fn in_place_of(self, ours: &Self) -> Self {
        match (self.named, ours.named) {
            (0, 0) => self.called(ours.name.clone()),
            _ => self,
        }
    }

    /// The journals of both socks.
    fn journals(&self) -> [Journal; 2] {
        [0, 1].map(|sock| Journal::replay(&self.logs[sock], &self.patterns[sock].trace))
    }

    /// Whether both socks are knitted two at a time.
    fn is_together(&self) -> bool {
        evenloop_engine::together::is_together(on_needles(&self.patterns, &self.journals()))
    }

    /// All that both have, where they have not parted. What is said by only one of both logs of a sock stands in it as
    /// it did; the same whichever is ours.
    pub(super) fn joined_with(&self, theirs: &Self) -> Option<Self> {
        let compared = self.compared(theirs);
        let rounds = Meeting::from(compared[0].acts).and(compared[1].acts.into());
        let plans = match self.plans_meet(theirs, rounds) {
            Meeting::Parted(_) => return None,
            Meeting::Behind => theirs,
            _ => self,
        };
        let named = match self.names_meet(theirs) {
            Meeting::Behind => theirs,
            _ => self,
        };
        let mut logs = [Vec::new(), Vec::new()];
        let mut earlier = Vec::new();
        for (sock, compared) in [0, 1].into_iter().zip(compared) {
            let (ours, others) = (&self.logs[sock], &theirs.logs[sock]);
            let trace = &plans.patterns[sock].trace;
            let rounds = Meeting::from(compared.acts);
            logs[sock] = match rounds.and(compared.remarks.into()) {
                Meeting::Same | Meeting::Ahead => ours.clone(),
                Meeting::Behind => others.clone(),
                Meeting::Both => joined(ours, others, trace)?.events().to_vec(),
                Meeting::Parted(_) => return None,
            };
            let whence = if rounds == Meeting::Behind {
                theirs
            } else {
                self
            };
            earlier.extend(whence.earlier_in(sock, &logs[sock]));
        }
        Some(Self {
            name: named.name.clone(),
            named: named.named,
            logs,
            earlier,
            ..plans.clone()
        })
    }

    /// The ways back of a sock, under the numbers that their events have in another log with the same rounds.
    fn earlier_in(&self, sock: usize, log: &[Event]) -> Vec<Earlier> {
        let replanned = |log: &[Event]| -> Vec<usize> {
            let numbered = log.iter().enumerate();
            let anew = numbered.filter(|(_, event)| matches!(event, Event::Replanned(..)));
            anew.map(|(at, _)| at).collect()
        };
        let (before, after) = (replanned(&self.logs[sock]), replanned(log));
        let of_sock = self
            .earlier
            .iter()
            .filter(|(of, ..)| usize::from(*of) == sock + 1);
        of_sock
            .filter_map(|(of, event, text)| {
                let nth = before.iter().position(|at| at == event)?;
                Some((*of, *after.get(nth)?, text.clone()))
            })
            .collect()
    }

    /// How far the pair is.
    pub(super) fn branch(&self) -> Branch {
        let journals = self.journals();
        // The sock that something happened to last says where.
        let last = journals.iter().max_by_key(|journal| journal.last_at());
        Branch {
            progress: PairProgress::of(on_needles(&self.patterns, &journals)),
            last: last.and_then(Journal::last_at),
            device: last
                .and_then(Journal::device)
                .map(|device| device.name.clone()),
        }
    }

    /// How far the pair was when it was last the same here and there.
    pub(super) fn common_with(&self, theirs: &Self) -> Branch {
        let common = [0, 1].map(|sock| {
            let (ours, others) = (&self.logs[sock], &theirs.logs[sock]);
            let many = match compare(ours, others).acts {
                Acts::Same | Acts::Behind => usize::MAX,
                Acts::Ahead => acts(others).len(),
                Acts::Parted(many) => many,
            };
            let mut left = many;
            let still = |event: &&Event| {
                let is_act = usize::from(!event.is_bond() && !event.is_remark());
                let goes = left >= is_act;
                left = left.saturating_sub(is_act);
                goes
            };
            ours.iter().take_while(still).cloned().collect()
        });
        Self {
            logs: common,
            ..self.clone()
        }
        .branch()
    }

    /// A name for this very state of a pair, and so the same whenever and wherever it is met again.
    pub(super) fn id(&self, of: &PairId) -> PairId {
        let mut digest = Digest::of(of.as_str()).and(&self.plan);
        for own in self.own.iter().flatten() {
            digest = digest.and(own);
        }
        for log in &self.logs {
            digest = digest.and(&digest_of_log(log).to_string());
        }
        PairId::of(digest)
    }

    /// The same, with an event in each begun log saying that it came from another device.
    pub(super) fn brought_in(self, now: Seconds) -> Self {
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

    /// The same, called something else.
    pub(super) fn called(self, name: String) -> Self {
        Self { name, ..self }
    }

    /// The texts of this pair under an id, its plan before its head.
    pub(super) fn texts(&self, id: &PairId) -> Vec<StoredChange> {
        let mut texts = Vec::new();
        for (sock, events) in (1..).zip(&self.logs) {
            texts.extend(logs::chunks_of(id, sock, events));
        }
        for (sock, own) in (1..).zip(&self.own) {
            if let Some(own) = own {
                texts.push(StoredChange::put(keys::own_plan(id, sock), own.clone()));
            }
        }
        for (sock, event, text) in &self.earlier {
            texts.push(StoredChange::put(
                keys::earlier(id, *sock, *event),
                text.clone(),
            ));
        }
        texts.push(StoredChange::put(keys::plan(id), self.plan.clone()));
        let head = PairHead {
            id: id.clone(),
            name: self.name.clone(),
            named: self.named,
            created: self.created,
            progress: PairProgress::of(on_needles(&self.patterns, &self.journals())),
            readable: true,
        };
        texts.push(StoredChange::put(keys::head(id), head_text(&head)));
        texts
    }

    /// The changes for a pair to be this, whatever it was.
    pub(super) fn put(
        &self,
        store: Store<'_>,
        id: &PairId,
    ) -> Result<Vec<StoredChange>, StoreError> {
        let mut changes = self.texts(id);
        for key in store.keys_of(id)? {
            if changes.iter().all(|change| change.key != key) {
                changes.push(StoredChange::remove(key));
            }
        }
        Ok(changes)
    }

    /// A pair out of texts; `None` when its plan cannot be read.
    pub(super) fn from_texts<'a>(
        id: &PairId,
        texts: impl Iterator<Item = (&'a str, KeyKind, &'a str)>,
    ) -> Option<Self> {
        let mut chunks: [Vec<Chunk>; 2] = [Vec::new(), Vec::new()];
        let mut earlier = Vec::new();
        let (mut head, mut plan, mut own) = (None, None, [None, None]);
        for (key, held, text) in texts {
            match held {
                KeyKind::Head => head = Some(text),
                KeyKind::Plan => plan = Some(text),
                KeyKind::OwnPlan(sock) => own[usize::from(sock == 2)] = Some(text.to_owned()),
                KeyKind::Chunk(sock, index) => {
                    chunks[usize::from(sock == 2)].push((key.to_owned(), index, text.to_owned()));
                }
                KeyKind::Earlier(sock, event) => earlier.push((sock, event, text.to_owned())),
            }
        }
        let plan = plan?;
        let (_, patterns, digests) = read_plans(plan, &own).ok()?;
        let head = head.and_then(|text| read_head(id, text).ok());
        let [first, second] = chunks;
        let (first, second) = (logs::read(1, first), logs::read(2, second));
        let (created, named) = head
            .as_ref()
            .map_or((0, 0), |head| (head.created, head.named));
        Some(Self {
            created,
            named,
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

    /// A pair here, in the basket or out of it; `None` when its plan is missing or cannot be read, or when a newer
    /// Evenloop has to do with it. What cannot be read of its logs goes into quarantine first: what is
    /// merged into them writes over it.
    pub(super) fn from_store(store: Store<'_>, id: &PairId) -> Result<Option<Self>, StoreError> {
        if store.shelf().get(&keys::plan(id))?.is_none() {
            return Ok(None);
        }
        if let Err(StoreError::Damaged { .. } | StoreError::Newer { .. }) = store.open_anywhere(id)
        {
            return Ok(None);
        }
        let mut texts = Vec::new();
        for key in store.keys_of(id)? {
            if let Some((_, held)) = keys::read(&key)
                && let Some(text) = store.shelf().get(&key)?
            {
                texts.push((key, held, text));
            }
        }
        let texts = texts
            .iter()
            .map(|(key, held, text)| (key.as_str(), *held, text.as_str()));
        Ok(Self::from_texts(id, texts))
    }
}
