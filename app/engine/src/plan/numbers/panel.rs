//! Where a motif lies on one half of the sock, and where a needle may end without cutting it.

use crate::error::{FieldError, Problem};
use crate::plan::model::Plan;
use crate::recipe::{Method, Motif, MotifPlacement, Recipe, Seating};

impl Plan {
    /// Stitches of a panel on the front with those that balance and edge it; `None` without one.
    pub(crate) fn panel_stitches(&self) -> Option<u16> {
        let motif = self.recipe.motif.as_ref()?;
        let panel = Panel::centred(self.outcome.stitches / 2, motif);
        (motif.place == MotifPlacement::Front).then(|| panel.patterned() + 2 * panel.edge)
    }
}

/// Repeats side by side on a half of the sock, its balancing and edge stitches, and the plain stitches
/// before and after them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) struct Panel {
    /// Stitches of the half.
    half: u16,
    /// Plain stitches before all of them.
    margin: u16,
    /// Edge stitches on each side.
    edge: u16,
    /// Stitches of a repeat.
    width: u16,
    /// Repeats.
    repeats: u16,
    /// Balancing stitches after the last repeat.
    balance: u16,
}

/// A kind of stitches on a half that carries a motif.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) enum PanelPiece {
    /// Plain knitting.
    Plain,
    /// Edge stitches.
    Edge,
    /// Whole repeats.
    Repeats,
    /// Balancing stitches.
    Balance,
}

impl Panel {
    /// As many repeats as fit, in the middle.
    pub(in crate::plan) fn centred(half: u16, motif: &Motif) -> Self {
        let (width, balance, edge) = (motif.width(), motif.balancing(), motif.edging());
        let beside = balance + 2 * edge;
        let repeats = half.saturating_sub(beside) / width;
        // Without a repeat there is nothing to balance.
        let (balance, edge, beside) = match repeats {
            0 => (0, 0, 0),
            _ => (balance, edge, beside),
        };
        Self {
            half,
            margin: (half - beside - repeats * width) / 2,
            edge,
            width,
            repeats,
            balance,
        }
    }

    /// Where the first repeat begins.
    pub(in crate::plan) const fn start(self) -> u16 {
        self.margin + self.edge
    }

    /// Where the last repeat ends.
    pub(in crate::plan) const fn end(self) -> u16 {
        self.start() + self.repeats * self.width
    }

    /// What lies on the half from its beginning to its end, each kind with its stitches.
    pub(in crate::plan) const fn pieces(self) -> [(PanelPiece, u16); 6] {
        let (start, end) = (self.start(), self.end());
        [
            (PanelPiece::Plain, self.margin),
            (PanelPiece::Edge, self.edge),
            (PanelPiece::Repeats, end - start),
            (PanelPiece::Balance, self.balance),
            (PanelPiece::Edge, self.edge),
            (
                PanelPiece::Plain,
                self.half.saturating_sub(end + self.balance + self.edge),
            ),
        ]
    }

    /// Stitches that are not plain.
    pub(in crate::plan) const fn patterned(self) -> u16 {
        self.repeats * self.width + self.balance
    }

    /// Stitches of a repeat.
    pub(in crate::plan) const fn width(self) -> u16 {
        self.width
    }

    /// The place nearest to `wanted` at which no repeat is cut; of two, the earlier.
    pub(in crate::plan) fn cut(self, wanted: u16) -> u16 {
        let whole = |at: &u16| {
            *at <= self.start()
                || *at >= self.end() + self.balance
                || (at - self.start()).is_multiple_of(self.width)
        };
        // Balancing stitches are not cut either: the last repeat's end is whole, a place among them is
        // not.
        let among = |at: &u16| *at > self.end() && *at < self.end() + self.balance;
        (0..=self.half)
            .filter(|at| whole(at) && !among(at))
            .min_by_key(|at| (at.abs_diff(wanted), *at))
            .unwrap_or(wanted)
    }
}

/// A multiple of this many stitches go round a sock: heel and toe halve it twice, and a motif all
/// round has whole repeats on each half.
pub(in crate::plan) fn unit(recipe: &Recipe) -> u16 {
    match &recipe.motif {
        Some(motif) if motif.place == MotifPlacement::AllRound => {
            let both = 2 * motif.width();
            // least common multiple with 4 of an even number
            if both.is_multiple_of(4) {
                both
            } else {
                2 * both
            }
        }
        _ => 4,
    }
}

/// Where the motif lies on a half of so many stitches; `None` without one.
///
/// # Errors
/// The motif is too wide, or the chosen needles would cut it.
pub(in crate::plan) fn panel(recipe: &Recipe, half: u16) -> Result<Option<Panel>, FieldError> {
    let Some(motif) = &recipe.motif else {
        return Ok(None);
    };
    let width = motif.width();
    let least = width + motif.balancing() + 2 * motif.edging();
    if least > half {
        return Err(FieldError::new(
            "motif.rows",
            Problem::MotifWiderThanFront {
                width: least,
                front: half,
            },
        ));
    }
    let panel = Panel::centred(half, motif);
    let off = panel.cut(half / 2).abs_diff(half / 2);
    let uneven = 4 * u32::from(off) > u32::from(half);
    let halved = recipe.needles.seating() == Some(Seating::EvenHalves);
    if uneven && halved {
        return Err(FieldError::new(
            "needles.seating",
            Problem::RepeatAcrossHalves,
        ));
    }
    if uneven && recipe.needles == Method::FiveDpns {
        return Err(FieldError::new(
            "needles.method",
            Problem::RepeatAcrossFiveNeedles,
        ));
    }
    let all_round = motif.place == MotifPlacement::AllRound;
    if all_round && recipe.needles == Method::FourDpns && 2 * half / width < 3 {
        return Err(FieldError::new(
            "needles.method",
            Problem::RepeatsOnThreeNeedles,
        ));
    }
    Ok(Some(panel))
}
