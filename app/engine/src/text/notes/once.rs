//! What is said once in a sock, where it is first needed. All of it is common practice, no source.

use super::yarns;
use crate::plan::{Plan, SectionKind, StepForm};
use crate::recipe::{Direction, Heel, Method, Toe};
use crate::text::messages::Note;
use crate::trace::{Position, StepTrace, Trace};
use crate::units::{Length, scaled};

/// What a position is the place to say.
pub(super) fn once(plan: &Plan, trace: &Trace, at: Position) -> Vec<Note> {
    let mut notes = Vec::new();
    let forms = || plan.sections.iter().flat_map(|s| &s.steps).map(|s| s.form);
    let first_round = forms().position(|form| form == StepForm::Round);
    let short = matches!(plan.recipe.needles, Method::ShortCircular { .. });
    if !short && first_round == Some(at.step) {
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

/// How long a sock should be, unwashed, where its toe, or its heel from the toe up, begins. A heel that is
/// knitted last is missing until then, and a toe in short rows is no number of rounds long.
fn try_on(plan: &Plan, trace: &Trace, at: Position) -> Option<Note> {
    let kind = trace.steps.get(at.step)?.kind;
    let (recipe, swatch) = (&plan.recipe, &plan.recipe.swatch);
    if recipe.toe == Toe::ShortRow {
        return None;
    }
    let rounds = |wanted: SectionKind| {
        let section = plan.sections.iter().find(|s| s.kind == wanted);
        section.map_or(0, |s| u16::try_from(s.counted()).unwrap_or(u16::MAX))
    };
    let tall = |rounds| {
        let unwashed = swatch.unwashed_height_of(rounds);
        unwashed.unwrap_or_else(|| swatch.height_of(rounds))
    };
    match (recipe.direction, kind) {
        (Direction::CuffDown, SectionKind::Toe) if recipe.heel != Heel::Afterthought => {
            let outcome = &plan.outcome;
            let foot = outcome.foot_on_needles.unwrap_or(outcome.foot_length);
            let rest = foot.0.checked_sub(tall(rounds(kind)).0)?;
            // On the foot the sock stretches to the foot's length, the missing toe with it.
            let toe = scaled(
                tall(rounds(kind)).0.into(),
                recipe.foot.length.0.into(),
                foot.0.max(1).into(),
            );
            let toe = u32::try_from(toe).ok().map(Length);
            Some(Note::TryOn(recipe.direction, Length(rest), toe))
        }
        (
            Direction::ToeUp,
            SectionKind::Gusset | SectionKind::ShortHeel | SectionKind::HeelPlace,
        ) => {
            let so_far = rounds(SectionKind::Toe).saturating_add(rounds(SectionKind::Foot));
            Some(Note::TryOn(recipe.direction, tall(so_far), None))
        }
        _ => None,
    }
}
