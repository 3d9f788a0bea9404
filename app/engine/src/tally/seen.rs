//! Where was I: the stretches of a sock that a count fits, and what can be seen in the knitting that
//! tells one round of a stretch from another: decreases along one line, chains along the flap's
//! edge, rounds in a column of stitches.

use std::ops::RangeInclusive;

use super::{as_counted, fits, one_off, same, sum};
use crate::needles::Item;
use crate::plan::{Cue, Plan, SectionKind, Step, StepForm};
use crate::recipe::Direction;
use crate::stitch::Op;
use crate::trace::{Position, StepTrace, Trace};
use crate::within_round::{WithinRound, needles_of_round};

/// What can be counted in the knitting itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CountableSign {
    /// Rounds (or rows) of this part, stitch upon stitch in a column.
    Rounds,
    /// Chains along one edge of the heel flap.
    Chains,
    /// Decreases along one line.
    Decreases,
    /// Stitches made along one line.
    Increases,
}

/// Neighbouring steps of one section.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SimilarSteps {
    /// Index of the section in the plan.
    pub section: usize,
    /// Which part of the sock.
    pub kind: SectionKind,
    /// The steps, over all sections.
    pub steps: RangeInclusive<usize>,
    /// What tells one of them from another.
    pub sign: CountableSign,
    /// One needle that would have one stitch more (`true`) or less than was counted.
    pub off: Option<(usize, bool)>,
}

impl SimilarSteps {
    /// How many steps it is.
    pub fn size(&self) -> usize {
        self.steps.clone().count()
    }

    /// The smallest and the largest number that the sign shows within the stretch.
    pub fn range(&self, plan: &Plan, trace: &Trace) -> RangeInclusive<u16> {
        let shown = |step: usize| shown(plan, trace, self.sign, step);
        shown(*self.steps.start())..=shown(*self.steps.end())
    }

    /// The steps of the stretch before which the sign shows this number.
    pub fn by(&self, plan: &Plan, trace: &Trace, number: u16) -> Vec<usize> {
        self.steps
            .clone()
            .filter(|step| shown(plan, trace, self.sign, *step) == number)
            .collect()
    }
}

/// Every stretch before whose steps these counts are on the needles. Where there is none, those with as
/// many stitches on another number of needles; then those that one stitch more or less on one needle
/// would fit.
pub fn stretches(plan: &Plan, trace: &Trace, counted: &[u16]) -> Vec<SimilarSteps> {
    let exact = gather(plan, trace, &|step| {
        same(&step.before, counted).then_some(None)
    });
    if !exact.is_empty() {
        return exact;
    }
    let all = sum(counted);
    let otherwise = gather(plan, trace, &|step| {
        let counts = step.before.per_needle();
        (counts.len() != counted.len() && sum(&counts) == all && all > 0).then_some(None)
    });
    if !otherwise.is_empty() {
        return otherwise;
    }
    gather(plan, trace, &|step| {
        one_off(&as_counted(&step.before, counted), counted)
            .map(|(needle, more)| Some((needle, !more)))
    })
}

/// Every place in the middle of a round that alone has these counts: before and after its round they are others.
pub fn within_rounds(plan: &Plan, trace: &Trace, counted: &[u16]) -> Vec<WithinRound> {
    let mut found = Vec::new();
    for (step, seen) in trace.steps.iter().enumerate() {
        if same(&seen.before, counted) || same(seen.after(), counted) {
            continue;
        }
        let at = Position { step, mv: 0 };
        let places = 1..needles_of_round(plan, trace, at);
        let places = places.map(|needles| WithinRound { at, needles });
        found.extend(places.filter(|place| fits(trace, *place, counted)));
    }
    found
}

/// Every section of rounds or rows from end to end, for when only what can be seen is known.
pub fn whole(plan: &Plan, trace: &Trace) -> Vec<SimilarSteps> {
    let mut all = gather(plan, trace, &|_| Some(None));
    all.retain(|stretch| stretch.size() > 1);
    all
}

/// What a stretch needs of a step: `Some` when it belongs, with how far the count is off.
type Fits<'a> = &'a dyn Fn(&StepTrace) -> Option<Option<(usize, bool)>>;

fn gather(plan: &Plan, trace: &Trace, fits: Fits<'_>) -> Vec<SimilarSteps> {
    let mut out: Vec<SimilarSteps> = Vec::new();
    for (i, step) in trace.steps.iter().enumerate() {
        let Some(off) = fits(step) else { continue };
        match out.last_mut() {
            Some(last)
                if last.section == step.section
                    && *last.steps.end() + 1 == i
                    && last.off == off =>
            {
                last.steps = *last.steps.start()..=i;
            }
            _ => out.push(SimilarSteps {
                section: step.section,
                kind: step.kind,
                steps: i..=i,
                sign: sign(plan, step.section),
                off,
            }),
        }
    }
    out
}

/// What shows how far a section is.
fn sign(plan: &Plan, section: usize) -> CountableSign {
    let Some(section) = plan.sections.get(section) else {
        return CountableSign::Rounds;
    };
    // From the toe up a flap grows on live stitches and has no open edge.
    if section.kind == SectionKind::HeelFlap && plan.recipe.direction == Direction::CuffDown {
        return CountableSign::Chains;
    }
    let shaped = |by: &[Op]| {
        let shaping = section.steps.iter().filter(|s| shapes(s, by)).count();
        // Where shaping is rare it leaves too many rounds to choose from.
        shaping * OFTEN >= section.counted() && shaping > 0
    };
    if shaped(&[Op::MakeLeft, Op::MakeRight]) {
        CountableSign::Increases
    } else if shaped(&[Op::K2tog, Op::Ssk, Op::P2tog]) {
        CountableSign::Decreases
    } else {
        CountableSign::Rounds
    }
}

/// Shaping that comes at least in every so manieth round on the whole is worth counting.
const OFTEN: usize = 3;

/// Whether a step is a round that shapes by one of these operations.
fn shapes(step: &Step, by: &[Op]) -> bool {
    step.form == StepForm::Round
        && step
            .moves
            .iter()
            .any(|m| m.cue == Cue::Shape && m.ops.iter().any(|op| within(op, by)))
}

fn within(op: &Op, by: &[Op]) -> bool {
    match op {
        Op::Repeat(inner, _) => inner.iter().any(|op| within(op, by)),
        other => by.contains(other),
    }
}

/// What the sign shows before a step is begun.
fn shown(plan: &Plan, trace: &Trace, sign: CountableSign, step: usize) -> u16 {
    let Some(seen) = trace.steps.get(step) else {
        return 0;
    };
    if sign == CountableSign::Chains {
        let loops = seen.before.items().map(|item| match item {
            Item::Edge { loops, .. } => loops,
            _ => 0,
        });
        return loops.max().unwrap_or(0);
    }
    let steps = plan
        .sections
        .get(seen.section)
        .map_or(&[][..], |s| &s.steps);
    let done = steps.iter().take(seen.index).filter(|s| match sign {
        CountableSign::Decreases => shapes(s, &[Op::K2tog, Op::Ssk, Op::P2tog]),
        CountableSign::Increases => shapes(s, &[Op::MakeLeft, Op::MakeRight]),
        CountableSign::Rounds | CountableSign::Chains => s.form != StepForm::Walk,
    });
    u16::try_from(done.count()).unwrap_or(u16::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::make;
    use crate::recipe::Recipe;

    fn sock() -> (Plan, Trace) {
        let recipe = Recipe {
            stitches: Some(64),
            ..Recipe::default()
        };
        let plan = make(&recipe).expect("a sock");
        let trace = Trace::of(&plan).expect("it can be knitted");
        (plan, trace)
    }

    fn find(all: &[SimilarSteps], kind: SectionKind) -> &SimilarSteps {
        all.iter()
            .find(|s| s.kind == kind)
            .unwrap_or_else(|| panic!("no {kind:?} in {all:?}"))
    }

    #[test]
    fn a_gusset_count_leaves_two_rounds_and_a_leg_count_every_round_of_the_leg() {
        let (plan, trace) = sock();
        let gusset = stretches(&plan, &trace, &[40, 40]);
        assert_eq!(gusset.len(), 1);
        assert_eq!((gusset[0].kind, gusset[0].size()), (SectionKind::Gusset, 2));
        let tube = stretches(&plan, &trace, &[32, 32]);
        let leg = find(&tube, SectionKind::Leg);
        assert_eq!(leg.sign, CountableSign::Rounds);
        let thirteenth = leg.by(&plan, &trace, 12);
        assert_eq!(thirteenth.len(), 1);
        assert_eq!(trace.steps[thirteenth[0]].index, 12);
    }

    #[test]
    fn chains_find_the_row_of_the_flap() {
        let (plan, trace) = sock();
        let all = whole(&plan, &trace);
        let flap = find(&all, SectionKind::HeelFlap);
        assert_eq!(flap.sign, CountableSign::Chains);
        for chains in flap.range(&plan, &trace) {
            let steps = flap.by(&plan, &trace, chains);
            // a chain is as long as two rows
            assert!((1..=2).contains(&steps.len()), "{chains}: {steps:?}");
        }
        let ten = flap.by(&plan, &trace, 10);
        let rows: Vec<usize> = ten.iter().map(|s| trace.steps[*s].index).collect();
        assert!(rows.iter().all(|r| (19..=21).contains(r)), "{rows:?}");
    }

    #[test]
    fn decreases_find_the_round_of_the_toe() {
        let (plan, trace) = sock();
        let all = whole(&plan, &trace);
        let toe = find(&all, SectionKind::Toe);
        assert_eq!(toe.sign, CountableSign::Decreases);
        let steps = toe.by(&plan, &trace, 3);
        assert!(!steps.is_empty());
        for step in steps {
            assert_eq!(trace.steps[step].before.stitches(), 64 - 3 * 4);
        }
    }

    #[test]
    fn as_many_stitches_on_other_needles_are_found_too() {
        let recipe = Recipe {
            stitches: Some(64),
            needles: crate::recipe::Method::ShortCircular { length: None },
            ..Recipe::default()
        };
        let plan = make(&recipe).expect("a sock");
        let trace = Trace::of(&plan).expect("it can be knitted");
        // the log says the toe, on two needles; the sock is still in its foot, on one
        let found = stretches(&plan, &trace, &[30, 34]);
        assert!(
            found.iter().any(|s| s.kind == SectionKind::Foot),
            "{found:?}"
        );
        assert!(found.iter().all(|s| s.off.is_none()));
    }

    #[test]
    fn one_stitch_astray_still_finds_the_place() {
        let (plan, trace) = sock();
        let near = stretches(&plan, &trace, &[28, 27]);
        assert_eq!(near.len(), 1, "{near:?}");
        assert_eq!(near[0].kind, SectionKind::Toe);
        assert_eq!(near[0].off, Some((1, true)));
        assert!(stretches(&plan, &trace, &[7, 99]).is_empty());
    }

    #[test]
    fn every_step_of_a_section_is_found_by_what_shows_there() {
        let (plan, trace) = sock();
        for stretch in whole(&plan, &trace) {
            let numbers = stretch.range(&plan, &trace);
            for step in stretch.steps.clone() {
                let number = shown(&plan, &trace, stretch.sign, step);
                assert!(numbers.contains(&number), "{stretch:?} {step}");
                assert!(stretch.by(&plan, &trace, number).contains(&step));
            }
        }
    }
}
