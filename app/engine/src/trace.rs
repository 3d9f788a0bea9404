//! A plan knitted through by the simulator: what is on which needle before and after every move.
//! Everything a screen shows as a number is read from here.

use std::ops::Range;

use crate::needles::Needles;
use crate::plan::{Form, Move, Plan, SectionKind, Step, Unknittable, end_move};
use crate::stitch::Op;

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

    /// How many steps have a form that is wanted.
    pub fn steps_of(&self, wanted: impl Fn(Form) -> bool) -> usize {
        self.sections
            .iter()
            .flat_map(|s| &s.steps)
            .filter(|s| wanted(s.form))
            .count()
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
