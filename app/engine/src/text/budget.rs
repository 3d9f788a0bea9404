//! Yarn that was weighed: what is said of it.

use super::language;
use super::messages::{Enough, Weighed};
use super::variety::English;
use crate::plan::{Plan, Section, SectionKind, StepForm};
use crate::yarn::Budget;

/// What the latest weighing says, a sentence each: how much goes into ten rounds, whether the rest of
/// the sock can be knitted, and the pair, and how long the leg can be. `plan` is the one of the sock that was on the needles.
pub fn budget(plan: &Plan, budget: &Budget, english: English) -> Vec<String> {
    let rows = plan
        .move_at(budget.at)
        .is_some_and(|(step, _)| matches!(step.form, StepForm::Row(_)));
    let ten = budget.ten_rounds.map(|grams| Weighed::TenRounds {
        grams,
        rows,
        own: budget.own,
    });
    let enough = |left, (needed, will)| Enough { left, needed, will };
    let sock = Weighed::Sock(enough(budget.left, budget.sock));
    let pair = budget
        .pair
        .map(|pair| Weighed::Pair(enough(budget.left, pair)));
    let leg = budget.leg.map(|rounds| Weighed::Leg {
        rounds,
        planned: planned(plan),
        both: budget.pair.is_some(),
    });
    let halves = budget
        .halves
        .map(|halves| Weighed::Halves(enough(halves.each, halves.need)));
    ten.into_iter()
        .chain([sock])
        .chain(pair)
        .chain(leg)
        .chain(halves)
        .map(|one| language::weighed(one, english))
        .collect()
}

/// Rounds of the leg as planned.
fn planned(plan: &Plan) -> usize {
    let leg = plan.sections.iter().find(|s| s.kind == SectionKind::Leg);
    leg.map_or(0, Section::counted)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Cue, make};
    use crate::recipe::Recipe;
    use crate::text::grams;
    use crate::trace::Position;
    use crate::yarn::{Halves, Will};

    #[test]
    fn an_answer_is_a_few_plain_sentences() {
        let plan = make(&Recipe::default()).expect("a sock");
        let leg: usize = plan
            .sections
            .iter()
            .take_while(|s| s.kind != SectionKind::Leg)
            .map(|s| s.steps.len())
            .sum();
        let said = budget(
            &plan,
            &Budget {
                own: true,
                at: Position { step: leg, mv: 0 },
                left: 255,
                ten_rounds: Some(16),
                sock: (121, Will::Do),
                pair: Some((402, Will::Lack(147))),
                leg: Some(31),
                halves: Some(Halves {
                    each: 500,
                    need: (281, Will::Do),
                }),
            },
            English::AsWritten,
        );
        assert_eq!(plan.sections[2].steps[0].moves[0].cue, Cue::Plain);
        assert_eq!(
            said,
            [
                "Ten rounds like the one at hand take about 1.6\u{a0}g, by your own weighings.",
                "The rest of this sock needs about 12\u{a0}g: 25.5\u{a0}g will do.",
                "This sock and the second need about 40\u{a0}g: 25.5\u{a0}g will not do, about 15\u{a0}g are missing.",
                &format!(
                    "With a tenth to spare, both legs can have 31 rounds under the cuff; {} are planned.",
                    planned(&plan)
                ),
                "To knit both socks at a time, wind off 50\u{a0}g for each; each needs about 28\u{a0}g: 50\u{a0}g will do.",
            ]
        );
    }

    #[test]
    fn an_estimate_is_no_finer_than_it_is_sure() {
        let plan = make(&Recipe::default()).expect("a sock");
        for (tenths, about) in [(415, "about 42\u{a0}g,"), (47, "about 4.7\u{a0}g,")] {
            let said = budget(
                &plan,
                &Budget {
                    own: true,
                    at: Position::default(),
                    left: 255,
                    ten_rounds: Some(tenths),
                    sock: (121, Will::Do),
                    pair: None,
                    leg: None,
                    halves: None,
                },
                English::AsWritten,
            );
            assert!(said[0].contains(about), "{said:?}");
        }
    }

    #[test]
    fn grams_are_told_as_the_scale_shows_them() {
        assert_eq!(grams(410), "41\u{a0}g");
        assert_eq!(grams(5), "0.5\u{a0}g");
    }
}
