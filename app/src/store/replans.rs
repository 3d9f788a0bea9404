//! What the rest of a pair is knitted by, planned anew on the way, and the way back. Each is an event in the logs
//! of the socks it changes, and one operation together with the plans. The plans before the last few
//! changes are kept, as the changes that lead back to them.

use evenloop_engine::journal::{Digest, Event, Journal, Seconds};
use evenloop_engine::together::{self, Sock};

use super::error::StoreError;
use super::handle::Store;
use super::heads::head_text;
use super::keys::{self, KeyKind};
use super::operation::{Change, read_changes, write_changes};
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
struct Turn {
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
        let turn = Turn {
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
            changes.push(Change::put(key, write_changes(back.iter())));
            changes.extend(self.out_of_reach(id, sock, &after.journals[sock.index()])?);
        }
        changes.push(Change::put(keys::CURRENT.to_owned(), id.to_string()));
        self.commit(&changes)?;
        self.open(id)
    }

    /// Takes back what the rest of these socks was planned anew by last: see [`Journal::last_replan`].
    ///
    /// # Errors
    /// [`StoreError::NotThere`] when the plans before it are not kept any more, [`StoreError::Behind`] when
    /// another window has gone on. When it cannot be stored; nothing is changed then.
    pub fn take_plans_back(
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
        let own = <[Change; 2]>::try_from(back).map_err(|_| StoreError::NotThere)?;
        let own = own.map(|change| change.text);
        let turn = Turn {
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
        changes.push(Change::remove(key));
        self.commit(&changes)?;
        self.open(id)
    }

    /// The changes that have a pair knitted by these plans, and the pair then.
    fn turned(
        self,
        pair: &OpenPair,
        turn: Turn,
        now: Seconds,
    ) -> Result<(Vec<Change>, OpenPair), StoreError> {
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
        let unbegun = pair.journals.iter().all(Journal::is_empty);
        for sock in Sock::BOTH {
            let (was, is) = (pair.plan_digests[sock.index()], plan_digests[sock.index()]);
            // A second sock that is not begun stays so; what it is knitted by is said when it is.
            let says = !pair.journals[sock.index()].is_empty() || (unbegun && sock == Sock::First);
            if was != is && says {
                let event = (turn.event)(now, pair, sock, is);
                after.add(sock, event);
            }
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
        changes.push(Change::put(keys::head(id), head_text(&head)));
        Ok((changes, after))
    }

    /// The changes that let go of ways back which nobody can take any more.
    fn out_of_reach(
        self,
        id: &PairId,
        sock: Sock,
        journal: &Journal,
    ) -> Result<Vec<Change>, StoreError> {
        let reached = |event| journal.replans().iter().any(|replan| replan.event == event);
        let keys = self.shelf().keys()?.into_iter();
        let gone = keys.filter(|key| match keys::read(key) {
            Some((owner, KeyKind::Earlier(of, event))) => {
                owner == *id && of == sock.number() && !reached(event)
            }
            _ => false,
        });
        Ok(gone.map(Change::remove).collect())
    }
}

/// The changes that give both socks these plans of their own, or none.
fn own_plans(id: &PairId, own: [Option<String>; 2]) -> [Change; 2] {
    let [first, second] = own;
    [(1, first), (2, second)].map(|(sock, text)| Change {
        key: keys::own_plan(id, sock),
        text,
    })
}
