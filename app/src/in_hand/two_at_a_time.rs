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
    /// It cannot be stored.
    Store(StoreError),
}

/// What both socks have to be knitted by so that both fit on the needles, the second where it is not the
/// same; nothing where all is well as it is.
pub(super) fn seated_for_two(pair: &OpenPair) -> Result<Option<(Plan, Option<Plan>)>, NotTogether> {
    let [first, second] = Sock::BOTH.map(|sock| {
        let plan = &pair.patterns[sock.index()].plan;
        let needles = match together::fit(plan) {
            PairFit::Fits => return Ok(None),
            PairFit::Seated(needles) => needles,
            PairFit::OneSock => return Err(NotTogether::OneSock),
        };
        let recipe = Recipe {
            needles,
            ..plan.recipe.clone()
        };
        let plan = replan(plan, pair.steps_begun(sock), &recipe).map_err(NotTogether::Refused)?;
        Ok(Some(plan))
    });
    let (first, second) = (first?, second?);
    if first.is_none() && second.is_none() {
        return Ok(None);
    }
    let [one, other] = &pair.patterns;
    let first = first.unwrap_or_else(|| one.plan.clone());
    let second = second.unwrap_or_else(|| other.plan.clone());
    // A second sock that follows the first goes on to do so, where it comes to the same.
    let second = (second != first).then_some(second);
    Ok(Some((first, second)))
}
