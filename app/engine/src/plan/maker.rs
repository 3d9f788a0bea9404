//! The builder of a sock: writes steps and knits them as they are written, so that no section is begun
//! on needles that do not carry it.
//!
//! Used by the sections, which it does not know; their order is [`make`](super::make())'s.

use super::error::PlanBug;
use super::model::{Cue, Section, Step, StepForm, end_move};
use super::motif_and_stripes::MotifAndStripes;
use super::numbers::Numbers;
use super::section_kind::SectionKind;
use crate::knit::Refusal;
use crate::needles::Needles;
use crate::recipe::{Method, Recipe, Toe};
use crate::stitch::Op;

/// Writes steps and knits them at once.
pub(super) struct Maker<'a> {
    pub numbers: Numbers,
    pub recipe: &'a Recipe,
    pub needles: Needles,
    motif_and_stripes: MotifAndStripes<'a>,
    kind: SectionKind,
    /// What of the section at hand was worked before this plan was made.
    pub done: Done,
    kept: Kept<'a>,
    /// Rounds that the gusset has come to.
    pub gusset_rounds: u16,
    pub sections: Vec<Section>,
    steps: Vec<Step>,
    /// Most stitches on the needles at once.
    pub peak: u16,
}

/// Steps of an earlier plan that have been knitted already: they stay as they are.
#[derive(Default)]
pub(super) struct Kept<'a> {
    /// The earlier plan's sections that are not yet copied.
    pub sections: &'a [Section],
    /// How many of their steps stay.
    pub steps: usize,
    /// What they were knitted on.
    pub needles: Option<Method>,
    /// The motif's first round after them, from 0.
    pub motif_row: usize,
}

/// Rounds of one section that stay.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Done {
    /// Rounds, walks not counted.
    pub rounds: u16,
    /// How many of them were shaped.
    pub shapings: u16,
    /// Whether the last one was.
    pub ends_shaped: bool,
    /// Lines of a written pattern among them.
    pub lines: u16,
    /// Whether they were worked on the needles that are wanted: then nothing has to be moved.
    pub seated: bool,
}

impl<'a> Maker<'a> {
    pub(super) fn new(numbers: Numbers, recipe: &'a Recipe, kept: Kept<'a>) -> Self {
        let motif_and_stripes = MotifAndStripes::new(recipe, numbers.panel, kept.motif_row);
        Self {
            numbers,
            recipe,
            needles: Needles::new(),
            motif_and_stripes,
            kind: SectionKind::CastOn,
            done: Done::default(),
            kept,
            gusset_rounds: 0,
            sections: Vec::with_capacity(10),
            steps: Vec::new(),
            peak: 0,
        }
    }

    /// Writes a section, unless it is kept whole.
    ///
    /// # Errors
    /// The step that cannot be knitted.
    pub(super) fn section(
        &mut self,
        kind: SectionKind,
        write: impl FnOnce(&mut Self) -> Result<(), Refusal>,
    ) -> Result<(), PlanBug> {
        self.kind = kind;
        kind.rename(&mut self.needles);
        self.done = Done::default();
        let written = match self.keep() {
            Ok(true) => write(self),
            Ok(false) => Ok(()),
            Err(refusal) => Err(refusal),
        };
        self.end_section(kind, written)
    }

    /// Writes more of a section, or a new one: the pattern may come back to a part after something else.
    ///
    /// # Errors
    /// The step that cannot be knitted.
    pub(super) fn goes_on_with(
        &mut self,
        kind: SectionKind,
        write: impl FnOnce(&mut Self) -> Result<(), Refusal>,
    ) -> Result<(), PlanBug> {
        match self.sections.pop_if(|last| last.kind == kind) {
            Some(last) => {
                self.steps = last.steps;
                self.done = Done::default();
                let written = write(self);
                self.end_section(kind, written)
            }
            None => self.section(kind, write),
        }
    }

    /// Keeps what was written of a section, or says at which step it stopped.
    fn end_section(
        &mut self,
        kind: SectionKind,
        written: Result<(), Refusal>,
    ) -> Result<(), PlanBug> {
        written.map_err(|refusal| PlanBug {
            section: kind,
            // those before it have been added
            step: self.steps.len(),
            refusal,
        })?;
        let steps = std::mem::take(&mut self.steps);
        if kind == SectionKind::Gusset {
            let rounds = steps.iter().filter(|s| s.form == StepForm::Round).count();
            self.gusset_rounds = u16::try_from(rounds).unwrap_or(u16::MAX);
        }
        if !steps.is_empty() {
            self.sections.push(Section { kind, steps });
        }
        Ok(())
    }

    /// Copies what stays of the section at hand. Tells whether there is more of it to write.
    fn keep(&mut self) -> Result<bool, Refusal> {
        if self.kept.steps == 0 {
            return Ok(true);
        }
        let [section, rest @ ..] = self.kept.sections else {
            return Err(Refusal::NotAsBefore);
        };
        if section.kind != self.kind {
            // the earlier plan had nothing to do here
            return Ok(false);
        }
        self.kept.sections = rest;
        let here = self.kept.steps.min(section.steps.len());
        self.kept.steps -= here;
        for step in &section.steps[..here] {
            self.motif_and_stripes
                .follow(self.kind, self.needles.yarn(), step);
            self.add(step.clone())?;
            self.done.lines += lines_of_pattern(step);
            if step.form == StepForm::Round {
                self.done.rounds += 1;
                self.done.seated = self.kept.needles == Some(self.recipe.needles);
                self.done.ends_shaped = step.moves.iter().any(|m| m.cue == Cue::Shape);
                self.done.shapings += u16::from(self.done.ends_shaped);
            }
        }
        Ok(self.kept.steps == 0 && goes_on(self.kind, self.recipe))
    }

    /// The needles on which the kept steps were knitted, told once.
    pub(super) const fn takes_over_from(&mut self) -> Option<Method> {
        self.kept.needles.take()
    }

    /// Adds a step, with its motif and yarn, and knits it.
    pub(super) fn step(&mut self, step: Step) -> Result<(), Refusal> {
        let step = self
            .motif_and_stripes
            .apply(self.kind, &self.needles, step)?;
        self.add(step)
    }

    /// Writes what may be refused; then nothing of it stays.
    ///
    /// # Errors
    /// What the needles refuse.
    pub(super) fn attempt(
        &mut self,
        write: impl FnOnce(&mut Self) -> Result<(), Refusal>,
    ) -> Result<(), Refusal> {
        let (needles, steps, peak) = (self.needles.clone(), self.steps.len(), self.peak);
        let motif_and_stripes = self.motif_and_stripes.clone();
        write(self).inspect_err(|_| {
            self.needles = needles;
            self.steps.truncate(steps);
            self.peak = peak;
            self.motif_and_stripes = motif_and_stripes;
        })
    }

    fn add(&mut self, step: Step) -> Result<(), Refusal> {
        let moves = step.moves.len();
        for (i, mv) in step.moves.iter().enumerate() {
            self.needles.apply_all(&mv.ops)?;
            end_move(&mut self.needles, step.form, i + 1 == moves)?;
        }
        self.peak = self.peak.max(self.needles.stitches());
        self.steps.push(step);
        Ok(())
    }
}

/// Lines of a written pattern that a step works.
fn lines_of_pattern(step: &Step) -> u16 {
    let ops = step.moves.iter().flat_map(|m| &m.ops);
    let lines = ops.filter(|op| matches!(op, Op::PatternLine(_))).count();
    u16::try_from(lines).unwrap_or(u16::MAX)
}

/// Whether a section that was begun can go on differently after any of its rounds. The others are
/// finished as they were begun.
pub(super) fn goes_on(kind: SectionKind, recipe: &Recipe) -> bool {
    match kind {
        SectionKind::Cuff | SectionKind::Leg | SectionKind::Gusset | SectionKind::Foot => true,
        SectionKind::Toe => recipe.toe != Toe::ShortRow,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::decide::decide;
    use crate::plan::sections::cast_on;
    use crate::stitch::{Marker, Op};

    fn maker(recipe: &Recipe) -> Maker<'_> {
        let numbers = decide(recipe, None).expect("a sock");
        Maker::new(numbers, recipe, Kept::default())
    }

    #[test]
    fn a_step_that_cannot_be_knitted_is_a_bug_with_its_section_and_place() {
        let recipe = Recipe::default();
        let mut maker = maker(&recipe);
        maker
            .section(SectionKind::CastOn, cast_on::at_the_cuff)
            .expect("an edge");
        let bug = maker.section(SectionKind::Cuff, |m| {
            let round = crate::plan::rounds::plain_round(&m.needles);
            m.step(Step::round(Cue::Plain, round.clone()))?;
            m.step(Step::round(Cue::Plain, round))?;
            m.step(Step::round(Cue::Plain, vec![Op::SlipMarker(Marker::Left)]))
        });
        assert_eq!(
            bug,
            Err(PlanBug {
                section: SectionKind::Cuff,
                step: 2,
                refusal: Refusal::NoSuchMarker(Marker::Left),
            })
        );
    }

    #[test]
    fn steps_that_belong_to_no_section_are_a_bug() {
        let recipe = Recipe::default();
        let numbers = decide(&recipe, None).expect("a sock");
        let kept = Kept {
            steps: 1,
            ..Kept::default()
        };
        let mut maker = Maker::new(numbers, &recipe, kept);
        let bug = maker.section(SectionKind::CastOn, cast_on::at_the_cuff);
        assert_eq!(bug.map_err(|bug| bug.refusal), Err(Refusal::NotAsBefore));
    }
}
