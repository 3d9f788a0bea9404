//! Two at a time on one needle, or one after the other again: what both socks have to be knitted by so
//! that both fit, and why they may not.

use evenloop_engine::plan::{Plan, PlanError, replan};
use evenloop_engine::recipe::Recipe;
use evenloop_engine::together::{self, PairFit, Sock};

use crate::store::{OpenPair, StoreError};

/// Why the socks cannot be knitted two at a time from here on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum NotTogether {
    /// The needles hold one sock.
    OneSock,
    /// The rest cannot be seated so.
    Refused(PlanError),
    /// What reads a pattern cannot be had.
    NotLoaded,
    /// It cannot be stored.
    Store(StoreError),
}

/// A sock of which the rest has to be seated otherwise, so that both fit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct SeatedAnew {
    /// What it is knitted by.
    pub(crate) plan: Plan,
    /// Its steps that are done or begun.
    pub(crate) done: usize,
    /// The recipe with the other seating.
    pub(crate) recipe: Recipe,
}

impl SeatedAnew {
    /// The plan for a sock of ours.
    ///
    /// # Errors
    /// Why the rest cannot be seated so. No pattern is read here.
    pub(crate) fn ours(&self) -> Result<Plan, NotTogether> {
        replan(&self.plan, self.done, &self.recipe).map_err(NotTogether::Refused)
    }
}

/// The socks that have to be seated otherwise; none where both fit as they are.
pub(super) fn to_be_seated(pair: &OpenPair) -> Result<[Option<SeatedAnew>; 2], NotTogether> {
    let [first, second] = Sock::BOTH.map(|sock| {
        let plan = &pair.patterns[sock.index()].plan;
        let needles = match together::fit(plan) {
            PairFit::Fits => return Ok(None),
            PairFit::Seated(needles) => needles,
            PairFit::OneSock => return Err(NotTogether::OneSock),
        };
        Ok(Some(SeatedAnew {
            plan: plan.clone(),
            done: pair.steps_begun(sock),
            recipe: Recipe {
                needles,
                ..plan.recipe.clone()
            },
        }))
    });
    Ok([first?, second?])
}

/// What both socks have to be knitted by so that both fit on the needles, the second where it is not the
/// same; nothing where all is well as it is.
pub(super) fn seated_for_two(
    pair: &OpenPair,
    seated: &dyn Fn(&SeatedAnew) -> Result<Plan, NotTogether>,
) -> Result<Option<(Plan, Option<Plan>)>, NotTogether> {
    let [first, second] = to_be_seated(pair)?;
    if first.is_none() && second.is_none() {
        return Ok(None);
    }
    let [one, other] = &pair.patterns;
    let first = first.map_or_else(|| Ok(one.plan.clone()), |anew| seated(&anew))?;
    let second = second.map_or_else(|| Ok(other.plan.clone()), |anew| seated(&anew))?;
    // A second sock that follows the first goes on to do so, where it comes to the same.
    let second = (second != first).then_some(second);
    Ok(Some((first, second)))
}
