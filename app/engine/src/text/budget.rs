//! Yarn that was weighed: what is said of it.

use super::language;
use super::messages::{Enough, Weighed};
use super::wording::Wording;
use crate::plan::{Plan, Section, SectionKind, StepForm};
use crate::yarn::Budget;

/// What the latest weighing says, a sentence each: how much goes into ten rounds, whether the rest of
/// the sock can be knitted, and the pair, and how long the leg can be. `plan` is the one of the sock that was on the needles.
pub fn budget(plan: &Plan, budget: &Budget, wording: Wording) -> Vec<String> {
    let rows = plan
        .move_at(budget.at)
        .is_some_and(|(step, _)| matches!(step.form, StepForm::Row(_)));
    let ten = budget.ten_rounds.map(|grams| Weighed::TenRounds {
        grams,
        rows,
        own: budget.own,
    });
    let enough = |left, need| Enough { left, need };
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
        .map(|one| language::weighed(one, wording))
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
    use crate::text::{WordForm, grams};
    use crate::trace::Position;
    use crate::units::LengthUnit;
    use crate::yarn::{GramRange, Halves, Need, Verdict};

    const fn range(least: u32, most: u32) -> GramRange {
        GramRange { least, most }
    }

    const fn need(least: u32, most: u32, verdict: Verdict) -> Need {
        Need {
            needed: range(least, most),
            verdict,
        }
    }

    fn said(unit: LengthUnit, budget: &Budget) -> Vec<String> {
        let plan = make(&Recipe::default()).expect("a sock");
        let wording = Wording {
            unit,
            ..Wording::default()
        };
        assert_eq!(wording.form, WordForm::default());
        super::budget(&plan, budget, wording)
    }

    fn first_of_leg(plan: &Plan) -> Position {
        let before = plan
            .sections
            .iter()
            .take_while(|s| s.kind != SectionKind::Leg);
        let step = before.map(|s| s.steps.len()).sum();
        Position { step, mv: 0 }
    }

    #[test]
    fn an_answer_is_a_few_plain_sentences() {
        let plan = make(&Recipe::default()).expect("a sock");
        let at = first_of_leg(&plan);
        assert_eq!(plan.sections[2].steps[0].moves[0].cue, Cue::Plain);
        let one = Budget {
            own: true,
            at,
            left: 255,
            ten_rounds: Some(range(14, 18)),
            sock: need(109, 134, Verdict::Enough),
            pair: Some(need(362, 441, Verdict::NotEnough(range(106, 187)))),
            leg: Some(31),
            halves: Some(Halves {
                each: 500,
                need: need(252, 311, Verdict::Enough),
            }),
        };
        assert_eq!(
            said(LengthUnit::Cm, &one),
            [
                "Ten rounds like this one take 1.4 to 1.8\u{a0}g, by your own weighings.",
                "The rest of this sock needs 10 to 14\u{a0}g: 25.5\u{a0}g is enough.",
                "This sock and the second need 36 to 45\u{a0}g: 25.5\u{a0}g is not enough, 10 to 19\u{a0}g short.",
                &format!(
                    "Both legs can safely have 31 rounds under the cuff; {} are planned.",
                    planned(&plan)
                ),
                "To knit two at a time, wind off 50\u{a0}g for each; each needs 25 to 32\u{a0}g: 50\u{a0}g is enough.",
            ]
        );
        let inches = said(LengthUnit::Inch, &one);
        assert_eq!(
            inches[1],
            "The rest of this sock needs 10 to 14\u{a0}g (0.35 to 0.49\u{a0}oz): 25.5\u{a0}g (0.9\u{a0}oz) is enough."
        );
    }

    #[test]
    fn what_cannot_be_told_is_not_told() {
        let one = |again| Budget {
            own: true,
            at: Position::default(),
            left: 600,
            ten_rounds: Some(range(10, 30)),
            sock: need(300, 900, Verdict::TooClose { again }),
            pair: None,
            leg: None,
            halves: None,
        };
        assert_eq!(
            said(LengthUnit::Cm, &one(Some(15)))[1],
            "The rest of this sock needs 30 to 90\u{a0}g: with 60\u{a0}g that is too close to tell. Weigh again after 15 rounds."
        );
        assert_eq!(
            said(LengthUnit::Cm, &one(None))[1],
            "The rest of this sock needs 30 to 90\u{a0}g: with 60\u{a0}g that is too close to tell, and may stay so to the end."
        );
        let little = Budget {
            ten_rounds: Some(range(0, 10)),
            sock: need(620, 700, Verdict::NotEnough(range(0, 95))),
            ..one(None)
        };
        assert_eq!(
            said(LengthUnit::Cm, &little)[..2],
            [
                "Ten rounds like this one take up to 1\u{a0}g, by your own weighings.",
                "The rest of this sock needs 62 to 70\u{a0}g: 60\u{a0}g is not enough, up to 9.5\u{a0}g short.",
            ]
        );
    }

    #[test]
    fn grams_are_told_as_the_scale_shows_them() {
        assert_eq!(grams(410), "41\u{a0}g");
        assert_eq!(grams(5), "0.5\u{a0}g");
    }
}
