//! What the first paint shows before the app is awake, and the touches that were made on it: see `public/first.js`.
//!
//! What is shown belongs to one pair at one place; the texts that say so are listed with it, and the script looks at
//! them before it shows anything. Touches wait under a key of their own until the app takes them: into the logs and
//! off that key in one operation, so that none is counted twice or lost wherever it is stopped.

use evenloop_engine::journal::{CHUNK_EVENTS, Digest, Event, Journal, write_chunk};
use evenloop_engine::together::Sock;
use evenloop_engine::touch::{self, TouchCounts};

use super::error::StoreError;
use super::handle::Store;
use super::keys;
use super::operation::StoredChange;
use super::pair::{OpenPair, PairId};
use super::replans::{LastChange, last_change};

/// A text by its key; nothing under it where there is none.
pub type StoredText = (String, Option<String>);

/// Touches that were made on what the first paint showed: a line of the text, its fields with tabs between. What was
/// shown (see [`base`]); `n` where a touch counted a needle then, else `r`; the touches in order, each with the time in
/// milliseconds since 1970.
#[derive(Debug)]
struct Queue<'t> {
    base: &'t str,
    counts: TouchCounts,
    touches: Vec<(EarlyTouch, u64)>,
}

/// What was touched.
#[derive(Debug, Clone, Copy)]
enum EarlyTouch {
    /// The pad: `d`.
    Done,
    /// Undo: `u`.
    Undo,
}

impl<'t> Queue<'t> {
    /// `None` for what is no queue.
    fn read(line: &'t str) -> Option<Self> {
        let mut fields = line.split('\t');
        let base = fields.next()?;
        let counts = TouchCounts::of(fields.next()? == "n");
        let mut touches = Vec::new();
        for touch in fields.next()?.split(' ') {
            let kind = match touch.get(..1)? {
                "d" => EarlyTouch::Done,
                "u" => EarlyTouch::Undo,
                _ => return None,
            };
            touches.push((kind, touch.get(1..)?.parse().ok()?));
        }
        Some(Self {
            base,
            counts,
            touches,
        })
    }
}

/// What became of the touches that were made before the app was awake on a pair as it is.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TakenTouches {
    /// So many were counted.
    pub counted: usize,
    /// Why they could not be stored. The counted ones are counted in memory all the same.
    pub trouble: Option<StoreError>,
}

/// What tells the place of a pair and what it is knitted by: touches made on it go on from exactly there.
pub fn base(pair: &OpenPair) -> String {
    let [first, second] = pair.journals.each_ref().map(end_of_log);
    let [one, other] = pair.plan_digests;
    format!("{} {one} {other} {first} {second}", pair.head.id)
}

/// The number of a log's last chunk and the chunk's digest, which with the chain tell all before it too.
fn end_of_log(journal: &Journal) -> String {
    last_chunk(journal).map_or_else(
        || "-".to_owned(),
        |(index, text)| format!("{index}.{}", Digest::of(&text)),
    )
}

fn last_chunk(journal: &Journal) -> Option<(u32, String)> {
    let number = journal.events().len().checked_sub(1)? / CHUNK_EVENTS;
    let part = journal.events().chunks(CHUNK_EVENTS).nth(number)?;
    let index = u32::try_from(number).ok()?;
    Some((index, write_chunk(index, part)))
}

impl Store<'_> {
    /// The texts that have to be stored for what is shown of a pair to be true of it: its logs' ends, its name, that it
    /// is in hand, the settings. `None` where they are not so now: something waits for room, or another window has
    /// gone on.
    pub fn conditions_of_shown(self, pair: &OpenPair) -> Option<Vec<StoredText>> {
        let id = &pair.head.id;
        let mut conditions = vec![
            (keys::CURRENT.to_owned(), Some(id.to_string())),
            (keys::OPERATION.to_owned(), None),
        ];
        for (sock, journal) in (1..).zip(&pair.journals) {
            let last = last_chunk(journal);
            let next = last.as_ref().map_or(0, |(index, _)| index + 1);
            conditions.extend(last.map(|(index, text)| (keys::chunk(id, sock, index), Some(text))));
            conditions.push((keys::chunk(id, sock, next), None));
        }
        let holds = conditions
            .iter()
            .all(|(key, text)| self.shelf().get(key).is_ok_and(|there| there == *text));
        // These may be anything; another text makes what is shown untrue.
        for key in [
            keys::SETTINGS.to_owned(),
            keys::TAKEN_OUT.to_owned(),
            keys::head(id),
        ] {
            let text = self.shelf().get(&key).ok()?;
            conditions.push((key, text));
        }
        holds.then_some(conditions)
    }

    /// Takes the touches that were made before the app was awake on this pair as it is into its logs. All others stay
    /// where they are.
    pub fn take_touches(self, pair: &mut OpenPair) -> TakenTouches {
        let mut taken = TakenTouches::default();
        let Some(text) = self.early_touches() else {
            return taken;
        };
        let here = base(pair);
        let (mut ours, mut others) = (Vec::new(), String::new());
        for line in text.lines() {
            match Queue::read(line) {
                Some(queue) if queue.base == here => ours.push(queue),
                // What cannot be read, too, is left to `take_stray_touches`.
                _ => {
                    others.push_str(line);
                    others.push('\n');
                }
            }
        }
        if ours.is_empty() {
            return taken;
        }
        let many = ours.iter().map(|queue| queue.touches.len()).sum();
        let (events, after) = counted(pair, &ours);
        let rest = StoredChange {
            key: keys::TOUCHED.to_owned(),
            text: (!others.is_empty()).then_some(others),
        };
        match self.commit_touches(pair, &after, rest.clone()) {
            Ok(()) => {
                *pair = after;
                taken.counted = many;
            }
            Err(StoreError::Full) => {
                // Counting goes on in memory, as with any touch for which there is no room.
                taken.trouble = self.record(pair, &events).err();
                taken.counted = many;
                let _ = self.commit_taking_away(&[rest]);
            }
            Err(error) => taken.trouble = Some(error),
        }
        taken
    }

    /// Takes the touches that were made on other pairs into their logs, and sets aside those that belong to no pair
    /// as it is. Tells how many of them there are.
    pub fn take_stray_touches(self) -> usize {
        let Some(text) = self.early_touches() else {
            return 0;
        };
        for line in text.lines() {
            let id = line.split(' ').next().and_then(PairId::read);
            if let Some(mut pair) = id.and_then(|id| self.open(&id).ok()) {
                self.take_touches(&mut pair);
                // It is worked out again when the pair is opened.
                let _ = self.note_progress(&pair.head.id, &pair.progress());
            }
        }
        let mut left = 0;
        for line in self.early_touches().unwrap_or_default().lines() {
            // Of what cannot be read nobody knows how many.
            left += Queue::read(line).map_or(1, |queue| queue.touches.len());
        }
        if left > 0 {
            // Should that fail, it is found again at the next start.
            let aside = self.to_quarantine(&[keys::TOUCHED.to_owned()]);
            let _ = aside.and_then(|changes| self.commit(&changes));
        }
        left
    }

    /// The touches that were made before the app was awake, a [`Queue`] a line.
    fn early_touches(self) -> Option<String> {
        self.shelf().get(keys::TOUCHED).ok().flatten()
    }

    /// Stores the ends of both logs and what is left of the touches, all of it or nothing.
    fn commit_touches(
        self,
        before: &OpenPair,
        after: &OpenPair,
        rest: StoredChange,
    ) -> Result<(), StoreError> {
        let id: &PairId = &after.head.id;
        let moved: Vec<(u8, &[Event])> = Sock::BOTH
            .into_iter()
            .filter(|sock| after.journals[sock.index()] != before.journals[sock.index()])
            .map(|sock| (sock.number(), after.journals[sock.index()].events()))
            .collect();
        self.goes_on(id)?;
        let mut changes = self.ends_of_logs(id, &moved)?;
        changes.push(rest);
        self.commit(&changes)
    }
}

/// The events that these touches add, and the pair then. What cannot be (a touch past the end, nothing left to undo)
/// adds nothing.
fn counted(pair: &OpenPair, queues: &[Queue<'_>]) -> (Vec<(Sock, Event)>, OpenPair) {
    let mut after = pair.clone();
    let mut all = Vec::new();
    for queue in queues {
        for (touch, time) in &queue.touches {
            let (sock, now) = (after.whose_turn(), time / 1000);
            let events = match touch {
                EarlyTouch::Done => after.touched(sock, queue.counts, now),
                EarlyTouch::Undo => after.taken_back(sock, now),
            };
            for (sock, event) in events {
                after.add(sock, event.clone());
                all.push((sock, event));
            }
        }
    }
    (all, after)
}

impl OpenPair {
    /// What a touch of the pad adds to the logs.
    pub fn touched(&self, looked_at: Sock, counts: TouchCounts, now: u64) -> Vec<(Sock, Event)> {
        touch::touched(self.on_needles(), looked_at, counts, now)
    }

    /// What a touch of Undo adds to the logs; nothing where it would take plans back, which is an operation of its
    /// own.
    fn taken_back(&self, looked_at: Sock, now: u64) -> Vec<(Sock, Event)> {
        match last_change(self, looked_at) {
            (socks, LastChange::Place) => touch::taken_back(self.on_needles(), socks, now),
            (_, LastChange::Plans) => Vec::new(),
        }
    }

    /// Goes on by a touch, and stores nothing: what would be shown then. `false` where nothing is left to do.
    pub fn look_ahead(&mut self, counts: TouchCounts) -> bool {
        let events = self.touched(self.whose_turn(), counts, 0);
        for (sock, event) in &events {
            self.add(*sock, event.clone());
        }
        !events.is_empty()
    }

    /// Goes back by an Undo, and stores nothing. `false` where there is nothing to take back, or where a touch would
    /// not lead here again.
    pub fn look_back(&mut self, counts: TouchCounts) -> bool {
        let here = self.standing();
        let events = self.taken_back(self.whose_turn(), 0);
        if events.is_empty() {
            return false;
        }
        for (sock, event) in &events {
            self.add(*sock, event.clone());
        }
        let mut again = self.clone();
        again.look_ahead(counts) && again.standing() == here
    }
}
