//! How wide patterned fabric is, compared with stockinette: measured on a second swatch, or allowed for by the
//! kinds of stitches in the motif.
//!
//! The allowances are common practice, no source: crossed stitches draw in by about a fifth, slipped
//! and twisted ones by a tenth and a twentieth, and each change between knit and purl columns takes a
//! fifth of a stitch, a rib no more than a tenth of its width (what it draws in beyond that it gives
//! back when it is worn).

use super::panel::Panel;
use crate::recipe::{Motif, MotifPlacement, Recipe};
use crate::stitch::Op;
use crate::units::scaled;

/// All of a width, in thousandths.
const WHOLE: u32 = 1000;
/// What crossed stitches draw in, in thousandths of their width; likewise the others.
const CROSSED: u32 = 200;
const SLIPPED: u32 = 100;
const TWISTED: u32 = 50;
/// What one change between a knit and a purl column draws in, in thousandths of a stitch.
const RIB_CHANGE: u32 = 200;
/// The most that a rib is allowed for.
const RIB_MOST: u32 = 100;

/// Widths beside stockinette of as many stitches, in thousandths.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) struct Fabric<'a> {
    /// Of patterned stitches.
    pattern: u32,
    /// The motif; none without one.
    motif: Option<&'a Motif>,
    /// What the motif is allowed for without having been measured, in percent; 0 for none.
    pub allowed: u8,
}

impl<'a> Fabric<'a> {
    /// What a recipe is knitted in.
    pub(in crate::plan) fn of(recipe: &'a Recipe) -> Self {
        let Some(motif) = &recipe.motif else {
            return Self {
                pattern: WHOLE,
                motif: None,
                allowed: 0,
            };
        };
        let swatch = &recipe.swatch;
        let (pattern, allowed) = if let Some(pattern) = swatch.pattern {
            let plain = u64::from(swatch.width.0) * u64::from(pattern.stitches);
            let patterned = u64::from(pattern.width.0) * u64::from(swatch.stitches);
            let share = scaled(patterned, WHOLE.into(), plain.max(1));
            (u32::try_from(share).unwrap_or(WHOLE), 0)
        } else {
            let drawn_in = drawn_in(motif);
            let percent = u8::try_from((drawn_in + 5) / 10).unwrap_or(0);
            (WHOLE - drawn_in, percent)
        };
        Self {
            pattern,
            motif: Some(motif),
            allowed,
        }
    }

    /// The share of the leg's tube of so many stitches.
    pub(in crate::plan) fn leg(self, around: u16) -> u32 {
        match self.motif {
            Some(motif) if motif.place == MotifPlacement::AllRound => self.pattern,
            _ => self.foot(around),
        }
    }

    /// The share of the foot's tube of so many stitches: its sole is plain.
    pub(in crate::plan) fn foot(self, around: u16) -> u32 {
        let Some(motif) = self.motif else {
            return WHOLE;
        };
        let panel = Panel::centred(around / 2, motif);
        let (patterned, around) = (u32::from(panel.patterned()), u32::from(around.max(1)));
        (self.pattern * patterned + WHOLE * (around - patterned) + around / 2) / around
    }

    /// Between the two: as much too tight on the leg as too wide on the foot.
    pub(in crate::plan) fn mean(self, around: u16) -> u32 {
        (self.leg(around) + self.foot(around)).div_ceil(2)
    }
}

/// What a motif draws in, in thousandths of its width.
fn drawn_in(motif: &Motif) -> u32 {
    let width = usize::from(motif.width());
    let columns: Vec<Column> = (0..width).map(|at| Column::of(motif, at)).collect();
    let of = |is: fn(&Column) -> bool| {
        u32::try_from(columns.iter().filter(|column| is(column)).count()).unwrap_or(0)
    };
    let stitches = u32::from(motif.width());
    let apart = of(|c| c.crossed) * CROSSED
        + of(|c| !c.crossed && c.slipped) * SLIPPED
        + of(|c| !c.crossed && !c.slipped && c.twisted) * TWISTED;
    // A rib's columns are knit, or purl, in every round.
    let after = columns.iter().cycle().skip(1);
    let changes = columns.iter().zip(after).filter(|(one, next)| {
        let plain = !one.crossed && !next.crossed;
        let change = (one.knit && !one.purl && next.purl && !next.knit)
            || (one.purl && !one.knit && next.knit && !next.purl);
        plain && change
    });
    let changes = u32::try_from(changes.count()).unwrap_or(0);
    let rib = (changes * RIB_CHANGE / stitches).min(RIB_MOST);
    apart / stitches + rib
}

/// What is worked in one column of a motif, over all of its rounds.
#[derive(Debug, Clone, Copy, Default)]
#[allow(clippy::struct_excessive_bools)] // each is seen or not
struct Column {
    knit: bool,
    purl: bool,
    crossed: bool,
    slipped: bool,
    twisted: bool,
}

impl Column {
    fn of(motif: &Motif, at: usize) -> Self {
        let mut column = Self::default();
        for row in &motif.rows {
            let mut end = 0;
            for op in row.ops() {
                let (takes, _) = op.chart_width().unwrap_or_default();
                let here = end..end + usize::from(takes);
                end = here.end;
                if !here.contains(&at) {
                    continue;
                }
                match op {
                    Op::Knit(_) | Op::K2tog | Op::Ssk => column.knit = true,
                    Op::Purl(_) => column.purl = true,
                    Op::Slip(_) => column.slipped = true,
                    Op::KnitThroughBackLoop(_) => (column.knit, column.twisted) = (true, true),
                    Op::Cross(_) => column.crossed = true,
                    _ => {}
                }
            }
        }
        column
    }
}
