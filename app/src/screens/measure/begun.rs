//! A sock that is begun: the form stands as the sock was planned, and what is changed in it is
//! replanned for the rest. What is knitted stays; the engine sees to that.

use std::sync::Arc;

use evenloop_engine::plan::{
    Plan, PlanBug, PlanError, SectionKind, changes, replan, replan_second,
};
use evenloop_engine::text as engine_text;
use evenloop_engine::text::{Typed, Wording};
use evenloop_engine::together::{Sock, is_together};
use evenloop_engine::trace::Position;
use evenloop_engine::units::LengthUnit;
use evenloop_engine::wire;

use super::form::MeasureForm;
use super::wrong::{Wrong, found};
use crate::store::{self, KnittedPlan, NewPlans, OpenPair, PairId, PairStanding, StoreError};

#[cfg(test)]
mod tests;

/// The sock on the needles.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Begun {
    pub(super) id: PairId,
    /// What the pair is called.
    pub(super) name: Typed,
    /// Which of the two, 1 or 2.
    pub(super) sock: u8,
    /// Where it is.
    at: Position,
    /// Where both socks are: what a change is made for.
    standing: PairStanding,
    /// What it is knitted by.
    pattern: Arc<KnittedPlan>,
    /// What a change means for the other one.
    other: Other,
    /// Steps of it that are done or begun; where both are knitted two at a time by one plan, of the one
    /// that is further.
    done: usize,
}

/// What the other sock of the pair has to do with a change.
#[derive(Debug, PartialEq, Eq)]
enum Other {
    /// Nothing: it stays as it is, finished or laid aside.
    Stays,
    /// It is the second, comes later, and would have been knitted by this.
    Later(Plan),
    /// Both are knitted two at a time by one plan.
    Same,
    /// Both are knitted two at a time, this one by a plan of its own, of which so many steps are done or
    /// begun.
    Beside(Plan, usize),
}

/// Why a change could not be taken up.
pub(super) enum ChangeRefused {
    /// It could not be stored.
    Store(StoreError),
    /// The second sock cannot follow.
    Second(Vec<Wrong>),
}

impl From<StoreError> for ChangeRefused {
    fn from(error: StoreError) -> Self {
        Self::Store(error)
    }
}

impl Begun {
    /// The sock at hand of a pair.
    ///
    /// # Errors
    /// When the pair is not there or cannot be read.
    pub(super) fn open(id: &str) -> Result<Self, StoreError> {
        let id = PairId::read(id).ok_or(StoreError::NotThere)?;
        store::here().open(&id).map(|pair| Self::of(id, &pair))
    }

    fn of(id: PairId, pair: &OpenPair) -> Self {
        let sock = pair.whose_turn();
        let begun = |sock: Sock| pair.steps_begun(sock);
        let plan = |sock: Sock| pair.patterns[sock.index()].plan.clone();
        let [first, second] = &pair.patterns;
        let shared = Arc::ptr_eq(first, second);
        let other = match (is_together(pair.on_needles()), sock) {
            (true, _) if shared => Other::Same,
            (true, _) => Other::Beside(plan(sock.other()), begun(sock.other())),
            (false, Sock::First) => Other::Later(plan(Sock::Second)),
            (false, Sock::Second) => Other::Stays,
        };
        let done = match other {
            Other::Same => begun(Sock::First).max(begun(Sock::Second)),
            Other::Stays | Other::Later(_) | Other::Beside(..) => begun(sock),
        };
        let at = pair.journals[sock.index()].position();
        Self {
            id,
            name: Typed::new(pair.head.name.clone()),
            sock: sock.number(),
            at,
            standing: pair.standing(),
            pattern: pair.patterns[sock.index()].clone(),
            other,
            done,
        }
    }

    /// What it is knitted by.
    pub(super) fn plan(&self) -> &Plan {
        &self.pattern.plan
    }

    /// Where it is, in words.
    pub(super) fn place(&self, wording: Wording) -> String {
        let KnittedPlan { plan, trace } = &*self.pattern;
        engine_text::place(plan, trace, self.at, wording.english)
    }

    /// Whether nothing of it is left to be knitted.
    pub(super) fn is_finished(&self) -> bool {
        self.at == self.pattern.trace.end()
    }

    /// The form that means this sock.
    pub(super) fn form(&self, unit: LengthUnit) -> MeasureForm {
        MeasureForm::of(&self.pattern.plan.recipe, unit)
    }

    /// The rest of the sock as the form wants it.
    ///
    /// # Errors
    /// What is wrong with it, line by line.
    pub(super) fn anew(&self, form: &MeasureForm) -> Result<Plan, Vec<Wrong>> {
        replan(&self.pattern.plan, self.done, &form.recipe()?).map_err(found)
    }

    /// The same sock where it is by now.
    ///
    /// # Errors
    /// When the pair is not there any more or cannot be read.
    pub(super) fn again(&self) -> Result<Self, StoreError> {
        let pair = store::here().open(&self.id)?;
        Ok(Self::of(self.id.clone(), &pair))
    }

    /// Knits the rest by that plan, and the other sock as far as it can be so.
    ///
    /// # Errors
    /// When the pair is somewhere else by now, or it cannot be stored; then both socks go on as they were.
    pub(super) fn accept(&self, plan: &Plan) -> Result<(), ChangeRefused> {
        let plans = self
            .docs(plan)
            .map_err(|errors| ChangeRefused::Second(found(errors)))?;
        let now = store::now();
        store::here().change_rest(&self.id, &self.standing, Some(plans), None, now)?;
        Ok(())
    }

    fn docs(&self, plan: &Plan) -> Result<NewPlans, PlanError> {
        let doc = wire::write_plan(plan);
        Ok(match &self.other {
            Other::Stays => NewPlans::Second(doc),
            Other::Same => NewPlans::Both(doc, None),
            Other::Later(second) => {
                let second = replan_second(plan, second, self.done)?;
                NewPlans::Both(doc, (second != *plan).then(|| wire::write_plan(&second)))
            }
            Other::Beside(own, done) => {
                let other = follow(own, *done, plan)?;
                let other = wire::write_plan(other.as_ref().unwrap_or(own));
                if self.sock == 2 {
                    NewPlans::Both(other, Some(doc))
                } else {
                    NewPlans::Both(doc, Some(other))
                }
            }
        })
    }

    /// Whether a sock that is knitted beside this one is too far on for a change.
    pub(super) fn leaves_other(&self, plan: &Plan) -> bool {
        match &self.other {
            Other::Beside(own, done) => {
                // what a mistake keeps from it is said when the change is taken up
                let stays = follow(own, *done, plan)
                    .is_ok_and(|other| other.is_none_or(|other| changes(own, &other).is_empty()));
                self.differences(plan) > 0 && stays
            }
            Other::Stays | Other::Later(_) | Other::Same => false,
        }
    }

    /// How much would be different.
    pub(super) fn differences(&self, plan: &Plan) -> usize {
        changes(&self.pattern.plan, plan).len()
    }

    /// What would be different, in sentences.
    pub(super) fn said(&self, plan: &Plan, wording: Wording) -> Vec<String> {
        let all = changes(&self.pattern.plan, plan).into_iter();
        all.map(|one| engine_text::change(one, plan, wording))
            .collect()
    }

    /// Rounds of a section that are knitted.
    pub(super) fn knitted(&self, kind: SectionKind) -> u16 {
        let Some(section) = self.pattern.plan.sections.iter().find(|s| s.kind == kind) else {
            return 0;
        };
        let steps = self.pattern.plan.steps_among(self.done, kind);
        let number = (0..steps).rev().find_map(|index| section.number(index));
        u16::try_from(number.unwrap_or(0)).unwrap_or(u16::MAX)
    }
}

/// The other of two socks knitted at a time, replanned like this one; nothing where it is too far on.
fn follow(own: &Plan, done: usize, like: &Plan) -> Result<Option<Plan>, PlanBug> {
    let recipe = like.recipe.second_sock();
    match replan(own, done, recipe.as_ref().unwrap_or(&like.recipe)) {
        Ok(plan) => Ok(Some(plan)),
        Err(PlanError::Impossible(_)) => Ok(None),
        Err(PlanError::Bug(bug)) => Err(bug),
    }
}

/// Rounds of a section of a plan.
pub(super) fn rounds(plan: &Plan, kind: SectionKind) -> u16 {
    let section = plan.sections.iter().find(|s| s.kind == kind);
    section.map_or(0, |s| u16::try_from(s.counted()).unwrap_or(u16::MAX))
}
