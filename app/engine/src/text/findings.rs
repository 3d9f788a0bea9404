//! What a count means and how to mend it.

use super::instructions;
use super::language;
use super::messages::NamedPlace;
use super::messages::StepShape;
use super::messages::{Diagnosis, Shift};
use super::technique::Technique;
use super::variety::English;
use super::wording::Wording;
use crate::needles::{Needles, Origin};
use crate::plan::Plan;
use crate::stitch::Op;
use crate::tally::Finding;
use crate::trace::{Position, Trace};
use crate::within_round::WithinRound;

/// A finding, in sentences.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FindingText {
    /// What it is.
    pub what: String,
    /// How to mend it, or what to do.
    pub mend: String,
    /// Where the count belongs, when that is another place.
    pub place: Option<WithinRound>,
}

/// Tells what a count at a place means. `counted` is what [`crate::tally::check_within`] was given.
pub fn finding(
    plan: &Plan,
    trace: &Trace,
    at: impl Into<WithinRound>,
    counted: &[u16],
    finding: Finding,
    wording: Wording,
) -> FindingText {
    let diagnosis = diagnosis(plan, trace, at.into(), counted, finding);
    let (what, mend) = language::diagnosis(&diagnosis, wording);
    FindingText {
        what,
        mend,
        place: match finding {
            Finding::Fits(to) => Some(to.into()),
            Finding::FitsWithin(to) => Some(to),
            _ => None,
        },
    }
}

fn diagnosis(
    plan: &Plan,
    trace: &Trace,
    at: WithinRound,
    counted: &[u16],
    finding: Finding,
) -> Diagnosis {
    let counts = trace
        .needles_within(at)
        .map(Needles::per_needle)
        .unwrap_or_default();
    let on = |needle: usize| (counts.len() > 1).then_some(needle + 1);
    let first_move = |step| NamedPlace::of(plan, trace, Position { step, mv: 0 });
    match finding {
        Finding::Right if counts.is_empty() => Diagnosis::RightAndEmpty,
        Finding::Right => Diagnosis::Right { counts },
        Finding::FitsWithin(to) => {
            Diagnosis::FitsWithin(NamedPlace::of(plan, trace, to.at), to.needles)
        }
        Finding::Fits(to) if WithinRound::from(to) < at => {
            Diagnosis::FitsEarlier(NamedPlace::of(plan, trace, to))
        }
        Finding::Fits(to) => Diagnosis::FitsLater(NamedPlace::of(plan, trace, to)),
        Finding::MissedDecrease { needle, step } => Diagnosis::MissedDecrease {
            needle: on(needle),
            round: first_move(step),
            side: side_of(trace, needle, step),
            only: only_decrease(plan, trace, needle, step),
        },
        Finding::MissedIncrease { needle, step } => Diagnosis::MissedIncrease {
            needle: on(needle),
            round: first_move(step),
        },
        Finding::PickedUpOneMore { needle } => Diagnosis::PickedUpOneMore(on(needle)),
        Finding::PickedUpOneLess { needle } => Diagnosis::PickedUpOneLess(on(needle)),
        Finding::ExtraStitch { needle } => Diagnosis::ExtraStitch(on(needle)),
        Finding::DroppedStitch { needle } => Diagnosis::DroppedStitch(on(needle)),
        Finding::WrongNeedle => Diagnosis::WrongNeedle {
            shifts: shifts(&counts, counted),
            counts,
        },
        Finding::Unexplained => Diagnosis::Unexplained { counts },
    }
}

/// The side of the foot that a needle's decreases lie on, where it carries one side only.
fn side_of(trace: &Trace, needle: usize, step: usize) -> Option<Origin> {
    let before = &trace.steps.get(step)?.before;
    let carries = |wanted: Origin| before.holds(needle, |o| o == wanted);
    match (carries(Origin::GussetLeft), carries(Origin::GussetRight)) {
        (true, false) => Some(Origin::GussetLeft),
        (false, true) => Some(Origin::GussetRight),
        _ => None,
    }
}

/// The decrease that a step works on a needle, where it works one only.
fn only_decrease(plan: &Plan, trace: &Trace, needle: usize, step: usize) -> Option<Technique> {
    let (done, seen) = (plan.step(step)?, trace.steps.get(step)?);
    let mut found = None;
    for (mv, passes) in done.moves.iter().zip(&seen.moves) {
        let here = passes.passes.iter().filter(|p| p.needle == needle);
        for op in here.filter_map(|p| mv.ops.get(p.ops.clone())).flatten() {
            let decrease = match op {
                Op::K2tog => Technique::K2tog,
                Op::Ssk => Technique::Ssk,
                Op::P2tog => Technique::P2tog,
                _ => continue,
            };
            if found.replace(decrease).is_some() {
                return None;
            }
        }
    }
    found
}

/// How to bring stitches to the needle where they belong, from one needle to its neighbour.
fn shifts(expected: &[u16], counted: &[u16]) -> Vec<Shift> {
    let mut carried = 0_i32;
    let mut shifts = Vec::new();
    for (i, (e, c)) in expected.iter().zip(counted).enumerate() {
        carried += i32::from(*c) - i32::from(*e);
        let (this, next) = (i + 1, i + 2);
        let (from, to) = if carried > 0 {
            (this, next)
        } else {
            (next, this)
        };
        if carried != 0 {
            shifts.push(Shift {
                stitches: carried.abs(),
                from,
                to,
            });
        }
    }
    shifts
}

/// One step of a stretch, and what kind of round it is: "Round 6 of the gusset, plain round", as the beginning of a sentence.
pub fn spot(plan: &Plan, trace: &Trace, step: usize, english: English) -> String {
    let at = Position { step, mv: 0 };
    let shape: Option<StepShape> = trace
        .steps
        .get(step)
        .zip(plan.move_at(at))
        .and_then(|(seen, (step, mv))| instructions::shape(seen.kind, step, mv.cue));
    language::place_with_shape(NamedPlace::of(plan, trace, at), shape, english)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{SectionKind, make};
    use crate::recipe::{Method, Recipe, Seating};
    use crate::tally::check;

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

    fn at(trace: &Trace, kind: SectionKind, index: usize) -> Position {
        let step = trace
            .steps
            .iter()
            .position(|s| s.kind == kind && s.index == index)
            .expect("there is such a step");
        Position { step, mv: 0 }
    }

    fn told(needles: Method, place: (SectionKind, usize), counted: &[u16]) -> Vec<FindingText> {
        let (plan, trace) = sock(needles);
        let at = at(&trace, place.0, place.1);
        check(&plan, &trace, at, counted)
            .into_iter()
            .map(|f| finding(&plan, &trace, at, counted, f, Wording::default()))
            .collect()
    }

    #[test]
    fn a_missed_decrease_names_its_side_and_its_kind() {
        let halves = Method::default();
        let said = told(halves, (SectionKind::Gusset, 1), &[42, 41]);
        assert_eq!(
            said[0].what,
            "One stitch too many on needle 1: the decrease of round 1 of the gusset, at the left gusset, may have been missed."
        );
        assert!(said[0].mend.contains("work the k2tog now"), "{said:?}");
        let said = told(halves, (SectionKind::Gusset, 1), &[41, 42]);
        assert!(said[0].what.contains("at the right gusset"), "{said:?}");
        assert!(said[0].mend.contains("work the ssk now"), "{said:?}");
    }

    #[test]
    fn a_needle_with_both_sides_names_none() {
        let apart = Method::MagicLoop {
            seating: Seating::InstepAndSole,
        };
        let said = told(apart, (SectionKind::Gusset, 1), &[51, 32]);
        assert!(
            said[0]
                .what
                .starts_with("One stitch too many on needle 1: the decrease of round 1")
        );
        assert!(!said[0].what.contains("at the"), "{said:?}");
    }

    #[test]
    fn stitches_on_the_wrong_needle_are_told_where_to_go() {
        let said = told(Method::default(), (SectionKind::Leg, 3), &[30, 34]);
        assert_eq!(
            said[0].mend,
            "Slip 2 from needle 2 to needle 1, without working them."
        );
        let said = told(Method::FourDpns, (SectionKind::Leg, 3), &[22, 20, 22]);
        assert!(said[0].what.contains("wrong needle"), "{said:?}");
    }

    #[test]
    fn empty_needles_are_right_before_the_cast_on() {
        let said = told(Method::default(), (SectionKind::CastOn, 0), &[0]);
        assert_eq!(
            said[0].what,
            "That is right: nothing is on the needles yet."
        );
    }

    #[test]
    fn another_round_can_be_gone_to() {
        let said = told(Method::default(), (SectionKind::Toe, 4), &[30, 30]);
        assert!(said[0].place.is_some());
        assert!(
            said[0].what.contains("earlier than you thought"),
            "{said:?}"
        );
    }

    #[test]
    fn one_needle_alone_has_no_number() {
        let said = told(
            Method::ShortCircular { length: None },
            (SectionKind::Leg, 3),
            &[63],
        );
        assert!(said[0].what.starts_with("One stitch too few: "), "{said:?}");
    }
}
