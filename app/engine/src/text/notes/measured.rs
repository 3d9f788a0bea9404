//! Where a sock is laid beside a tape measure: a leg where it ends, and the first centimetres of a sock whose
//! gauge is a guess. Lengths are those of the simulator's rounds.

use crate::first_guess::CHECKED_AT;
use crate::plan::{Plan, SectionKind};
use crate::reach::reach;
use crate::recipe::Direction;
use crate::text::messages::Note;
use crate::trace::{Position, Trace};
use crate::units::Length;

/// What a position is the place to measure.
pub(super) fn measured(plan: &Plan, trace: &Trace, at: Position) -> Option<Note> {
    // a written pattern may not know how long it will be
    if at.mv > 0 || plan.recipe.written.is_some() {
        return None;
    }
    let seen = trace.steps.get(at.step)?;
    let section = plan.sections.get(seen.section)?;
    let number = section.number(seen.index)?;
    let (tube, last) = (
        match plan.recipe.direction {
            Direction::CuffDown => SectionKind::Leg,
            Direction::ToeUp => SectionKind::Foot,
        },
        section.counted(),
    );
    let checked = guess_checked_after(plan, tube, last);
    if plan.recipe.swatch.guess.is_some() && section.kind == tube && number == checked + 1 {
        return guess(plan, tube, checked);
    }
    if section.kind == SectionKind::Leg && number == last && last > 1 {
        let reach = reach(plan, at)?;
        return Some(Note::MeasureLeg(reach.due, reach.from));
    }
    None
}

/// After how many of a tube's rounds a guess is checked: when they are tall enough, or all but one are
/// knitted.
fn guess_checked_after(plan: &Plan, tube: SectionKind, rounds: usize) -> usize {
    let tall = |rounds| {
        let rounds = u16::try_from(rounds).unwrap_or(u16::MAX);
        plan.rounds_on_needles(tube, rounds) >= CHECKED_AT
    };
    (1..rounds)
        .find(|n| tall(*n))
        .unwrap_or(rounds.saturating_sub(1))
}

fn guess(plan: &Plan, tube: SectionKind, rounds: usize) -> Option<Note> {
    let rounds = u16::try_from(rounds).ok().filter(|n| *n > 0)?;
    let (recipe, outcome) = (&plan.recipe, &plan.outcome);
    let around = match recipe.direction {
        Direction::CuffDown => outcome.leg_circumference.unwrap_or(outcome.circumference),
        Direction::ToeUp => outcome.circumference,
    };
    Some(Note::MeasureGuess {
        direction: recipe.direction,
        rounds,
        tall: plan.rounds_on_needles(tube, rounds),
        flat: Length(around.0 / 2),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::make;
    use crate::reach::ReachFrom;
    use crate::recipe::Recipe;
    use crate::swatch::{FirstGuess, Swatch};

    fn notes(recipe: &Recipe) -> Vec<(SectionKind, usize, Note)> {
        let plan = make(recipe).expect("a sock");
        let trace = Trace::of(&plan).expect("it can be knitted");
        let places = trace.steps.iter().enumerate();
        places
            .filter_map(|(step, seen)| {
                let note = measured(&plan, &trace, Position { step, mv: 0 })?;
                Some((seen.kind, seen.index, note))
            })
            .collect()
    }

    fn guessed(direction: Direction) -> Recipe {
        Recipe {
            direction,
            swatch: FirstGuess::default().swatch(Swatch::default()),
            ..Recipe::default()
        }
    }

    #[test]
    fn a_leg_is_measured_once_where_it_ends() {
        for direction in [Direction::CuffDown, Direction::ToeUp] {
            let recipe = Recipe {
                direction,
                ..Recipe::default()
            };
            let all = notes(&recipe);
            let [(SectionKind::Leg, _, Note::MeasureLeg(length, from))] = all.as_slice() else {
                panic!("{all:?}");
            };
            let from_edge = *from == ReachFrom::CastOnEdge;
            assert_eq!(from_edge, direction == Direction::CuffDown);
            let outcome = make(&recipe).expect("a sock").outcome;
            let cuff = outcome
                .sections
                .iter()
                .find(|s| s.kind == SectionKind::Cuff);
            let above = cuff
                .filter(|_| !from_edge)
                .map_or(Length::default(), |s| s.length);
            let expected = outcome.leg_length.less(above);
            assert!(length.0.abs_diff(expected.0) <= 1, "{length} {expected}");
        }
    }

    #[test]
    fn a_guess_is_measured_after_its_first_centimetres() {
        for (direction, tube) in [
            (Direction::CuffDown, SectionKind::Leg),
            (Direction::ToeUp, SectionKind::Foot),
        ] {
            let all = notes(&guessed(direction));
            let (kind, index, note) = &all[0];
            assert_eq!(*kind, tube);
            let Note::MeasureGuess {
                rounds, tall, flat, ..
            } = note
            else {
                panic!("{note:?}");
            };
            // 32 stitches and 44 rounds: 22 rounds are 5 cm
            assert_eq!((*rounds, *tall, *index), (22, Length::cm(5), 22));
            let around = make(&guessed(direction))
                .expect("a sock")
                .outcome
                .circumference;
            assert_eq!(flat.0, around.0 / 2);
        }
    }

    #[test]
    fn on_a_short_leg_a_guess_is_measured_before_the_heel() {
        let recipe = Recipe {
            leg: Length::cm(6),
            ..guessed(Direction::CuffDown)
        };
        let all = notes(&recipe);
        assert!(
            matches!(all[0], (SectionKind::Leg, _, Note::MeasureGuess { .. })),
            "{all:?}"
        );
    }
}
