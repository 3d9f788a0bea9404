//! Yarn that was weighed, in words.

use crate::journal::Decigrams;
use crate::plan::{Form, Plan, Section, SectionKind};
use crate::yarn::{Budget, Will};

/// "41 g", "41.5 g": as the scale shows it.
pub fn grams(tenths: Decigrams) -> String {
    match tenths % 10 {
        0 => format!("{}\u{a0}g", tenths / 10),
        part => format!("{}.{part}\u{a0}g", tenths / 10),
    }
}

/// An estimate: no finer than it is sure.
fn about(tenths: Decigrams) -> String {
    if tenths >= 100 {
        grams((tenths + 5) / 10 * 10)
    } else {
        grams(tenths)
    }
}

/// What the latest weighing says, a sentence each: how much goes into ten rounds, whether the rest of
/// the sock can be knitted, and the pair, and how long the leg can be. `plan` is the one of the sock that was on the needles.
pub fn budget(plan: &Plan, budget: &Budget) -> Vec<String> {
    let whence = if budget.own {
        "by your own weighings"
    } else {
        "by the ball’s band"
    };
    let what = match plan.move_at(budget.at).map(|(step, _)| step.form) {
        Some(Form::Row(_)) => "rows",
        _ => "rounds",
    };
    let ten = budget.ten_rounds.map(|ten| {
        let much = about(ten);
        format!("Ten {what} like the one at hand take about {much}, {whence}.")
    });
    let sock = will("The rest of this sock needs", budget.left, budget.sock);
    let pair = budget
        .pair
        .map(|pair| will("This sock and the second need", budget.left, pair));
    let whose = if budget.pair.is_some() {
        "both legs"
    } else {
        "this leg"
    };
    let leg = budget.leg.map(|rounds| {
        format!(
            "With a tenth to spare, {whose} can have {rounds} rounds under the cuff; {} are planned.",
            planned(plan)
        )
    });
    let halves = budget.halves.map(|halves| {
        will(
            &format!(
                "To knit both socks at a time, wind off {} for each; each needs",
                grams(halves.each)
            ),
            halves.each,
            halves.need,
        )
    });
    ten.into_iter()
        .chain([sock])
        .chain(pair)
        .chain(leg)
        .chain(halves)
        .collect()
}

/// Rounds of the leg as planned.
fn planned(plan: &Plan) -> usize {
    let leg = plan.sections.iter().find(|s| s.kind == SectionKind::Leg);
    leg.map_or(0, Section::counted)
}

fn will(what: &str, left: Decigrams, (needed, will): (Decigrams, Will)) -> String {
    let answer = match will {
        Will::Do => "will do".to_owned(),
        Will::Perhaps => "may just do; nobody can tell to within a tenth".to_owned(),
        Will::Lack(missing) => format!("will not do, about {} are missing", about(missing)),
    };
    format!("{what} about {}: {} {answer}.", about(needed), grams(left))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Cue, make};
    use crate::recipe::Recipe;
    use crate::trace::Position;
    use crate::yarn::Halves;

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
    fn grams_are_told_as_the_scale_shows_them() {
        assert_eq!(grams(410), "41\u{a0}g");
        assert_eq!(grams(5), "0.5\u{a0}g");
        assert_eq!(about(415), "42\u{a0}g");
        assert_eq!(about(47), "4.7\u{a0}g");
    }
}
