//! Recipe to plan: the numbers are decided, then every section is written and knitted as it is
//! written, so that no section is begun on needles that do not carry it.

use super::dress::Dresser;
use super::numbers::{HeelNumbers, Numbers, decide};
use super::outcome::outcome;
use super::{Plan, Section, SectionKind, Step, end_move};
use super::{
    bind_off, cast_on, close, cuff, flap, foot, gusset, late_heel, leg, pick_up, short_heel, toe,
    toe_up_heel, turn,
};
use crate::error::FieldError;
use crate::knit::Refusal;
use crate::needles::Needles;
use crate::recipe::{Direction, Heel, Recipe};

/// Makes the whole sock.
///
/// # Errors
/// Every field that is out of range, or, when each is in range by itself, the field that makes such
/// a sock impossible, with what would help.
pub fn make(recipe: &Recipe) -> Result<Plan, Vec<FieldError>> {
    recipe.check()?;
    let numbers = decide(recipe).map_err(|e| vec![e])?;
    let mut maker = Maker::new(numbers.clone(), recipe);
    write_sock(&mut maker, recipe).map_err(|why| {
        vec![FieldError::new(
            "recipe",
            format!("This combination cannot be knitted: {why}."),
            "Please try another heel or needle choice.",
        )]
    })?;
    let outcome = outcome(recipe, &numbers, &maker.sections, maker.peak);
    Ok(Plan {
        recipe: recipe.clone(),
        outcome,
        sections: maker.sections,
    })
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
    m.section(SectionKind::Cuff, cuff::down)?;
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
    m.section(SectionKind::Cuff, cuff::up)?;
    m.section(SectionKind::BindOff, bind_off::write)
}

/// Writes steps and knits them at once.
pub(super) struct Maker<'a> {
    pub numbers: Numbers,
    pub recipe: &'a Recipe,
    pub needles: Needles,
    dresser: Dresser<'a>,
    kind: SectionKind,
    sections: Vec<Section>,
    steps: Vec<Step>,
    peak: u16,
}

impl<'a> Maker<'a> {
    fn new(numbers: Numbers, recipe: &'a Recipe) -> Self {
        let dresser = Dresser::new(recipe, numbers.panel);
        Self {
            numbers,
            recipe,
            needles: Needles::new(),
            dresser,
            kind: SectionKind::CastOn,
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
        write(self)?;
        let steps = std::mem::take(&mut self.steps);
        if !steps.is_empty() {
            self.sections.push(Section { kind, steps });
        }
        Ok(())
    }

    /// Adds a step, with its motif and yarn, and knits it.
    pub(super) fn step(&mut self, step: Step) -> Result<(), Refusal> {
        let step = self.dresser.dress(self.kind, &self.needles, step)?;
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
