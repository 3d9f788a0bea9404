//! What is said once in a sock, where it is first needed. All of it is common practice, no source.

use super::yarns;
use crate::needles::Origin;
use crate::plan::{Plan, SectionKind, Step, StepForm};
use crate::recipe::{Direction, Heel, Toe};
use crate::stitch::Op;
use crate::text::messages::Note;
use crate::trace::{Position, StepTrace, Trace};
use crate::units::{Length, scaled};

/// What a position is the place to say.
pub(super) fn once(plan: &Plan, trace: &Trace, at: Position) -> Vec<Note> {
    let mut notes = Vec::new();
    let forms = || plan.sections.iter().flat_map(|s| &s.steps).map(|s| s.form);
    // One short circular has no needle's end, but the toe does not reach round it.
    let divided = |seen: &StepTrace| seen.before.per_needle().len() > 1;
    let mut rounds = trace.steps.iter().zip(forms());
    let first_round = rounds.position(|(seen, form)| form == StepForm::Round && divided(seen));
    if first_round == Some(at.step) {
        notes.push(Note::Ladders);
    }
    notes.extend(panel_off_the_middle(plan, trace, at));
    let begins = |seen: &StepTrace| seen.index == 0 && at.mv == 0;
    if trace.steps.get(at.step).is_some_and(begins) {
        notes.extend(try_on(plan, trace, at));
    }
    if plan.first_of_heel() == Some(at.step) {
        notes.push(Note::Reinforce);
    }
    if at.mv == 0 && between_the_halves(plan, trace, at.step) {
        notes.push(Note::ShortRowHeelHalfDone);
    }
    notes.extend(yarns::at_the_first_change(plan, at));
    if trace.advance(at) == trace.end() {
        notes.push(Note::Care);
    }
    notes
}

/// How a panel lies that cannot lie in the very middle, where its first round is worked.
fn panel_off_the_middle(plan: &Plan, trace: &Trace, at: Position) -> Option<Note> {
    let panel = plan.panel_stitches()?;
    let motif = plan.recipe.motif.as_ref()?;
    let worked = |at: Position| {
        plan.move_at(at)
            .is_some_and(|(_, mv)| mv.motif_round().is_some())
    };
    let mut earlier = (0..at.step).map(|step| Position { step, mv: 0 });
    if !worked(at) || earlier.any(worked) {
        return None;
    }
    let (_, mv) = plan.move_at(at)?;
    let mut needles = trace.needles_at(at)?.clone();
    let top = [Origin::Front, Origin::Instep]
        .into_iter()
        .find(|top| needles.stitches_of(*top) > 0)?;
    let first = mv.ops.iter().position(|op| matches!(op, Op::MotifRow(_)))?;
    needles.apply_all(mv.ops.get(..first)?).ok()?;
    let before = needles.worked_of(top).checked_sub(motif.edging())?;
    let after = needles.stitches_of(top).checked_sub(before + panel)?;
    let balance = motif.balancing() + 1;
    let balances = || motif.rows.iter().all(|row| row.split(balance).is_some());
    (before != after).then(|| Note::PanelOffMiddle {
        panel,
        before,
        after,
        // a panel that has balancing stitches is meant as it is
        one_balances: balance == 1 && motif.width() > 1 && balances(),
    })
}

/// Whether a step is the first round of a short-row heel that has rows before it and after it.
fn between_the_halves(plan: &Plan, trace: &Trace, step: usize) -> bool {
    let Some(seen) = trace.steps.get(step) else {
        return false;
    };
    let Some(section) = plan.sections.get(seen.section) else {
        return false;
    };
    let Some((before, from)) = section.steps.split_at_checked(seen.index) else {
        return false;
    };
    let row = |step: &Step| matches!(step.form, StepForm::Row(_));
    section.kind == SectionKind::ShortHeel
        && !plan.follows_pattern(section.kind)
        && from.first().is_some_and(|s| s.form == StepForm::Round)
        && before.last().is_some_and(row)
        && from.iter().any(row)
}

/// How long a sock should be, unwashed, where its toe, or its heel from the toe up, begins.
fn try_on(plan: &Plan, trace: &Trace, at: Position) -> Option<Note> {
    let kind = trace.steps.get(at.step)?.kind;
    let recipe = &plan.recipe;
    // a pattern may know neither the foot nor how long it will be
    if recipe.written.is_some() {
        return None;
    }
    let toe = || match recipe.toe {
        Toe::ShortRow => plan.short_row_toe_on_needles(),
        Toe::Wedge { .. } | Toe::Round | Toe::Shaped { .. } => {
            plan.height_on_needles(SectionKind::Toe)
        }
    };
    match (recipe.direction, kind) {
        // Its heel is missing: it is measured from where that will be.
        (Direction::CuffDown, SectionKind::Toe) if recipe.heel.is_knitted_last() => {
            let foot = plan.height_on_needles(SectionKind::Foot);
            let opening = match recipe.heel {
                Heel::Afterthought { opening, .. } => opening,
                // no other heel is knitted last
                Heel::FlapAndGusset { .. } | Heel::ShortRow { .. } => return None,
            };
            Some(Note::FromTheLateHeel(opening, foot))
        }
        (Direction::CuffDown, SectionKind::Toe) => {
            let outcome = &plan.outcome;
            let foot = outcome.foot_on_needles.unwrap_or(outcome.foot_length);
            let rest = foot.0.checked_sub(toe().0)?;
            // On the foot the sock stretches to the foot's length, the missing toe with it.
            let missing = scaled(
                toe().0.into(),
                recipe.foot.length.0.into(),
                foot.0.max(1).into(),
            );
            let missing = u32::try_from(missing).ok().map(Length);
            Some(Note::TryOn(recipe.direction, Length(rest), missing))
        }
        (
            Direction::ToeUp,
            SectionKind::Gusset | SectionKind::ShortHeel | SectionKind::HeelPlace,
        ) => {
            let foot = plan.height_on_needles(SectionKind::Foot);
            let so_far = Length(toe().0.saturating_add(foot.0));
            Some(Note::TryOn(recipe.direction, so_far, None))
        }
        _ => None,
    }
}
