//! A sock that is begun, replanned from where it is: other needles or another seating, a round
//! gauge measured in the sock, another length, a heel or toe chosen late. What is knitted stays.

use super::decide::decide;
use super::error::PlanError;
use super::make::{begun_elsewhere, for_tender_legs, unread_pattern, write};
use super::maker::{Kept, goes_on};
use super::model::Plan;
use super::numbers::check_needles;
use super::section_kind::SectionKind;
use super::sections::{cuff, pick_up};
use super::written;
use crate::error::{FieldError, Problem};
use crate::knit::Refusal;
use crate::pattern::FollowedPart;
use crate::recipe::{BindOff, Direction, Edge, Heel, Motif, Recipe};
use crate::stitch::Op;
use std::ops::RangeBounds;

/// Replans the rest of a sock after its first `done` steps, by another recipe. Those steps stay
/// as they are, to the operation; a heel, a turn or a pick-up that is begun is finished as it was
/// begun, and what is knitted keeps its choices whatever the new recipe says of them. A motif goes on with its
/// next round, and in its columns where its repeat was begun elsewhere; one of another width or of other
/// rounds begins with its first.
///
/// # Errors
/// Fields out of range, a direction that is not the sock's, or why the rest cannot be knitted so. What
/// Evenloop itself planned wrongly is another kind of error.
pub fn replan(old: &Plan, done: usize, recipe: &Recipe) -> Result<Plan, PlanError> {
    if recipe.written.is_some() {
        return Err(unread_pattern().into());
    }
    let (steps, recipe) = kept_and_recipe(old, done, recipe)?;
    rest_by_ours(old, steps, &recipe)
}

/// The same for a sock by a pattern that has been read ([`crate::sock::replan`] reads it).
///
/// # Errors
/// As [`replan`].
pub fn replan_followed(
    old: &Plan,
    done: usize,
    recipe: &Recipe,
    parts: Vec<FollowedPart>,
) -> Result<Plan, PlanError> {
    let (steps, recipe) = kept_and_recipe(old, done, recipe)?;
    let Some(pattern) = &recipe.written else {
        return rest_by_ours(old, steps, &recipe);
    };
    let kept = Kept {
        sections: &old.sections,
        steps,
        needles: Some(old.recipe.needles),
        // a pattern's own lines have none
        motif_row: 0,
    };
    written::write(&recipe, pattern, parts, kept)
}

/// The number of steps that stay, and the recipe with what they decided.
fn kept_and_recipe(old: &Plan, done: usize, recipe: &Recipe) -> Result<(usize, Recipe), PlanError> {
    if recipe.direction != old.recipe.direction {
        return Err(FieldError::new("direction", Problem::DirectionOfBegun).into());
    }
    let steps = finished(old, done);
    let recipe = as_knitted(old, steps, &for_tender_legs(recipe));
    recipe.check()?;
    Ok((steps, recipe))
}

/// Writes what comes after the steps that stay, with the motif's repeat begun where it lies best.
fn rest_by_ours(old: &Plan, steps: usize, recipe: &Recipe) -> Result<Plan, PlanError> {
    let plan = rest(old, steps, recipe)?;
    // a repeat that is knitted goes on where it lies
    if motif_goes_on(old, recipe) && motif_rows(old, ..steps).next().is_some() {
        return Ok(plan);
    }
    let again = begun_elsewhere(recipe, &plan, |recipe| rest(old, steps, recipe));
    Ok(again.unwrap_or(plan))
}

/// Writes what comes after the steps that stay.
fn rest(old: &Plan, steps: usize, recipe: &Recipe) -> Result<Plan, PlanError> {
    // a leg that is knitted follows no calf any more, nor one that there was none of at the cast-on
    let knitted = match recipe.direction {
        Direction::CuffDown => steps > 0 && whole(old, steps, SectionKind::Leg),
        Direction::ToeUp => old.steps_among(steps, SectionKind::Cuff) > 0,
    };
    let calf = (!knitted).then_some(&recipe.calf[..]);
    let mut numbers = decide(recipe, calf)?;
    if recipe.needles != old.recipe.needles {
        check_needles(recipe, numbers.around)?;
    }
    let hem_begun = matches!(recipe.cuff.edge, Edge::Hem { .. })
        && old.steps_among(steps, SectionKind::Cuff) > 0;
    let leg_follows = recipe.direction == Direction::CuffDown
        && whole(old, steps, SectionKind::Cuff)
        && old.steps_among(steps, SectionKind::Leg) > 0;
    if hem_begun || leg_follows {
        // A hem's outside is as high as its facing. The leg is measured with its cuff, however many
        // rounds that has come to.
        let both = numbers.cuff + numbers.leg;
        numbers.cuff = rounds_of_cuff(old);
        numbers.leg = both.saturating_sub(numbers.cuff);
    }
    let bound_off_next = recipe.direction == Direction::ToeUp
        && old.recipe.tubular_rib().is_some()
        && whole(old, steps, SectionKind::Cuff);
    if bound_off_next {
        // its last rounds lie as the tubular edge wants them: nothing is knitted above them
        numbers.cuff = rounds_of_cuff(old);
    }
    if old.steps_among(steps, SectionKind::PickUp) > 0 {
        // a round more or less, as the needles of that time wanted it
        let [then, now] = [&old.recipe, recipe].map(|r| pick_up::rounds(r.needles));
        numbers.pick_up_more = now.cast_signed() - then.cast_signed();
    }
    let kept = Kept {
        sections: &old.sections,
        steps,
        needles: Some(old.recipe.needles),
        motif_row: motif_row_after(old, steps, recipe),
    };
    write(recipe, numbers, kept).map_err(|error| match error {
        // needles still end where the old motif was not cut
        PlanError::Bug(bug)
            if bug.refusal == Refusal::MotifCut && recipe.motif != old.recipe.motif =>
        {
            FieldError::new("motif.rows", Problem::RepeatAcrossBegun).into()
        }
        other => other,
    })
}

/// Whether the motif is the old one, or fits its repeat: as wide, and as many rounds.
fn motif_goes_on(old: &Plan, recipe: &Recipe) -> bool {
    match (&old.recipe.motif, &recipe.motif) {
        (Some(was), Some(now)) => was.width() == now.width() && was.rows.len() == now.rows.len(),
        _ => false,
    }
}

/// The motif's next round, from 0: the one that the old plan would go on with, or that follows its last.
/// Another motif begins with its first.
fn motif_row_after(old: &Plan, steps: usize, recipe: &Recipe) -> usize {
    let Some(motif) = recipe.motif.as_ref().filter(|_| motif_goes_on(old, recipe)) else {
        return 0;
    };
    let next = motif_rows(old, steps..).next();
    let last = || motif_rows(old, ..steps).last();
    next.map(|row| row - 1)
        .or_else(|| last().map(|row| row % motif.rows.len().max(1)))
        .unwrap_or_default()
}

/// The numbers of the motif's rounds among those steps of a plan, from 1.
fn motif_rows(plan: &Plan, steps: impl RangeBounds<usize>) -> impl Iterator<Item = usize> {
    let all = plan.sections.iter().flat_map(|s| &s.steps).enumerate();
    let those = all.filter(move |(at, _)| steps.contains(at));
    let ops = those.flat_map(|(_, step)| step.moves.iter().flat_map(|m| &m.ops));
    ops.filter_map(|op| match op {
        Op::MotifRow(number) => Some(usize::from(number.get())),
        _ => None,
    })
}

/// What the second sock is knitted by once the first was replanned after its first `done` steps: the
/// same sock, or its mirror image where the toe is shaped. `second` is what it would have been
/// knitted by until then.
///
/// # Errors
/// As [`replan`].
pub fn replan_second(first: &Plan, second: &Plan, done: usize) -> Result<Plan, PlanError> {
    match first.recipe.second_sock() {
        Some(recipe) => replan(second, done, &recipe),
        None => Ok(first.clone()),
    }
}

/// The steps that stay: those done, and the rest of what has to be finished. A flap from the cuff
/// down is picked up on the needles it was begun on.
fn finished(old: &Plan, done: usize) -> usize {
    let down = old.recipe.direction == Direction::CuffDown;
    let mut first = 0;
    let mut begun = false;
    let tubular_end = !down && old.recipe.tubular_rib().is_some();
    for section in &old.sections {
        let end = first + section.steps.len();
        // rib would not lie right any more over stitches that were crossed for the edge
        let last_rounds = end.saturating_sub(2).max(first + 1)..end;
        begun |= tubular_end && section.kind == SectionKind::Cuff && last_rounds.contains(&done);
        begun |= (first + 1..end).contains(&done) && !goes_on(section.kind, &old.recipe);
        begun |= down && done == end && leads_to_pick_up(section.kind);
        if begun && !(down && leads_to_pick_up(section.kind)) {
            return end;
        }
        first = end;
    }
    done.min(first)
}

const fn leads_to_pick_up(kind: SectionKind) -> bool {
    matches!(kind, SectionKind::HeelFlap | SectionKind::HeelTurn)
}

/// Whether all steps of a section stay.
fn whole(old: &Plan, steps: usize, kind: SectionKind) -> bool {
    let section = old.sections.iter().find(|s| s.kind == kind);
    section.is_none_or(|s| old.steps_among(steps, kind) == s.steps.len())
}

/// Rounds of height that the cuff comes to.
fn rounds_of_cuff(old: &Plan) -> u16 {
    let cuff = old.sections.iter().find(|s| s.kind == SectionKind::Cuff);
    let rounds = cuff.map_or(0, |s| u16::try_from(s.counted()).unwrap_or(u16::MAX));
    cuff::height(&old.recipe, rounds)
}

/// The new recipe with the choices of whatever is knitted already.
fn as_knitted(old: &Plan, steps: usize, new: &Recipe) -> Recipe {
    let mut recipe = new.clone();
    let was = &old.recipe;
    let is_begun = |kind| old.steps_among(steps, kind) > 0;
    if steps == 0 {
        return recipe;
    }
    recipe.stitches = Some(old.outcome.stitches);
    if is_begun(SectionKind::CastOn) {
        recipe.cast_on = was.cast_on;
        recipe.toe_cast_on = was.toe_cast_on;
        // what a cast-on decides
        if was.direction == Direction::CuffDown {
            recipe.calf.clone_from(&was.calf);
            recipe.fit.tender_legs = was.fit.tender_legs;
        }
    }
    if is_begun(SectionKind::Cuff) {
        recipe.cuff.edge = was.cuff.edge;
        // the rib lies otherwise where a tubular edge ends it
        if was.tubular_rib().is_some() || recipe.bind_off == BindOff::Tubular {
            recipe.bind_off = was.bind_off;
        }
        if matches!(was.cuff.edge, Edge::Hem { .. }) {
            recipe.cuff.length = was.cuff.length;
        }
    }
    if is_begun(SectionKind::Leg) && was.direction == Direction::ToeUp {
        recipe.calf.clone_from(&was.calf);
        recipe.fit.tender_legs = was.fit.tender_legs;
    }
    // the columns of a repeat that was begun elsewhere stay where they are
    if let (Some(was), Some(now)) = (&was.motif, &recipe.motif)
        && was.rows != now.rows
        && motif_rows(old, ..steps).next().is_some()
    {
        let same = |motif: &Motif| motif.rows == was.rows;
        if let Some(held) = now.held_at_the_ends().into_iter().find(same) {
            recipe.motif = Some(held);
        }
    }
    let toe = is_begun(SectionKind::Toe)
        || (was.direction == Direction::ToeUp && is_begun(SectionKind::CastOn));
    if toe {
        recipe.toe = was.toe;
        recipe.fit.wide_toes = was.fit.wide_toes;
    }
    let heel = [
        SectionKind::HeelFlap,
        SectionKind::HeelTurn,
        SectionKind::Gusset,
        SectionKind::ShortHeel,
        SectionKind::HeelPlace,
    ];
    if heel.into_iter().any(is_begun) {
        recipe.heel = was.heel;
        recipe.fit.high_instep = was.fit.high_instep;
        recipe.fit.narrow_heel = was.fit.narrow_heel;
        if let Heel::FlapAndGusset { rows, height, .. } = &mut recipe.heel {
            *rows = Some(old.outcome.flap_rows);
            *height = None;
        }
    }
    recipe
}
