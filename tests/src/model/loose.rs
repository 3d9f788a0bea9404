//! Yarn overs that nothing holds: at a needle's end there is none where the repeat can be begun so that
//! none of its rounds begins or ends with one (common practice, no source).

use evenloop_engine::recipe::Recipe;

use super::closed;
use super::page::{Do, Page};

/// Looks at every needle of every move.
///
/// # Errors
/// That a yarn over lies at a needle's end and need not.
pub(super) fn look(recipe: &Recipe, page: &Page) -> Result<(), String> {
    let Some(chart) = closed::chart(recipe).ok().flatten() else {
        return Ok(());
    };
    // With balancing stitches the panel's own end moves too: there is not always a better place.
    if !chart.can_be_held() || recipe.motif.as_ref().is_some_and(|m| m.balance > 0) {
        return Ok(());
    }
    for section in &page.sections {
        for mv in section.steps.iter().flat_map(|s| &s.moves) {
            // Those of a picot hem cannot lie elsewhere.
            if !mv.ops.iter().any(|op| matches!(op, Do::Row(_))) {
                continue;
            }
            if mv.ops.split(|op| *op == Do::NextNeedle).any(loose) {
                return Err(format!(
                    "a yarn over lies at a needle's end in {} {}: {:?}",
                    section.kind, mv.cue, mv.ops
                ));
            }
        }
    }
    Ok(())
}

fn loose(needle: &[Do]) -> bool {
    let over = |op: Option<&Do>| matches!(op, Some(Do::YarnOver | Do::YarnOverBehind));
    let mut worked = needle
        .iter()
        .filter(|op| !matches!(op, Do::Row(_) | Do::Yarn(_)));
    over(worked.clone().next()) || over(worked.next_back())
}

/// The motif that is knitted is the one that was asked for, begun elsewhere in its repeat; a panel that
/// was alike on both sides still is.
pub(super) fn is_begun_later(asked: &Recipe, knitted: &Recipe) -> Result<(), String> {
    let chart = |recipe| {
        closed::chart(recipe)
            .ok()
            .flatten()
            .ok_or("a motif is gone")
    };
    let (wanted, is) = (chart(asked)?, chart(knitted)?);
    let [asked, now] = [asked, knitted].map(|recipe| recipe.motif.as_ref());
    let (asked, now) = asked.zip(now).ok_or("a motif is gone")?;
    if (asked.place, asked.edge, asked.rounds_by) != (now.place, now.edge, now.rounds_by) {
        return Err("the motif lies otherwise".into());
    }
    if is == wanted || !is.is_held() {
        return Err("a repeat is begun elsewhere for nothing".into());
    }
    let wide = wanted.wide();
    let balance = |later: usize| {
        let was = usize::from(asked.balance);
        let moved = (was + 2 * wide - 2 * later) % wide;
        if was == 0 { 0 } else { moved }
    };
    let later = (1..wide).filter(|later| wanted.begun_later(*later).as_ref() == Some(&is));
    let same = later.into_iter().any(|later| {
        let all_round = asked.place == evenloop_engine::recipe::MotifPlacement::AllRound;
        usize::from(now.balance) == if all_round { 0 } else { balance(later) }
    });
    if same {
        Ok(())
    } else {
        Err("the motif is another".into())
    }
}
