//! Places in the sock and the way from one to another, in words.

use super::names::section_in_text;
use super::notes::listed;
use crate::journal::Jump;
use crate::needles::Needles;
use crate::plan::{Form, Plan};
use crate::trace::{Position, Trace};

/// "round 8 of the gusset", "move 3 of the gusset pick-up"; the end of the sock past its last move.
pub fn place(plan: &Plan, trace: &Trace, at: Position) -> String {
    let named = trace.steps.get(at.step).and_then(|seen| {
        let section = plan.sections.get(seen.section)?;
        let step = section.steps.get(seen.index)?;
        let part = section_in_text(seen.kind);
        let number = section.number(seen.index);
        Some(match (step.form, number) {
            (Form::Round, Some(n)) => format!("round {n} of the {part}"),
            (Form::Row(_), Some(n)) => format!("row {n} of the {part}"),
            _ => format!("move {} of the {part}", at.mv + 1),
        })
    });
    named.unwrap_or_else(|| "the end of the sock".to_owned())
}

/// "64 stitches, 32 and 32"; one needle's stitches are not told twice.
pub fn counts(per_needle: &[u16]) -> String {
    let all: u32 = per_needle.iter().map(|n| u32::from(*n)).sum();
    let many = if all == 1 { "" } else { "es" };
    match per_needle {
        [] | [_] => format!("{all} stitch{many}"),
        _ => format!("{all} stitch{many}, {}", listed(per_needle)),
    }
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

/// The way from a place to another; `None` when they are the same or the other is not in the plan.
pub fn way(plan: &Plan, trace: &Trace, from: Position, to: Position) -> Option<Way> {
    if from == to || !trace.contains(to) {
        return None;
    }
    let back = to < from;
    let (low, high) = if back { (to, from) } else { (from, to) };
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
    // The later part is met first by whoever goes back.
    if back {
        parts.reverse();
    }
    let told: Vec<String> = parts
        .iter()
        .filter_map(|(section, between)| {
            let part = section_in_text(plan.sections.get(*section)?.kind);
            Some(format!("{} of the {part}", between.told()))
        })
        .collect();
    let direction = if back { "Back" } else { "On" };
    Some(Way {
        back,
        told: format!(
            "{direction} by {}, to {}.",
            sum.told(),
            place(plan, trace, to)
        ),
        needles: trace
            .needles_at(to)
            .map(Needles::per_needle)
            .filter(|per_needle| !per_needle.is_empty())
            .map(|per_needle| counts(&per_needle)),
        parts: (told.len() > 1).then(|| joined(&told)),
    })
}

/// "Back from round 20 of the gusset to round 8 of the gusset."
pub fn jump(plan: &Plan, trace: &Trace, jump: Jump) -> String {
    let direction = if jump.to < jump.from { "Back" } else { "On" };
    format!(
        "{direction} from {} to {}.",
        place(plan, trace, jump.from),
        place(plan, trace, jump.to)
    )
}

/// What lies between two places.
#[derive(Default)]
struct Between {
    rounds: usize,
    rows: usize,
    moves: usize,
}

impl Between {
    const fn add(&mut self, form: Form) {
        match form {
            Form::Round => self.rounds += 1,
            Form::Row(_) => self.rows += 1,
            Form::Walk => self.moves += 1,
        }
    }

    /// Rounds and rows; single moves only where there is nothing else.
    fn told(&self) -> String {
        let some = |n: usize, what: &str| {
            let many = if n == 1 { "" } else { "s" };
            (n > 0).then(|| format!("{n} {what}{many}"))
        };
        let mut told: Vec<String> = [some(self.rounds, "round"), some(self.rows, "row")]
            .into_iter()
            .flatten()
            .collect();
        if told.is_empty() {
            told.extend(some(self.moves, "move"));
        }
        joined(&told)
    }
}

/// "a", "a and b", "a, b and c".
pub(super) fn joined(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [start @ .., last] => format!("{} and {last}", start.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{SectionKind, make};
    use crate::recipe::Recipe;

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
        let there = way(&plan, &trace, from, to).expect("another place");
        assert!(there.back);
        assert_eq!(there.told, "Back by 14 rounds, to round 8 of the gusset.");
        assert_eq!(there.needles.as_deref(), Some("74 stitches, 37 and 37"));
        assert_eq!(
            there.parts.as_deref(),
            Some("3 rounds of the foot and 11 rounds of the gusset")
        );
    }

    #[test]
    fn a_way_on_is_told_in_the_order_knitted() {
        let (plan, trace) = sock();
        let from = at(&trace, SectionKind::HeelFlap, 30);
        let there = way(&plan, &trace, from, at(&trace, SectionKind::Gusset, 0));
        let there = there.expect("another place");
        assert!(!there.back);
        let parts = there.parts.expect("more than one part");
        assert!(parts.starts_with("2 rows of the heel flap, "), "{parts}");
        assert!(parts.ends_with(" of the gusset pick-up"), "{parts}");
        assert_eq!(way(&plan, &trace, from, from), None);
    }

    #[test]
    fn at_the_very_beginning_and_at_the_end_the_needles_are_empty() {
        let (plan, trace) = sock();
        let from = at(&trace, SectionKind::Foot, 3);
        for to in [Position::default(), trace.end()] {
            let there = way(&plan, &trace, from, to).expect("another place");
            assert_eq!(there.needles, None, "{there:?}");
        }
    }

    #[test]
    fn every_place_has_a_name() {
        let (plan, trace) = sock();
        assert_eq!(place(&plan, &trace, trace.end()), "the end of the sock");
        let last = at(&trace, SectionKind::Close, 0);
        assert_eq!(
            place(&plan, &trace, last),
            "move 1 of the closing of the toe"
        );
        assert_eq!(counts(&[64]), "64 stitches");
        assert_eq!(counts(&[1, 0]), "1 stitch, 1 and 0");
    }
}
