//! What becomes of the yarn that is left when another is taken up: carried along, or cut.

use crate::plan::{Plan, SectionKind, Step, StepForm};
use crate::recipe::Yarns;
use crate::stitch::{Op, Yarn};
use crate::text::messages::{ContrastPart, Note};
use crate::trace::Position;

/// So many rounds or rows a yarn is carried up inside; over more of them it is cut (common practice,
/// no source).
pub const CARRIED: usize = 6;

/// Says what happens to both yarns where they change, and which comes first; nothing elsewhere.
pub(super) fn at_a_change(plan: &Plan, at: Position) -> Option<Note> {
    if at.mv > 0 {
        return None;
    }
    if at.step == 0 {
        // Yarn A is in hand from the start: no line takes it up.
        let named = changed(plan.step(0)?).is_some();
        let several = plan.recipe.yarns.is_some();
        return (several && !named).then_some(Note::FirstYarn(Yarn::default()));
    }
    let steps: Vec<&Step> = plan.sections.iter().flat_map(|s| &s.steps).collect();
    let (before, after) = steps.split_at_checked(at.step)?;
    let now = changed(after.first()?)?;
    let left = before
        .iter()
        .rev()
        .find_map(|s| changed(s))
        .unwrap_or_default();
    let again = after.iter().position(|s| changed(s) == Some(left));
    Some(Note::YarnChange {
        contrast: contrast(plan, at.step, now),
        taken: now,
        again: hangs_here(before, now),
        left,
        carried: again.is_some_and(|next| rows(&after[..next]) <= CARRIED),
    })
}

/// The part that a yarn is taken up for, where that part has one of its own and no stripe is knitted in it.
fn contrast(plan: &Plan, step: usize, taken: Yarn) -> Option<ContrastPart> {
    let yarns = plan.recipe.yarns.as_ref()?;
    if yarns.stripes.iter().any(|stripe| stripe.yarn == taken) {
        return None;
    }
    let kinds = plan
        .sections
        .iter()
        .flat_map(|s| s.steps.iter().map(|_| s.kind));
    let (part, own) = match kinds.into_iter().nth(step)? {
        SectionKind::Cuff => (ContrastPart::Cuff, yarns.cuff),
        SectionKind::HeelFlap
        | SectionKind::HeelTurn
        | SectionKind::ShortHeel
        | SectionKind::LateHeel => (ContrastPart::Heel, yarns.heel),
        SectionKind::Toe => (ContrastPart::Toe, yarns.toe),
        _ => return None,
    };
    (own == taken).then_some(part)
}

/// What is said where the yarn is changed for the first time: how stripes meet, and how a yarn is carried.
pub(super) fn at_the_first_change(plan: &Plan, at: Position) -> Vec<Note> {
    let Some(Note::YarnChange { carried, .. }) = at_a_change(plan, at) else {
        return Vec::new();
    };
    let among_stripes = |yarns: &Yarns| {
        let first = yarns.stripes.first().map(|s| s.yarn);
        yarns.stripes.iter().any(|s| Some(s.yarn) != first)
    };
    let changes = |carrying: bool| {
        let earlier = (1..at.step).map(|step| Position { step, mv: 0 });
        let mut earlier = earlier.filter_map(|at| at_a_change(plan, at));
        earlier.any(|note| matches!(note, Note::YarnChange { carried, .. } if carried || !carrying))
    };
    let mut notes = Vec::new();
    let striped = plan
        .recipe
        .yarns
        .as_ref()
        .filter(|yarns| among_stripes(yarns));
    if let Some(yarns) = striped.filter(|_| !changes(false)) {
        notes.push(Note::Stripes {
            second_round: yarns.stripes.iter().any(|stripe| stripe.rounds > 1),
        });
    }
    if carried && !changes(true) {
        notes.push(Note::Carry);
    }
    notes
}

/// Whether a yarn was left so short a while ago that it was carried along.
fn hangs_here(before: &[&Step], yarn: Yarn) -> bool {
    let begun = before.iter().rposition(|s| changed(s) == Some(yarn));
    // the first yarn is in use without a change
    let first = || (yarn == Yarn::default()).then_some(0);
    let Some(begun) = begun.or_else(first) else {
        return false;
    };
    let Some(left) = before
        .iter()
        .skip(begun + 1)
        .position(|s| changed(s).is_some())
    else {
        return false;
    };
    // cast on with another yarn, the first one has not been used yet
    let used = begun > 0
        || before
            .first()
            .is_some_and(|s| changed(s).is_none_or(|y| y == yarn));
    used && rows(&before[begun + 1 + left..]) <= CARRIED
}

/// The yarn that a step changes to.
fn changed(step: &Step) -> Option<Yarn> {
    match step.moves.first()?.ops.first()? {
        Op::Yarn(yarn) => Some(*yarn),
        _ => None,
    }
}

fn rows(steps: &[&Step]) -> usize {
    steps.iter().filter(|s| s.form != StepForm::Walk).count()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::make;
    use crate::recipe::{Recipe, Stripe, Yarns};
    use crate::text::Wording;
    use crate::text::language::notes;

    #[test]
    fn short_stripes_are_carried_and_long_ones_cut() {
        let stripe = |yarn, rounds| Stripe { yarn, rounds };
        let plan = make(&Recipe {
            yarns: Some(Yarns {
                stripes: vec![stripe(Yarn::A, 2), stripe(Yarn::B, 2)],
                cuff: Yarn::A,
                heel: Yarn::C,
                toe: Yarn::C,
            }),
            stitches: Some(64),
            ..Recipe::default()
        })
        .expect("a sock");
        let mut said = Vec::new();
        let steps = plan.sections.iter().map(|s| s.steps.len()).sum();
        for step in 0..steps {
            let note = at_a_change(&plan, Position { step, mv: 0 });
            said.extend(note.map(|note| notes(&[note], Wording::default())));
        }
        assert_eq!(said.remove(0), "Begin with yarn A.");
        assert_eq!(said[0], "Join yarn B; carry yarn A up inside.");
        assert_eq!(said[1], "Take up yarn A again; carry yarn B up inside.");
        let heel = said.iter().position(|s| s.starts_with("Join yarn C"));
        let heel = heel.expect("the heel has a yarn of its own");
        assert!(
            said[heel].starts_with("Join yarn C for the contrasting heel; cut yarn"),
            "{}",
            said[heel]
        );
        assert!(
            said[heel + 1].starts_with("Join yarn"),
            "{}",
            said[heel + 1]
        );
        assert!(
            said[heel + 1].ends_with("cut yarn C, leaving a tail to weave in."),
            "{}",
            said[heel + 1]
        );
    }

    /// A stripe of one round has no second one to slip a stitch in. Common practice, no source.
    #[test]
    fn the_jog_is_hidden_in_a_stripes_second_round_and_said_once() {
        for (rounds, hidden) in [(1, 0), (2, 1)] {
            let stripe = |yarn| Stripe { yarn, rounds };
            let plan = make(&Recipe {
                yarns: Some(Yarns {
                    stripes: vec![stripe(Yarn::A), stripe(Yarn::B)],
                    cuff: Yarn::A,
                    heel: Yarn::A,
                    toe: Yarn::A,
                }),
                ..Recipe::default()
            })
            .expect("a sock");
            let steps = plan.sections.iter().map(|s| s.steps.len()).sum();
            let said =
                (0..steps).flat_map(|step| at_the_first_change(&plan, Position { step, mv: 0 }));
            let said: Vec<String> = said
                .map(|note| notes(&[note], Wording::default()))
                .filter(|said| said.contains("jog"))
                .collect();
            assert_eq!(said.len(), 1, "{said:?}");
            let slipped = said
                .iter()
                .filter(|said| said.contains("slip the first stitch"));
            assert_eq!(slipped.count(), hidden, "{said:?}");
        }
    }

    #[test]
    fn one_yarn_needs_no_word() {
        let plan = make(&Recipe::default()).expect("a sock");
        assert_eq!(at_a_change(&plan, Position { step: 30, mv: 0 }), None);
    }
}
