//! A pair: what it is called, how far it is, what its socks are knitted by, and its logs.

use std::fmt;
use std::sync::Arc;

use evenloop_engine::journal::{Device, Digest, Event, Journal};
use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::together::{self, OnNeedles, Sock};
use evenloop_engine::trace::{Position, Trace};
use serde::{Deserialize, Serialize};

use super::error::StoreError;
use crate::text;

/// Names a pair for as long as it exists.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PairId(String);

impl PairId {
    /// An id made from the time and a random number.
    pub fn new(now: u64, random: u32) -> Self {
        Self(format!("{now:x}-{random:08x}"))
    }

    /// An id that is the same whenever it is made of the same.
    pub(super) fn of(digest: Digest) -> Self {
        Self(format!("r-{digest}"))
    }

    /// Reads an id; `None` for anything that could not be one.
    pub fn read(text: &str) -> Option<Self> {
        let fits = (1..=40).contains(&text.len())
            && text.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-');
        fits.then(|| Self(text.to_owned()))
    }

    /// The id as it is stored.
    pub(super) fn as_str(&self) -> &str {
        &self.0
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
    /// When it was last called something else, seconds since 1970; 0 where that is not known.
    pub named: u64,
    /// When it was cast on, seconds since 1970.
    pub created: u64,
    /// How far it is.
    pub progress: PairProgress,
    /// Whether its plan can be read, as far as is known without opening it.
    pub readable: bool,
}

/// How far a pair is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PairProgress {
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

impl PairProgress {
    /// How far a pair is, by its logs.
    pub fn of(pair: [OnNeedles<'_>; 2]) -> Self {
        let together = together::is_together(pair);
        let sock = if together {
            together::turn(pair).map_or(Sock::Second, together::WhoseTurn::sock)
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
pub struct KnittedPlan {
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
    pub meant: Arc<KnittedPlan>,
    /// What the first and the second sock are knitted by.
    pub patterns: [Arc<KnittedPlan>; 2],
    /// The digests of the stored texts of those plans.
    pub plan_digests: [Digest; 2],
    /// The plans as they are stored.
    pub plan_texts: Arc<PlanTexts>,
    /// The logs of the first and the second sock.
    pub journals: [Journal; 2],
    /// The device on which it is gone on with, where that has an id by now.
    pub device: Option<Device>,
    /// What of its logs could not be read and is in quarantine; to be said.
    pub trouble: Option<StoreError>,
}

/// The plans of a pair as they are stored.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PlanTexts {
    /// What was cast on.
    pub meant: String,
    /// The plans of single socks, where they are not the pair's.
    pub own: [Option<String>; 2],
}

impl OpenPair {
    /// How far it is, by its logs.
    pub fn progress(&self) -> PairProgress {
        PairProgress::of(self.on_needles())
    }

    /// Adds something that happened just now to a sock's log.
    pub(super) fn add(&mut self, sock: Sock, event: Event) {
        let sock = sock.index();
        let trace = &self.patterns[sock].trace;
        if let Some(device) = &self.device {
            self.journals[sock].go_on_with(device, event.at(), trace);
        }
        self.journals[sock].record(event, trace, self.plan_digests[sock]);
    }

    /// The sock whose turn it is; of a finished pair the second.
    pub fn whose_turn(&self) -> Sock {
        match self.progress().sock {
            2 => Sock::Second,
            _ => Sock::First,
        }
    }

    /// Steps of a sock that are done or begun: those stay as they are when the rest is planned anew.
    pub fn steps_begun(&self, sock: Sock) -> usize {
        let journal = &self.journals[sock.index()];
        let at = journal.position();
        at.step + usize::from(at.mv > 0 || journal.needles() > 0)
    }

    /// Where both socks are and what they are knitted by.
    pub fn standing(&self) -> PairStanding {
        PairStanding {
            places: [0, 1].map(|sock| self.journals[sock].position()),
            needles: [0, 1].map(|sock| self.journals[sock].needles()),
            plans: self.plan_digests,
        }
    }

    /// Both socks, each with what it is knitted by.
    pub fn on_needles(&self) -> [OnNeedles<'_>; 2] {
        on_needles(&self.patterns, &self.journals)
    }
}

/// Where both socks of a pair are and what they are knitted by: what a plan for the rest of them is made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PairStanding {
    places: [Position; 2],
    /// Needles of the round at hand that are worked.
    needles: [u8; 2],
    plans: [Digest; 2],
}

/// Both socks, each with what it is knitted by.
pub(super) fn on_needles<'a>(
    patterns: &'a [Arc<KnittedPlan>; 2],
    journals: &'a [Journal; 2],
) -> [OnNeedles<'a>; 2] {
    [0, 1].map(|sock| OnNeedles {
        plan: &patterns[sock].plan,
        trace: &patterns[sock].trace,
        journal: &journals[sock],
    })
}

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
