//! What is said once in a sock, where it is first needed. All of it is common practice, no source.

use super::yarns;
use crate::plan::{Plan, SectionKind, StepForm};
use crate::recipe::{Direction, Toe};
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
    let begins = |seen: &StepTrace| seen.index == 0 && at.mv == 0;
    if trace.steps.get(at.step).is_some_and(begins) {
        notes.extend(try_on(plan, trace, at));
    }
    let first_of_heel = trace
        .steps
        .iter()
        .zip(forms())
        .position(|(seen, form)| begins_heel(seen.kind, form));
    if first_of_heel == Some(at.step) {
        notes.push(Note::Reinforce);
    }
    notes.extend(yarns::at_the_first_change(plan, at));
    if trace.advance(at) == trace.end() {
        notes.push(Note::Care);
    }
    notes
}

/// Whether a step is one that the heel is knitted in: a row, or a round of one that is knitted last.
const fn begins_heel(kind: SectionKind, form: StepForm) -> bool {
    match kind {
        SectionKind::HeelFlap | SectionKind::HeelTurn | SectionKind::ShortHeel => {
            matches!(form, StepForm::Row(_))
        }
        SectionKind::LateHeel => matches!(form, StepForm::Round),
        _ => false,
    }
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
            Some(Note::FromTheLateHeel(foot))
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
