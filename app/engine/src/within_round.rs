//! Within a round: which of its needles are worked, for work that is put down in the middle of one.
//!
//! A round is worked needle by needle; what lies on the needles in between was seen by the simulator like all else.
//! May use plans and traces; must not know logs or words.

use crate::needles::Needles;
use crate::plan::{Move, Plan, StepForm};
use crate::trace::{MoveTrace, Position, Trace};

/// A place within a round: so many of its needles are worked; none at its beginning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WithinRound {
    /// The round.
    pub at: Position,
    /// Its needles that are worked, in the order in which they are worked.
    pub needles: usize,
}

impl From<Position> for WithinRound {
    fn from(at: Position) -> Self {
        Self { at, needles: 0 }
    }
}

/// How many needles the round at a place is worked on, one after the other. 1 for whatever is not divided so: a
/// row, a move of a walk, a round on one needle, a round in which a needle is only passed over.
pub fn needles_of_round(plan: &Plan, trace: &Trace, at: Position) -> usize {
    let Some((step, done)) = plan.move_at(at) else {
        return 1;
    };
    let seen = trace
        .steps
        .get(at.step)
        .and_then(|seen| seen.moves.get(at.mv));
    match seen {
        Some(seen) if step.form == StepForm::Round && works_on_each(done, seen) => {
            seen.passes.len().max(1)
        }
        _ => 1,
    }
}

/// Whether something is worked on every needle, each met once.
fn works_on_each(done: &Move, seen: &MoveTrace) -> bool {
    seen.passes.iter().enumerate().all(|(nth, pass)| {
        let ops = done.ops.get(pass.ops.clone()).unwrap_or_default();
        pass.needle == nth && ops.iter().any(|op| !op.only_shifts())
    })
}

impl Trace {
    /// What lies on the needles at a place within a round; `None` past the end, or where the round has not so
    /// many needles.
    pub fn needles_within(&self, place: WithinRound) -> Option<&Needles> {
        if place.needles == 0 {
            return self.needles_at(place.at);
        }
        let seen = self.steps.get(place.at.step)?.moves.get(place.at.mv)?;
        seen.passes.get(place.needles).map(|pass| &pass.before)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{SectionKind, make};
    use crate::recipe::{Method, Recipe, Seating};

    fn sock(needles: Method) -> (Plan, Trace) {
        let plan = make(&Recipe {
            stitches: Some(64),
            needles,
            ..Recipe::default()
        })
        .expect("a sock");
        let trace = Trace::of(&plan).expect("it can be knitted");
        (plan, trace)
    }

    /// The first step of a section.
    fn first(trace: &Trace, kind: SectionKind) -> Position {
        let step = trace.steps.iter().position(|seen| seen.kind == kind);
        Position {
            step: step.expect("there is such a section"),
            mv: 0,
        }
    }

    #[test]
    fn a_round_has_as_many_needles_as_hold_the_sock() {
        for (needles, many) in [
            (Method::default(), 2),
            (
                Method::TwoCirculars {
                    seating: Seating::InstepAndSole,
                },
                2,
            ),
            (Method::FourDpns, 3),
            (Method::FiveDpns, 4),
            (Method::ShortCircular { length: None }, 1),
        ] {
            let (plan, trace) = sock(needles);
            let leg = first(&trace, SectionKind::Leg);
            assert_eq!(needles_of_round(&plan, &trace, leg), many, "{needles:?}");
            let flap = first(&trace, SectionKind::HeelFlap);
            assert_eq!(needles_of_round(&plan, &trace, flap), 1, "a row is one");
            assert_eq!(needles_of_round(&plan, &trace, trace.end()), 1);
        }
    }

    #[test]
    fn in_the_middle_of_a_decrease_round_one_needle_has_less() {
        let (plan, trace) = sock(Method::default());
        let at = first(&trace, SectionKind::Gusset);
        let many = needles_of_round(&plan, &trace, at);
        let on = |needles| {
            let seen = trace.needles_within(WithinRound { at, needles });
            seen.map(Needles::per_needle)
        };
        assert_eq!(many, 2);
        assert_eq!(on(0), Some(vec![42, 42]));
        assert_eq!(on(1), Some(vec![41, 42]));
        assert_eq!(on(2), None);
    }
}
