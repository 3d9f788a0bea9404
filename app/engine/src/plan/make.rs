//! Recipe to plan: the numbers are decided, then every section is written and knitted as it is
//! written, so that no section is begun on needles that do not carry it.

use super::dress::Dresser;
use super::numbers::{HeelNumbers, Numbers, decide};
use super::outcome::outcome;
use super::{Cue, Form, Plan, Section, SectionKind, Step, end_move};
use super::{
    bind_off, cast_on, close, cuff, flap, foot, gusset, late_heel, leg, pick_up, short_heel, toe,
    toe_up_heel, turn,
};
use crate::error::{FieldError, Problem};
use crate::knit::Refusal;
use crate::needles::Needles;
use crate::recipe::{Direction, Heel, Method, Recipe, Toe};

/// Makes the whole sock.
///
/// # Errors
/// Every field that is out of range, or, when each is in range by itself, the field that makes such
/// a sock impossible, with what would help.
pub fn make(recipe: &Recipe) -> Result<Plan, Vec<FieldError>> {
    recipe.check()?;
    let numbers = decide(recipe, &recipe.calf).map_err(|e| vec![e])?;
    write(recipe, numbers, Kept::default())
}

/// Writes every section that is not kept, and knits all of them.
pub(super) fn write(
    recipe: &Recipe,
    numbers: Numbers,
    kept: Kept<'_>,
) -> Result<Plan, Vec<FieldError>> {
    let mut maker = Maker::new(numbers, recipe, kept);
    write_sock(&mut maker, recipe).map_err(|why| vec![cannot(why)])?;
    maker.count_what_came();
    let outcome = outcome(recipe, &maker.numbers, &maker.sections, maker.peak);
    Ok(Plan {
        recipe: recipe.clone(),
        outcome,
        sections: maker.sections,
    })
}

fn cannot(why: Refusal) -> FieldError {
    match why {
        Refusal::RoundsMissing => FieldError::new("leg", Problem::LegRoundsMissing),
        _ => FieldError::new("recipe", Problem::NotKnittable(why)),
    }
}

fn write_sock(m: &mut Maker, recipe: &Recipe) -> Result<(), Refusal> {
    match recipe.direction {
        Direction::CuffDown => cuff_down(m, recipe),
        Direction::ToeUp => toe_up(m, recipe),
    }?;
    if m.numbers.shape == HeelNumbers::Late {
        m.section(SectionKind::LateHeel, late_heel::write)?;
        m.section(SectionKind::LateClose, close::graft)?;
    }
    Ok(())
}

fn cuff_down(m: &mut Maker, recipe: &Recipe) -> Result<(), Refusal> {
    m.section(SectionKind::CastOn, cast_on::at_the_cuff)?;
    m.section(SectionKind::Cuff, cuff::write)?;
    m.section(SectionKind::Leg, leg::write)?;
    match (m.numbers.shape, recipe.heel) {
        (HeelNumbers::Flap(numbers), Heel::FlapAndGusset { texture, .. }) => {
            m.section(SectionKind::HeelFlap, |m| flap::write(m, texture, numbers))?;
            m.section(SectionKind::HeelTurn, |m| turn::write(m, numbers.turn))?;
            m.section(SectionKind::PickUp, |m| pick_up::write(m, numbers))?;
            m.section(SectionKind::Gusset, |m| gusset::decrease(m, numbers.gusset))?;
        }
        (HeelNumbers::ShortRow { rows, between }, _) => {
            m.section(SectionKind::ShortHeel, |m| {
                short_heel::write(m, rows, between)
            })?;
        }
        _ => m.section(SectionKind::HeelPlace, late_heel::keep_place)?,
    }
    m.section(SectionKind::Foot, foot::write)?;
    m.section(SectionKind::Toe, |m| toe::decrease(m, recipe.toe))?;
    m.section(SectionKind::Close, |m| close::write(m, recipe.toe))
}

fn toe_up(m: &mut Maker, recipe: &Recipe) -> Result<(), Refusal> {
    m.section(SectionKind::CastOn, cast_on::at_the_toe)?;
    m.section(SectionKind::Toe, |m| toe::increase(m, recipe.toe))?;
    m.section(SectionKind::Foot, foot::write)?;
    match (m.numbers.shape, recipe.heel) {
        (HeelNumbers::ToeUpFlap(numbers), Heel::FlapAndGusset { texture, .. }) => {
            m.section(SectionKind::Gusset, |m| gusset::increase(m, numbers.gusset))?;
            m.section(SectionKind::HeelTurn, |m| toe_up_heel::turn(m, numbers))?;
            m.section(SectionKind::HeelFlap, |m| {
                toe_up_heel::flap(m, texture, numbers)
            })?;
        }
        (HeelNumbers::ShortRow { rows, between }, _) => {
            m.section(SectionKind::ShortHeel, |m| {
                short_heel::write(m, rows, between)
            })?;
        }
        _ => m.section(SectionKind::HeelPlace, late_heel::keep_place)?,
    }
    m.section(SectionKind::Leg, leg::write)?;
    m.section(SectionKind::Cuff, cuff::write)?;
    m.section(SectionKind::BindOff, bind_off::write)
}

/// Writes steps and knits them at once.
pub(super) struct Maker<'a> {
    pub numbers: Numbers,
    pub recipe: &'a Recipe,
    pub needles: Needles,
    dresser: Dresser<'a>,
    kind: SectionKind,
    /// What of the section at hand was worked before this plan was made.
    pub done: Done,
    kept: Kept<'a>,
    /// Rounds that the gusset has come to.
    pub gusset_rounds: u16,
    sections: Vec<Section>,
    steps: Vec<Step>,
    peak: u16,
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
    /// Whether they were worked on the needles that are wanted: then nothing has to be moved.
    pub seated: bool,
}

impl<'a> Maker<'a> {
    fn new(numbers: Numbers, recipe: &'a Recipe, kept: Kept<'a>) -> Self {
        let dresser = Dresser::new(recipe, numbers.panel);
        Self {
            numbers,
            recipe,
            needles: Needles::new(),
            dresser,
            kind: SectionKind::CastOn,
            done: Done::default(),
            kept,
            gusset_rounds: 0,
            sections: Vec::with_capacity(10),
            steps: Vec::new(),
            peak: 0,
        }
    }

    fn section(
        &mut self,
        kind: SectionKind,
        write: impl FnOnce(&mut Self) -> Result<(), Refusal>,
    ) -> Result<(), Refusal> {
        self.kind = kind;
        kind.rename(&mut self.needles);
        self.done = Done::default();
        if self.keep()? {
            write(self)?;
        }
        let steps = std::mem::take(&mut self.steps);
        if kind == SectionKind::Gusset {
            let rounds = steps.iter().filter(|s| s.form == Form::Round).count();
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
            self.dresser.follow(self.kind, step);
            self.add(step.clone())?;
            if step.form == Form::Round {
                self.done.rounds += 1;
                self.done.seated = self.kept.needles == Some(self.recipe.needles);
                self.done.ends_shaped = step.moves.iter().any(|m| m.cue == Cue::Shape);
                self.done.shapings += u16::from(self.done.ends_shaped);
            }
        }
        Ok(self.kept.steps == 0 && goes_on(self.kind, self.recipe))
    }

    /// A sock that was planned anew may have other rounds than its numbers want: what was knitted
    /// already counts as it is.
    fn count_what_came(&mut self) {
        let rounds = |kind| {
            let section = self.sections.iter().find(|s: &&Section| s.kind == kind);
            section.map_or(0, |s| u16::try_from(s.counted()).unwrap_or(u16::MAX))
        };
        let came = rounds(SectionKind::Gusset) + rounds(SectionKind::Foot);
        let planned = self.numbers.foot_and_gusset();
        self.numbers.whole_foot = (self.numbers.whole_foot + came).saturating_sub(planned);
        self.numbers.leg = rounds(SectionKind::Leg);
        self.numbers.cuff = cuff::height(self.recipe, rounds(SectionKind::Cuff));
    }

    /// Adds a step, with its motif and yarn, and knits it.
    pub(super) fn step(&mut self, step: Step) -> Result<(), Refusal> {
        let step = self.dresser.dress(self.kind, &self.needles, step)?;
        self.add(step)
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

/// Whether a section that was begun can go on differently after any of its rounds. The others are
/// finished as they were begun.
pub(super) fn goes_on(kind: SectionKind, recipe: &Recipe) -> bool {
    match kind {
        SectionKind::Cuff | SectionKind::Leg | SectionKind::Gusset | SectionKind::Foot => true,
        SectionKind::Toe => recipe.toe != Toe::ShortRow,
        _ => false,
    }
}
