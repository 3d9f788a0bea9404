//! A sock by a pattern that is begun: the rest of it on other needles, or seated otherwise. What is knitted
//! stays; the engine sees to that.

use evenloop_engine::plan::{Plan, PlanError, changes};
use evenloop_engine::recipe::{Method, Recipe};
use evenloop_engine::sock::replan;
use evenloop_engine::text::{self as engine_text, Typed, Wording};
use evenloop_engine::together::{Sock, is_together};
use evenloop_engine::wire;

use crate::store::{self, NewPlans, OpenPair, PairId, StoreError};

/// The pair, with the sock at hand.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Begun {
    id: PairId,
    pair: OpenPair,
}

/// The socks' plans for other needles.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Anew {
    /// The sock at hand.
    pub(super) at_hand: Plan,
    plans: NewPlans,
}

impl Begun {
    /// Opens a pair.
    ///
    /// # Errors
    /// When it is not there, cannot be read, or follows no pattern.
    pub(super) fn open(id: &str) -> Result<Self, StoreError> {
        let id = PairId::read(id).ok_or(StoreError::NotThere)?;
        let pair = store::here().open(&id)?;
        let begun = Self { id, pair };
        match begun.plan().recipe.written {
            Some(_) => Ok(begun),
            None => Err(StoreError::NotThere),
        }
    }

    /// The same pair where it is by now.
    ///
    /// # Errors
    /// As [`Self::open`].
    pub(super) fn again(&self) -> Result<Self, StoreError> {
        Self::open(&self.id.to_string())
    }

    /// What the sock at hand is knitted by.
    pub(super) fn plan(&self) -> &Plan {
        self.plan_of(self.pair.whose_turn())
    }

    fn plan_of(&self, sock: Sock) -> &Plan {
        &self.pair.patterns[sock.index()].plan
    }

    /// Which pair and sock it is, and where that is.
    pub(super) fn told(&self, wording: Wording) -> (Typed, u8, String) {
        let sock = self.pair.whose_turn();
        let pattern = &self.pair.patterns[sock.index()];
        let at = self.pair.journals[sock.index()].position();
        let place = engine_text::place(&pattern.plan, &pattern.trace, at, wording.english);
        (
            Typed::new(self.pair.head.name.clone()),
            sock.number(),
            place,
        )
    }

    /// The rest of the pair on other needles.
    ///
    /// # Errors
    /// Why it cannot be.
    pub(super) fn on(&self, needles: Method) -> Result<Anew, PlanError> {
        let anew = |sock: Sock, done: usize| {
            let old = self.plan_of(sock);
            let recipe = Recipe {
                needles,
                ..old.recipe.clone()
            };
            replan(old, done, &recipe)
        };
        let [first, second] = [Sock::First, Sock::Second].map(|sock| self.pair.steps_begun(sock));
        let together = is_together(self.pair.on_needles());
        let shared = self.pair.plan_digests[0] == self.pair.plan_digests[1];
        if self.pair.whose_turn() == Sock::Second && !together {
            let plan = anew(Sock::Second, second)?;
            return Ok(Anew {
                plans: NewPlans::Second(wire::write_plan(&plan)),
                at_hand: plan,
            });
        }
        let one = anew(
            Sock::First,
            if shared && together {
                first.max(second)
            } else {
                first
            },
        )?;
        let other = if shared {
            None
        } else {
            Some(anew(Sock::Second, second)?)
        };
        let plans = NewPlans::Both(wire::write_plan(&one), other.as_ref().map(wire::write_plan));
        let at_hand = match (self.pair.whose_turn(), other) {
            (Sock::Second, Some(other)) => other,
            _ => one,
        };
        Ok(Anew { at_hand, plans })
    }

    /// What would be different, in sentences.
    pub(super) fn said(&self, anew: &Anew, wording: Wording) -> Vec<String> {
        let all = changes(self.plan(), &anew.at_hand).into_iter();
        all.map(|one| engine_text::change(one, &anew.at_hand, wording))
            .collect()
    }

    /// Knits the rest so.
    ///
    /// # Errors
    /// When the pair is somewhere else by now, or it cannot be stored; then both socks go on as they were.
    pub(super) fn accept(&self, anew: &Anew) -> Result<(), StoreError> {
        let standing = self.pair.standing();
        let plans = Some(anew.plans.clone());
        store::here().change_rest(&self.id, &standing, plans, None, store::now())?;
        Ok(())
    }
}
