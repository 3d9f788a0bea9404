//! Recipe to plan: the numbers are decided, then every section is written and knitted as it is
//! written, so that no section is begun on needles that do not carry it.

use super::outcome::outcome;
use super::{Plan, Section, SectionKind, Step, end_move};
use super::{cast_on, close, cuff, flap, foot, gusset, leg, pick_up, toe, turn};
use crate::error::FieldError;
use crate::knit::Refusal;
use crate::needles::Needles;
use crate::recipe::{Heel, Recipe, STITCHES, Turn};
use crate::units::{Length, scaled};

/// The numbers of one sock, decided before its first stitch. Stitches, rows and rounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Numbers {
    /// Stitches around; a multiple of 4.
    pub around: u16,
    /// Rounds of the finished cuff's height; a folded hem is knitted in more.
    pub cuff: u16,
    /// Plain rounds of the leg.
    pub leg: u16,
    /// Stitches of the heel: half of those around.
    pub heel: u16,
    /// How the heel is turned.
    pub turn: Turn,
    /// Rows of the flap; even.
    pub flap: u16,
    /// Whether the corners are picked up too.
    pub corners: bool,
    /// Decrease rounds of the gusset.
    pub gusset_shapings: u16,
    /// Whether the gusset narrows in every round instead of every second.
    pub gusset_every_round: bool,
    /// Plain rounds of the foot.
    pub foot: u16,
    /// Live stitches when the toe ends, all needles together.
    pub toe_left: u16,
}

/// Makes the whole sock.
///
/// # Errors
/// Every field that is out of range, or, when each is in range by itself, the field that makes such
/// a sock impossible, with what would help.
pub fn make(recipe: &Recipe) -> Result<Plan, Vec<FieldError>> {
    recipe.check()?;
    let numbers = decide(recipe).map_err(|e| vec![e])?;
    let mut maker = Maker::new(numbers, recipe);
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

fn write_sock(maker: &mut Maker, recipe: &Recipe) -> Result<(), Refusal> {
    maker.section(SectionKind::CastOn, cast_on::write)?;
    maker.section(SectionKind::Cuff, cuff::write)?;
    maker.section(SectionKind::Leg, leg::write)?;
    let Heel::FlapAndGusset { texture, turn, .. } = recipe.heel;
    maker.section(SectionKind::HeelFlap, |m| flap::write(m, texture, turn))?;
    maker.section(SectionKind::HeelTurn, |m| turn::write(m, turn))?;
    maker.section(SectionKind::PickUp, pick_up::write)?;
    maker.section(SectionKind::Gusset, gusset::write)?;
    maker.section(SectionKind::Foot, foot::write)?;
    maker.section(SectionKind::Toe, |m| toe::write(m, recipe.toe))?;
    maker.section(SectionKind::Close, |m| close::write(m, recipe.toe))
}

/// Writes steps and knits them at once.
pub(super) struct Maker<'a> {
    pub numbers: Numbers,
    pub recipe: &'a Recipe,
    pub needles: Needles,
    sections: Vec<Section>,
    steps: Vec<Step>,
    peak: u16,
}

impl<'a> Maker<'a> {
    fn new(numbers: Numbers, recipe: &'a Recipe) -> Self {
        Self {
            numbers,
            recipe,
            needles: Needles::new(),
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
        kind.rename(&mut self.needles);
        write(self)?;
        let steps = std::mem::take(&mut self.steps);
        if !steps.is_empty() {
            self.sections.push(Section { kind, steps });
        }
        Ok(())
    }

    /// Adds a step and knits it.
    pub(super) fn step(&mut self, step: Step) -> Result<(), Refusal> {
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

fn decide(recipe: &Recipe) -> Result<Numbers, FieldError> {
    let around = stitches_around(recipe)?;
    let heel = around / 2;
    let Heel::FlapAndGusset {
        turn,
        rows,
        corners,
        ..
    } = recipe.heel;
    let flap = rows.unwrap_or(heel);
    let turned = turn::turned_count(heel, turn);
    let picked_up = 2 * (flap / 2 + u16::from(corners));
    let Some(extra) = (turned + picked_up).checked_sub(heel) else {
        let least = (heel - turned).next_multiple_of(2);
        return Err(FieldError::new(
            "heel.rows",
            format!(
                "A flap of {flap} rows gives too few stitches along its edges to get back to {around} around."
            ),
            format!("This heel needs {least} rows or more; {heel} make it square."),
        ));
    };
    let toe = toe::rounds(around, recipe.toe);
    let sock_foot = recipe.foot.length.less(recipe.fit.length_ease);
    let whole_foot = to_u16(recipe.swatch.rounds_in(sock_foot));
    let gusset_shapings = extra / 2;
    // The turn lies under the heel: its rows are the first of the foot's length (from memory).
    let fixed = turn::rows(heel, turn) + pick_up::rounds(recipe.needles) + toe;
    let (gusset_every_round, gusset) = if fixed + 2 * gusset_shapings <= whole_foot {
        (false, 2 * gusset_shapings)
    } else {
        (true, gusset_shapings)
    };
    let Some(foot) = whole_foot.checked_sub(fixed + gusset) else {
        let shortest = recipe.swatch.height_of(fixed + gusset);
        let needed = Length(shortest.0 + recipe.fit.length_ease.0);
        return Err(FieldError::new(
            "foot.length",
            format!(
                "Heel, gusset and toe of this sock take {} rounds ({shortest}); the foot has room for {whole_foot} ({sock_foot}).",
                fixed + gusset
            ),
            format!(
                "A foot of {needed} or more, a shorter heel flap, a finer gauge or fewer stitches around would make it fit."
            ),
        ));
    };
    let cuff = to_u16(recipe.swatch.rounds_in(recipe.cuff.length)).max(1);
    let leg = to_u16(recipe.swatch.rounds_in(recipe.leg)).saturating_sub(cuff);
    Ok(Numbers {
        around,
        cuff,
        leg,
        heel,
        turn,
        flap,
        corners,
        gusset_shapings,
        gusset_every_round,
        foot,
        toe_left: toe::left(around, recipe.toe),
    })
}

/// Circumference less its ease, at the swatch's gauge, to the nearest multiple of 4 (rounded once):
/// heel and toe halve it twice, and every cuff fits into it.
fn stitches_around(recipe: &Recipe) -> Result<u16, FieldError> {
    if let Some(n) = recipe.stitches {
        return Ok(n);
    }
    let swatch = &recipe.swatch;
    let share = u64::from(100 - recipe.fit.ease_percent) * u64::from(swatch.stitches);
    let width = u64::from(swatch.width.0) * 100;
    let ball = u64::from(recipe.foot.round_ball().0);
    let exact = scaled(ball, share, width);
    let around = to_u16(4 * scaled(ball, share, 4 * width));
    if STITCHES.contains(&around) {
        return Ok(around);
    }
    let help = if around < *STITCHES.start() {
        "A finer gauge (thinner yarn, smaller needles), less ease or a wider foot gives more."
    } else {
        "A coarser gauge (thicker yarn, larger needles), more ease or a narrower foot gives fewer."
    };
    Err(FieldError::new(
        "stitches",
        format!(
            "This foot at this gauge comes to {exact} stitches around; a sock here has {} to {}.",
            STITCHES.start(),
            STITCHES.end()
        ),
        help,
    ))
}

fn to_u16(n: u64) -> u16 {
    u16::try_from(n).unwrap_or(u16::MAX)
}
