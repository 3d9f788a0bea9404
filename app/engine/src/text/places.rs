//! Places in the sock and the way from one to another.

use super::language;
use super::messages::{Between, NamedPlace};
use super::variety::English;
use crate::journal::Jump;
use crate::needles::Needles;
use crate::plan::{Plan, SectionKind, StepForm};
use crate::trace::{Position, Trace};
use crate::within_round::WithinRound;

impl NamedPlace {
    /// What a position is called.
    pub(super) fn of(plan: &Plan, trace: &Trace, at: Position) -> Self {
        let named = trace.steps.get(at.step).and_then(|seen| {
            let section = plan.sections.get(seen.section)?;
            let step = section.steps.get(seen.index)?;
            Some(match (step.form, section.number(seen.index)) {
                (StepForm::Round, Some(n)) => Self::Round(n, seen.kind),
                (StepForm::Row(_), Some(n)) => Self::Row(n, seen.kind),
                _ => Self::Move(at.mv + 1, seen.kind),
            })
        });
        named.unwrap_or(Self::End)
    }
}

/// "round 8 of the gusset", "move 3 of the gusset pick-up"; the end of the sock past its last move.
pub fn place(plan: &Plan, trace: &Trace, at: Position, english: English) -> String {
    language::place(NamedPlace::of(plan, trace, at), english)
}

/// From one place to another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Way {
    /// Whether it goes back.
    pub back: bool,
    /// "Back by 12 rounds, to round 8 of the gusset."
    pub told: String,
    /// What is on the needles there: "64 stitches, 32 and 32"; `None` where nothing is.
    pub needles: Option<String>,
    /// What lies between, part by part, where it is more than one part: "3 rounds of the foot and 9
    /// rounds of the gusset".
    pub parts: Option<String>,
}

/// "Needle 1 of round 8 of the gusset is done."
pub fn within_round(plan: &Plan, trace: &Trace, place: WithinRound, english: English) -> String {
    let round = NamedPlace::of(plan, trace, place.at);
    language::within_round(round, place.needles, english)
}

/// The way from a place to another; `None` when they are the same or the other is not in the plan.
pub fn way(
    plan: &Plan,
    trace: &Trace,
    from: impl Into<WithinRound>,
    to: impl Into<WithinRound>,
    english: English,
) -> Option<Way> {
    let (from, to) = (from.into(), to.into());
    if from == to || !trace.contains(to.at) {
        return None;
    }
    let back = to < from;
    let (low, high) = if back {
        (to.at, from.at)
    } else {
        (from.at, to.at)
    };
    let mut parts: Vec<(usize, Between)> = Vec::new();
    let mut at = low;
    while at < high {
        let section = trace.steps.get(at.step)?.section;
        if parts.last().is_none_or(|(s, _)| *s != section) {
            parts.push((section, Between::default()));
        }
        if let Some((_, between)) = parts.last_mut() {
            between.add(plan.step(at.step)?.form);
        }
        at = trace.advance(at);
    }
    let mut sum = Between::default();
    for (_, between) in &parts {
        sum.rounds += between.rounds;
        sum.rows += between.rows;
        sum.moves += between.moves;
    }
    // Going back, the later part is met first.
    if back {
        parts.reverse();
    }
    let parts: Vec<(SectionKind, Between)> = parts
        .iter()
        .filter_map(|(section, between)| Some((plan.sections.get(*section)?.kind, *between)))
        .collect();
    let place = NamedPlace::of(plan, trace, to.at);
    let told = if from.at == to.at {
        language::way_within(back, place, to.needles, english)
    } else {
        language::way(back, sum, place, to.needles, english)
    };
    Some(Way {
        back,
        told,
        needles: trace
            .needles_within(to)
            .map(Needles::per_needle)
            .filter(|per_needle| !per_needle.is_empty())
            .map(|per_needle| language::counts(&per_needle)),
        parts: (parts.len() > 1).then(|| language::parts(&parts, english)),
    })
}

/// "Back from round 20 of the gusset to round 8 of the gusset."
pub fn jump(plan: &Plan, trace: &Trace, jump: Jump, english: English) -> String {
    language::jumped(
        jump.to < jump.from,
        NamedPlace::of(plan, trace, jump.from),
        NamedPlace::of(plan, trace, jump.to),
        english,
    )
}

impl Between {
    const fn add(&mut self, form: StepForm) {
        match form {
            StepForm::Round => self.rounds += 1,
            StepForm::Row(_) => self.rows += 1,
            StepForm::Walk => self.moves += 1,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{SectionKind, make};
    use crate::recipe::Recipe;
    use crate::text::counts;

    const AS_WRITTEN: English = English::AsWritten;

    fn sock() -> (Plan, Trace) {
        let plan = make(&Recipe {
            stitches: Some(64),
            ..Recipe::default()
        })
        .expect("a sock");
        let trace = Trace::of(&plan).expect("it can be knitted");
        (plan, trace)
    }

    fn at(trace: &Trace, kind: SectionKind, index: usize) -> Position {
        let step = trace
            .steps
            .iter()
            .position(|s| s.kind == kind && s.index == index)
            .expect("there is such a step");
        Position { step, mv: 0 }
    }

    #[test]
    fn a_way_back_tells_what_it_undoes() {
        let (plan, trace) = sock();
        let from = at(&trace, SectionKind::Foot, 3);
        let to = at(&trace, SectionKind::Gusset, 7);
        let there = way(&plan, &trace, from, to, AS_WRITTEN).expect("another place");
        assert!(there.back);
        assert_eq!(there.told, "Back by 16 rounds, to round 8 of the gusset.");
        assert_eq!(there.needles.as_deref(), Some("76 stitches, 38 and 38"));
        assert_eq!(
            there.parts.as_deref(),
            Some("3 rounds of the foot and 13 rounds of the gusset")
        );
    }

    #[test]
    fn a_way_on_is_told_in_the_order_knitted() {
        let (plan, trace) = sock();
        let from = at(&trace, SectionKind::HeelFlap, 30);
        let there = way(
            &plan,
            &trace,
            from,
            at(&trace, SectionKind::Gusset, 0),
            AS_WRITTEN,
        );
        let there = there.expect("another place");
        assert!(!there.back);
        let parts = there.parts.expect("more than one part");
        assert!(parts.starts_with("2 rows of the heel flap, "), "{parts}");
        assert!(parts.ends_with(" of the gusset pick-up"), "{parts}");
        assert_eq!(way(&plan, &trace, from, from, AS_WRITTEN), None);
    }

    #[test]
    fn a_way_into_the_middle_of_a_round_says_which_needles_are_done() {
        let (plan, trace) = sock();
        let round = at(&trace, SectionKind::Gusset, 0);
        let half = WithinRound {
            at: round,
            needles: 1,
        };
        let told = |from: WithinRound, to: WithinRound| {
            let way = way(&plan, &trace, from, to, AS_WRITTEN).expect("another place");
            (way.back, way.told, way.needles)
        };
        let needles = |text: &str| Some(text.to_owned());
        assert_eq!(
            told(round.into(), half),
            (
                false,
                "Forward to needle 2 of round 1 of the gusset.".to_owned(),
                needles("83 stitches, 41 and 42")
            )
        );
        assert_eq!(
            told(half, round.into()),
            (
                true,
                "Back to the beginning of round 1 of the gusset.".to_owned(),
                needles("84 stitches, 42 and 42")
            )
        );
        let foot = at(&trace, SectionKind::Foot, 0);
        assert_eq!(
            told(foot.into(), half).1,
            "Back by 20 rounds, to round 1 of the gusset. Needle 1 of it is done."
        );
    }

    #[test]
    fn at_the_very_beginning_and_at_the_end_the_needles_are_empty() {
        let (plan, trace) = sock();
        let from = at(&trace, SectionKind::Foot, 3);
        for to in [Position::default(), trace.end()] {
            let there = way(&plan, &trace, from, to, AS_WRITTEN).expect("another place");
            assert_eq!(there.needles, None, "{there:?}");
        }
    }

    #[test]
    fn every_place_has_a_name() {
        let (plan, trace) = sock();
        assert_eq!(
            place(&plan, &trace, trace.end(), AS_WRITTEN),
            "the end of the sock"
        );
        let last = at(&trace, SectionKind::Close, 0);
        assert_eq!(
            place(&plan, &trace, last, AS_WRITTEN),
            "step 1 of the closing of the toe"
        );
        assert_eq!(counts(&[64]), "64 stitches");
        assert_eq!(counts(&[1, 0]), "1 stitch, 1 and 0");
    }
}
