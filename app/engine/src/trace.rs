//! A plan knitted through by the simulator: what is on which needle before and after every move.
//! Everything a screen shows as a number is read from here.
//!
//! Pure. May use plan and simulator; must not know logs or words.

use std::ops::Range;

use crate::needles::Needles;
use crate::plan::{Move, Plan, Section, SectionKind, Step, StepForm, Unknittable, end_move};
use crate::sort::sort;
use crate::stitch::{Op, Yarn};

/// A place in a plan: the next move to be done. `step` runs over all steps of all sections; one
/// past the last step means the sock is finished.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Position {
    /// Step, from 0.
    pub step: usize,
    /// Move within the step, from 0. Always 0 for rounds and rows.
    pub mv: usize,
}

/// The part of a move that is worked on one needle.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pass {
    /// Which needle, from 0, as the needles lie when the pass is done.
    pub needle: usize,
    /// The move's operations that belong to it.
    pub ops: Range<usize>,
    /// The needles when it begins.
    pub before: Needles,
    /// Stitches on this needle when the pass is done.
    pub count_after: u16,
}

/// One move, knitted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MoveTrace {
    /// Needle by needle.
    pub passes: Vec<Pass>,
    /// The needles when it is done.
    pub after: Needles,
}

/// One step, knitted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepTrace {
    /// Index of its section in the plan.
    pub section: usize,
    /// Which part of the sock.
    pub kind: SectionKind,
    /// Its index in the section, from 0.
    pub index: usize,
    /// How many steps the section has.
    pub of: usize,
    /// The needles when it begins.
    pub before: Needles,
    /// Its moves.
    pub moves: Vec<MoveTrace>,
}

impl StepTrace {
    /// The needles when the step is done.
    pub fn after(&self) -> &Needles {
        self.moves.last().map_or(&self.before, |m| &m.after)
    }
}

/// A plan with everything the simulator saw.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trace {
    /// All steps, in order.
    pub steps: Vec<StepTrace>,
}

impl Trace {
    /// Knits a plan through.
    ///
    /// # Errors
    /// The first move the needles refuse.
    pub fn of(plan: &Plan) -> Result<Self, Unknittable> {
        let mut steps = Vec::with_capacity(plan.sections.iter().map(|s| s.steps.len()).sum());
        let mut needles = Needles::new();
        for (s, section) in plan.sections.iter().enumerate() {
            section.kind.rename(&mut needles);
            for (i, step) in section.steps.iter().enumerate() {
                let before = needles.clone();
                let mut moves = Vec::with_capacity(step.moves.len());
                for (m, mv) in step.moves.iter().enumerate() {
                    let refuse = |why| Unknittable {
                        kind: section.kind,
                        section: s,
                        step: i,
                        mv: m,
                        why,
                    };
                    let passes = passes(&mut needles, &mv.ops).map_err(refuse)?;
                    end_move(&mut needles, step.form, m + 1 == step.moves.len()).map_err(refuse)?;
                    moves.push(MoveTrace {
                        passes,
                        after: needles.clone(),
                    });
                }
                let of = section.steps.len();
                steps.push(StepTrace {
                    section: s,
                    kind: section.kind,
                    index: i,
                    of,
                    before,
                    moves,
                });
            }
        }
        Ok(Self { steps })
    }

    /// The position after `at`: the next move, or the first move of the next step.
    pub fn advance(&self, at: Position) -> Position {
        match self.steps.get(at.step) {
            Some(step) if at.mv + 1 < step.moves.len() => Position {
                step: at.step,
                mv: at.mv + 1,
            },
            Some(_) => Position {
                step: at.step + 1,
                mv: 0,
            },
            None => self.end(),
        }
    }

    /// The position of a finished sock.
    pub fn end(&self) -> Position {
        Position {
            step: self.steps.len(),
            mv: 0,
        }
    }

    /// Whether there is a move at that position, or it is the end.
    pub fn contains(&self, at: Position) -> bool {
        at == self.end()
            || self
                .steps
                .get(at.step)
                .is_some_and(|s| at.mv < s.moves.len())
    }

    /// The needles before the move at a position is begun; `None` past the end.
    pub fn needles_at(&self, at: Position) -> Option<&Needles> {
        let step = self.steps.get(at.step)?;
        match at.mv.checked_sub(1) {
            None => Some(&step.before),
            Some(done) => step.moves.get(done).map(|m| &m.after),
        }
    }

    /// Where nothing is on the needles, the first loops that the step at hand brings onto them; `None` where stitches
    /// are on them, and where none come.
    pub fn to_come(&self, at: Position) -> Option<&Needles> {
        if self.needles_at(at)?.stitches() > 0 {
            return None;
        }
        let moves = self.steps.get(at.step)?.moves.get(at.mv..)?;
        let mut after = moves.iter().map(|done| &done.after);
        after.find(|needles| needles.stitches() > 0)
    }

    /// The place in this plan that a place in another one is: the same move of the same round of the
    /// same part. Two socks of a pair may have been planned differently on the way.
    pub fn counterpart(&self, other: &Self, at: Position) -> Option<Position> {
        let there = other.steps.get(at.step)?;
        let here = |step: &StepTrace| step.kind == there.kind && step.index == there.index;
        // Mostly it is the same step.
        let same = self.steps.get(at.step).filter(|s| here(s)).map(|_| at.step);
        let step = same.or_else(|| self.steps.iter().position(here))?;
        let place = Position { step, mv: at.mv };
        self.contains(place).then_some(place)
    }

    /// The yarns that a section is knitted with, in order.
    pub fn yarns_of(&self, section: usize) -> Vec<Yarn> {
        let steps = self.steps.iter().filter(|s| s.section == section);
        let moves = steps.flat_map(|s| &s.moves);
        let mut yarns: Vec<Yarn> = moves.map(|m| m.after.yarn()).collect();
        sort(&mut yarns, |a, b| a < b);
        yarns.dedup();
        yarns
    }

    /// Steps that lie before `at`, and all steps.
    pub fn progress(&self, at: Position) -> (usize, usize) {
        (at.step.min(self.steps.len()), self.steps.len())
    }
}

impl Plan {
    /// The step at an index over all sections.
    pub fn step(&self, mut index: usize) -> Option<&Step> {
        for section in &self.sections {
            match section.steps.get(index) {
                Some(step) => return Some(step),
                None => index -= section.steps.len(),
            }
        }
        None
    }

    /// The move at a position.
    pub fn move_at(&self, at: Position) -> Option<(&Step, &Move)> {
        let step = self.step(at.step)?;
        Some((step, step.moves.get(at.mv)?))
    }
}

/// What one touch counts in a section.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProgressUnit {
    /// Rounds.
    Rounds,
    /// Rows, back and forth.
    Rows,
    /// Single moves of a section that is walked from end to end.
    Moves,
}

/// How far one section is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SectionProgress {
    /// Which section.
    pub kind: SectionKind,
    /// Its first step, over all sections.
    pub first: usize,
    /// What is counted in it; a walk between rounds is not.
    pub counted: ProgressUnit,
    /// How many of them are done.
    pub done: usize,
    /// How many there are.
    pub of: usize,
}

impl Plan {
    /// How far every section is when `at` is the next move to do.
    pub fn section_progress(&self, at: Position) -> Vec<SectionProgress> {
        let mut first = 0;
        self.sections
            .iter()
            .map(|section| {
                let progress = section_progress(section, first, at);
                first += section.steps.len();
                progress
            })
            .collect()
    }
}

fn section_progress(section: &Section, first: usize, at: Position) -> SectionProgress {
    let has = |wanted: fn(StepForm) -> bool| section.steps.iter().any(|s| wanted(s.form));
    let counted = if has(|f| matches!(f, StepForm::Row(_))) {
        ProgressUnit::Rows
    } else if has(|f| f == StepForm::Round) {
        ProgressUnit::Rounds
    } else {
        ProgressUnit::Moves
    };
    let (mut done, mut of) = (0, 0);
    for (i, step) in section.steps.iter().enumerate() {
        let parts = match (counted, step.form) {
            (ProgressUnit::Moves, _) => step.moves.len(),
            (_, StepForm::Walk) => 0,
            _ => 1,
        };
        of += parts;
        done += match (first + i).cmp(&at.step) {
            std::cmp::Ordering::Less => parts,
            std::cmp::Ordering::Equal => at.mv.min(parts),
            std::cmp::Ordering::Greater => 0,
        };
    }
    SectionProgress {
        kind: section.kind,
        first,
        counted,
        done,
        of,
    }
}

/// Applies a move's operations and tells them apart by needle.
fn passes(needles: &mut Needles, ops: &[Op]) -> Result<Vec<Pass>, crate::knit::Refusal> {
    let mut out = Vec::with_capacity(4);
    let mut start = 0;
    let mut before = needles.clone();
    for (i, op) in ops.iter().enumerate() {
        needles.apply(op)?;
        let done = *op == Op::Next;
        let last = i + 1 == ops.len();
        if done || last {
            let at = needles.needle_at_tip();
            let needle = if done { at.saturating_sub(1) } else { at };
            let counts = needles.per_needle();
            out.push(Pass {
                needle,
                ops: start..i + 1,
                before: std::mem::replace(&mut before, needles.clone()),
                count_after: counts.get(needle).or(counts.last()).copied().unwrap_or(0),
            });
            start = i + 1;
        }
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::make;
    use crate::recipe::Recipe;

    #[test]
    fn a_place_has_its_counterpart_in_a_longer_sock() {
        let knit = |leg| {
            let plan = make(&Recipe {
                leg: crate::units::Length::cm(leg),
                ..Recipe::default()
            });
            Trace::of(&plan.expect("a sock")).expect("it can be knitted")
        };
        let (short, long) = (knit(10), knit(14));
        for (step, seen) in short.steps.iter().enumerate() {
            let at = Position { step, mv: 0 };
            let there = long.counterpart(&short, at).expect("the longer one has it");
            let found = &long.steps[there.step];
            assert_eq!((found.kind, found.index), (seen.kind, seen.index));
            assert_eq!(short.counterpart(&short, at), Some(at));
        }
        let last_of_leg = long
            .steps
            .iter()
            .rposition(|s| s.kind == SectionKind::Leg)
            .expect("it has a leg");
        let at = Position {
            step: last_of_leg,
            mv: 0,
        };
        assert_eq!(short.counterpart(&long, at), None);
    }

    #[test]
    fn progress_grows_by_what_a_touch_counts() {
        let plan = make(&Recipe::default()).expect("the default recipe");
        let trace = Trace::of(&plan).expect("made plans can be knitted");
        let mut at = Position::default();
        let sum = |at| -> usize { plan.section_progress(at).iter().map(|p| p.done).sum() };
        assert_eq!(sum(at), 0);
        while at != trace.end() {
            let next = trace.advance(at);
            let (step, _) = plan.move_at(at).expect("before the end");
            let kind = trace.steps[at.step].kind;
            let here = plan.section_progress(at);
            let here = here.iter().find(|p| p.kind == kind).expect("its section");
            let counts = here.counted == ProgressUnit::Moves || step.form != StepForm::Walk;
            assert_eq!(sum(next), sum(at) + usize::from(counts), "{kind:?} {at:?}");
            at = next;
        }
        assert!(plan.section_progress(at).iter().all(|p| p.done == p.of));
    }
}
