//! A plan as the fabric it makes: what is made of each stitch, course by course from a fixed place
//! of the sock, whatever needles hold it and wherever the round begins.

use evenloop_engine::needles::{Facing, Item, Needles, Origin};
use evenloop_engine::plan::{Cue, Plan, SectionKind, StepForm};
use evenloop_engine::stitch::Op;
use evenloop_engine::trace::Trace;

/// What is made at one place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Made {
    Knit,
    Purl,
    Twisted,
    Slipped,
    Over,
    LeansRight,
    LeansLeft,
    PurlTogether,
    OneLeft,
    OneRight,
    Folded,
    PickedUp,
    Cornered,
    Waste,
    Crossed,
    Double,
    TurnDouble,
}

impl Made {
    /// What it is in a mirror.
    pub(crate) fn mirrored(self) -> Self {
        match self {
            Self::LeansRight => Self::LeansLeft,
            Self::LeansLeft => Self::LeansRight,
            Self::OneLeft => Self::OneRight,
            Self::OneRight => Self::OneLeft,
            same => same,
        }
    }
}

/// One round or row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Course {
    pub(crate) cue: Cue,
    /// Which side faced; `None` for a round.
    pub(crate) facing: Option<Facing>,
    /// Over instep and front of leg, in the order knitted; empty for a row.
    pub(crate) top: Vec<Made>,
    /// Over everything else, from where the instep ends; for a row, all of it.
    pub(crate) rest: Vec<Made>,
}

/// The courses of one section, walks left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Part {
    pub(crate) kind: SectionKind,
    pub(crate) courses: Vec<Course>,
}

pub(crate) fn of(plan: &Plan, trace: &Trace) -> Vec<Part> {
    let mut seen = trace.steps.iter();
    let mut parts = Vec::new();
    for section in &plan.sections {
        let mut courses = Vec::new();
        for (step, before) in section.steps.iter().zip(seen.by_ref().map(|s| &s.before)) {
            let mv = &step.moves[0];
            match step.form {
                StepForm::Round => courses.push(round(mv.cue, &mv.ops, before)),
                StepForm::Row(facing) => {
                    let mut rest = Vec::new();
                    made(&mv.ops, &mut |made, _| rest.push(made));
                    let (cue, facing, top) = (mv.cue, Some(facing), Vec::new());
                    courses.push(Course {
                        cue,
                        facing,
                        top,
                        rest,
                    });
                }
                StepForm::Walk => {}
            }
        }
        let kind = section.kind;
        if kind == SectionKind::Gusset {
            plain_where_it_closes(&mut courses);
        }
        parts.push(Part { kind, courses });
    }
    parts
}

/// Picked-up stitches are closed by a twist when they are first knitted. Where the pick-up itself goes
/// over one side again, that side is closed a round before the other: taken for plain here.
fn plain_where_it_closes(courses: &mut [Course]) {
    for made in courses.iter_mut().take(1).flat_map(|c| &mut c.rest) {
        if *made == Made::Twisted {
            *made = Made::Knit;
        }
    }
}

/// A round from the first stitch of instep or front on. The round that ends short rows begins where
/// they ended: only what lies before the tip is worked.
fn round(cue: Cue, ops: &[Op], before: &Needles) -> Course {
    let on_top: Vec<bool> = before
        .items()
        .skip(before.tip())
        .flat_map(|item| match item {
            Item::Stitches(o, _, n) => std::iter::repeat_n(is_top(o), usize::from(n)),
            Item::Double(o) => std::iter::repeat_n(is_top(o), 1),
            _ => std::iter::repeat_n(false, 0),
        })
        .collect();
    let mut at = 0;
    let mut all: Vec<(bool, Made)> = Vec::new();
    made(ops, &mut |made, takes| {
        // A stitch made of none belongs to what comes next, at the very end to what came last.
        let top = on_top.get(at).or(on_top.last()).copied().unwrap_or(false);
        at += takes;
        all.push((top, made));
    });
    assert_eq!(at, on_top.len(), "a round works every stitch once: {ops:?}");
    let begin = (0..all.len())
        .find(|i| all[*i].0 && !all[(i + all.len() - 1) % all.len()].0)
        .unwrap_or(0);
    all.rotate_left(begin);
    let top = all.iter().filter(|(top, _)| *top).count();
    assert!(
        all[..top].iter().all(|(top, _)| *top),
        "the instep lies together"
    );
    let mut all = all.into_iter().map(|(_, made)| made);
    Course {
        cue,
        facing: None,
        top: all.by_ref().take(top).collect(),
        rest: all.collect(),
    }
}

const fn is_top(origin: Origin) -> bool {
    matches!(origin, Origin::Instep | Origin::Front)
}

/// What operations make, one by one, with the stitches that each takes.
fn made(ops: &[Op], tell: &mut dyn FnMut(Made, usize)) {
    for op in ops {
        let (made, takes, times) = match op {
            Op::Knit(n) | Op::KnitToSnip(n) => (Made::Knit, 1, n.get()),
            Op::Purl(n) => (Made::Purl, 1, n.get()),
            Op::KnitThroughBackLoop(n) => (Made::Twisted, 1, n.get()),
            Op::Slip(n) | Op::SlipYarnInFront(n) => (Made::Slipped, 1, n.get()),
            Op::FoldJoin(n) => (Made::Folded, 1, n.get()),
            Op::PickUpCorner => (Made::PickedUp, 0, 1),
            Op::KnitCorner => (Made::Cornered, 1, 1),
            Op::Waste(n) => (Made::Waste, 1, n.get()),
            Op::Cross(cross) => (Made::Crossed, usize::from(cross.width()), 1),
            Op::KnitDouble(n) | Op::PurlDouble(n) => (Made::Double, 1, n.get()),
            Op::TurnDouble => (Made::TurnDouble, 1, 1),
            Op::YarnOver => (Made::Over, 0, 1),
            Op::MakeLeft => (Made::OneLeft, 0, 1),
            Op::MakeRight => (Made::OneRight, 0, 1),
            Op::K2tog => (Made::LeansRight, 2, 1),
            Op::Ssk => (Made::LeansLeft, 2, 1),
            Op::P2tog => (Made::PurlTogether, 2, 1),
            Op::Repeat(inner, n) => {
                for _ in 0..n.get() {
                    self::made(inner, tell);
                }
                continue;
            }
            Op::Next
            | Op::Place(_)
            | Op::Hang(..)
            | Op::SlipMarker(_)
            | Op::Remove(_)
            | Op::Turn
            | Op::WorkFlat(_) => continue,
            other => panic!("{other:?} in a round or row"),
        };
        for _ in 0..times {
            tell(made, takes);
        }
    }
}
