//! From a plan to a pair in the basket. The page holds all that this takes; nothing is asked of the
//! network.

use evenloop_engine::plan::{Plan, make};
use evenloop_engine::wire;
use leptos::task::spawn_local;

use super::begun::ChangeRefused;
use super::wrong::found;
use crate::store;

/// Puts the pair in the basket, with a second plan where left and right are not the same, and takes it
/// in hand.
///
/// # Errors
/// When there is no second sock like this one, or the pair cannot be stored; nothing is left behind
/// then.
pub(super) fn cast_on(plan: &Plan, name: &str) -> Result<(), ChangeRefused> {
    let second = plan.recipe.second_sock();
    let second = second.map(|recipe| make(&recipe)).transpose();
    let second = second.map_err(|errors| ChangeRefused::Second(found(errors)))?;
    let second = second.as_ref().map(wire::write_plan);
    store::here().create(
        name,
        &wire::write_plan(plan),
        second.as_deref(),
        store::now(),
    )?;
    // Whatever the browser answers, the pair is cast on; Settings looks the answer up.
    spawn_local(async {
        store::ask_to_stay().await;
    });
    Ok(())
}
