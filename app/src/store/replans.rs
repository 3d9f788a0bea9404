//! What the rest of a pair is knitted by, planned anew on the way, and the way back. Each is an event in the logs
//! of the socks it changes, and one operation together with the plans. The plans before the last few
//! changes are kept, as the changes that lead back to them.

use evenloop_engine::journal::{Digest, Event, Journal, Seconds};
use evenloop_engine::together::{self, Sock, WhoseTurn};
use evenloop_engine::touch;

use super::error::StoreError;
use super::handle::Store;
use super::heads::head_text;
use super::keys::{self, KeyKind};
use super::operation::{StoredChange, read_changes, write_changes};
use super::pair::{OpenPair, PairHead, PairId, PairStanding};
use super::pairs::read_plans;

/// What the rest of a pair is to be knitted by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NewPlans {
    /// The second sock by this plan; the first stays as it is.
    Second(String),
    /// The first sock by this plan, and the second by its own or, without one, as the first.
    Both(String, Option<String>),
}

/// What is to happen to a pair in one operation.
struct RestChange {
    own: [Option<String>; 2],
    /// The event of each sock whose plan is another then.
    event: fn(Seconds, &OpenPair, Sock, Digest) -> Event,
    together: Option<bool>,
    /// Whether socks that do not fit on the needles together any more go on one after the other.
    may_part: bool,
}

impl Store<'_> {
    /// Knits the rest of a pair by other plans, where they are given, and two at a time or one after the other
    /// from here on, where that is said; takes it in hand. `made_for` is the place and the plans that
    /// this was asked for.
    ///
    /// # Errors
    /// [`StoreError::Elsewhere`] when the pair is somewhere else by now: ask again. When a plan cannot be
    /// read or anything stored; nothing is changed then.
    pub fn change_rest(
        self,
        id: &PairId,
        made_for: &PairStanding,
        plans: Option<NewPlans>,
        together: Option<bool>,
        now: Seconds,
    ) -> Result<OpenPair, StoreError> {
        let pair = self.open(id)?;
        if pair.standing() != *made_for {
            return Err(StoreError::Elsewhere);
        }
        let before = self.own_plans(id)?;
        let own = match plans {
            None => before.clone(),
            Some(NewPlans::Second(second)) => [before[0].clone(), Some(second)],
            Some(NewPlans::Both(first, second)) => [Some(first), second],
        };
        let turn = RestChange {
            own,
            event: |now, pair, sock, plan| {
                Event::Replanned(now, pair.journals[sock.index()].position(), plan)
            },
            together,
            may_part: false,
        };
        let (mut changes, after) = self.turned(&pair, turn, now)?;
        // The way back lies with the first log that says that there was a change.
        let mut replanned = Sock::BOTH.into_iter().filter_map(|sock| {
            let replan = after.journals[sock.index()].last_replan()?;
            let is_new = replan.event >= pair.journals[sock.index()].events().len();
            is_new.then_some((sock, replan))
        });
        if let Some((sock, replan)) = replanned.next() {
            let back = own_plans(id, before);
            let key = keys::earlier(id, sock.number(), replan.event);
            changes.push(StoredChange::put(key, write_changes(back.iter())));
            changes.extend(self.out_of_reach(id, sock, &after.journals[sock.index()])?);
        }
        changes.push(StoredChange::put(keys::CURRENT.to_owned(), id.to_string()));
        self.commit(&changes)?;
        self.open(id)
    }

    /// Takes back the last change of place of the sock that is looked at, or of both where one touch moved both,
    /// or what their rest was planned anew by since. `false` when there is neither, or when another
    /// window has gone on: the pair is then as that one left it.
    ///
    /// # Errors
    /// When it cannot be stored. A change of place is taken back in memory all the same.
    pub fn undo(
        self,
        pair: &mut OpenPair,
        looked_at: Sock,
        now: Seconds,
    ) -> Result<bool, StoreError> {
        let (socks, change) = last_change(pair, looked_at);
        if change == LastChange::Plans {
            match self.take_plans_back(pair, socks, now) {
                Ok(after) => {
                    *pair = after;
                    return Ok(true);
                }
                // The plans before it are not kept any more: then the round before is what Undo means.
                Err(StoreError::NotThere) => {}
                Err(StoreError::Behind) => {
                    *pair = self.open(&pair.head.id)?;
                    return Ok(false);
                }
                Err(error) => return Err(error),
            }
        }
        let events = touch::taken_back(pair.on_needles(), socks, now);
        if events.is_empty() {
            return Ok(false);
        }
        self.record(pair, &events).map(|()| true)
    }

    /// Takes back what the rest of these socks was planned anew by last: see [`Journal::last_replan`].
    ///
    /// # Errors
    /// [`StoreError::NotThere`] when the plans before it are not kept any more, [`StoreError::Behind`] when
    /// another window has gone on. When it cannot be stored; nothing is changed then.
    pub(super) fn take_plans_back(
        self,
        pair: &OpenPair,
        socks: &[Sock],
        now: Seconds,
    ) -> Result<OpenPair, StoreError> {
        let id = &pair.head.id;
        let there = self.open(id)?;
        if there.journals != pair.journals {
            return Err(StoreError::Behind);
        }
        let mut kept = None;
        for sock in socks {
            if let Some(replan) = pair.journals[sock.index()].last_replan() {
                let key = keys::earlier(id, sock.number(), replan.event);
                let text = self.shelf().get(&key)?;
                kept = kept.or(text.map(|text| (key, text)));
            }
        }
        let (key, text) = kept.ok_or(StoreError::NotThere)?;
        let back = read_changes(&text).unwrap_or_default();
        let own = <[StoredChange; 2]>::try_from(back).map_err(|_| StoreError::NotThere)?;
        let own = own.map(|change| change.text);
        let turn = RestChange {
            own,
            event: |now, pair, sock, plan| {
                Event::PlanTakenBack(now, pair.journals[sock.index()].position(), plan)
            },
            together: None,
            may_part: true,
        };
        let (mut changes, after) = self.turned(&there, turn, now)?;
        let others = Sock::BOTH.into_iter().any(|sock| {
            let sock_is_other = !socks.contains(&sock) && !there.journals[sock.index()].is_empty();
            sock_is_other && after.plan_digests[sock.index()] != there.plan_digests[sock.index()]
        });
        if others {
            // The other sock has been begun by the new plan meanwhile.
            return Err(StoreError::NotThere);
        }
        changes.push(StoredChange::remove(key));
        self.commit(&changes)?;
        self.open(id)
    }

    /// The changes that have a pair knitted by these plans, and the pair then.
    fn turned(
        self,
        pair: &OpenPair,
        turn: RestChange,
        now: Seconds,
    ) -> Result<(Vec<StoredChange>, OpenPair), StoreError> {
        let id = &pair.head.id;
        let meant = self.shelf().get(&keys::plan(id))?;
        let meant = meant.ok_or(StoreError::NotThere)?;
        let (_, patterns, plan_digests) = read_plans(&meant, &turn.own)?;
        let replayed =
            [0, 1].map(|sock| Journal::replay(pair.journals[sock].events(), &patterns[sock].trace));
        let mut after = OpenPair {
            patterns,
            plan_digests,
            journals: replayed,
            ..pair.clone()
        };
        let differs = |sock: &Sock| pair.plan_digests[sock.index()] != plan_digests[sock.index()];
        let begun = |sock: &Sock| !pair.journals[sock.index()].is_empty();
        let mut says: Vec<Sock> = Sock::BOTH.into_iter().filter(differs).collect();
        if !says.is_empty() {
            // A sock that is not begun stays so; the first one's log speaks for it.
            says.retain(begun);
            if says.is_empty() {
                says.push(Sock::First);
            }
        }
        for sock in says {
            let event = (turn.event)(now, pair, sock, plan_digests[sock.index()]);
            after.add(sock, event);
        }
        let parts = turn.may_part
            && after.journals[0].together()
            && !together::is_together(after.on_needles());
        let together = turn.together.or(parts.then_some(false));
        if let Some(together) = together {
            after.add(Sock::First, Event::Together(now, together));
        }
        let logs: Vec<_> = Sock::BOTH
            .into_iter()
            .map(|sock| (sock.number(), after.journals[sock.index()].events()))
            .collect();
        let mut changes = own_plans(id, turn.own).to_vec();
        changes.extend(self.ends_of_logs(id, &logs)?);
        let head = PairHead {
            progress: after.progress(),
            ..pair.head.clone()
        };
        changes.push(StoredChange::put(keys::head(id), head_text(&head)));
        Ok((changes, after))
    }

    /// The changes that let go of ways back which nobody can take any more.
    fn out_of_reach(
        self,
        id: &PairId,
        sock: Sock,
        journal: &Journal,
    ) -> Result<Vec<StoredChange>, StoreError> {
        let reached = |event| journal.replans().iter().any(|replan| replan.event == event);
        let keys = self.shelf().keys()?.into_iter();
        let gone = keys.filter(|key| match keys::read(key) {
            Some((owner, KeyKind::Earlier(of, event))) => {
                owner == *id && of == sock.number() && !reached(event)
            }
            _ => false,
        });
        Ok(gone.map(StoredChange::remove).collect())
    }
}

impl OpenPair {
    /// Whether there is anything that Undo would take back while this sock is looked at.
    pub fn can_undo(&self, looked_at: Sock) -> bool {
        !last_change(self, looked_at).0.is_empty()
    }
}

/// What Undo takes back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum LastChange {
    /// A change of place.
    Place,
    /// Plans that were made anew since.
    Plans,
}

/// What Undo takes back, and of which socks.
pub(super) fn last_change(pair: &OpenPair, looked_at: Sock) -> (&'static [Sock], LastChange) {
    let replanned = |sock: Sock| pair.journals[sock.index()].last_replan().is_some();
    if !together::is_together(pair.on_needles()) {
        let one = WhoseTurn::InTurn(looked_at).socks();
        let journal = &pair.journals[looked_at.index()];
        return match (replanned(looked_at), journal.can_undo()) {
            (true, _) => (one, LastChange::Plans),
            (false, true) => (one, LastChange::Place),
            (false, false) => (&[], LastChange::Place),
        };
    }
    // A sock that has moved since was moved last.
    let moved = |sock: Sock| pair.journals[sock.index()].can_undo();
    match Sock::BOTH.map(replanned) {
        [true, true] => (&Sock::BOTH, LastChange::Plans),
        [true, false] if !moved(Sock::Second) => (&Sock::BOTH, LastChange::Plans),
        [false, true] if !moved(Sock::First) => (&Sock::BOTH, LastChange::Plans),
        [true, false] => (&[Sock::Second], LastChange::Place),
        [false, true] => (&[Sock::First], LastChange::Place),
        [false, false] => (together::last_moved(pair.on_needles()), LastChange::Place),
    }
}

/// The changes that give both socks these plans of their own, or none.
fn own_plans(id: &PairId, own: [Option<String>; 2]) -> [StoredChange; 2] {
    let [first, second] = own;
    [(1, first), (2, second)].map(|(sock, text)| StoredChange {
        key: keys::own_plan(id, sock),
        text,
    })
}
