//! Where a motif lies on one half of the sock, and where a needle may end without cutting it.

use crate::error::{FieldError, Problem};
use crate::plan::model::Plan;
use crate::recipe::{Method, MotifPlacement, Recipe, Seating};

impl Plan {
    /// How often the motif lies beside itself in the middle of the front, and of a back that carries
    /// it; `None` without a motif.
    pub fn motif_repeats(&self) -> Option<u16> {
        let motif = self.recipe.motif.as_ref()?;
        Some(Panel::centred(self.outcome.stitches / 2, motif.width()).repeats)
    }
}

/// Repeats side by side on a half of the sock, and the plain stitches before and after them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) struct Panel {
    /// Stitches of the half.
    half: u16,
    /// Plain stitches before the first repeat.
    margin: u16,
    /// Stitches of a repeat.
    width: u16,
    /// Repeats.
    repeats: u16,
}

impl Panel {
    /// As many repeats as fit, in the middle.
    pub(in crate::plan) const fn centred(half: u16, width: u16) -> Self {
        let repeats = half / width;
        Self {
            half,
            margin: (half - repeats * width) / 2,
            width,
            repeats,
        }
    }

    /// Where the first repeat begins.
    pub(in crate::plan) const fn start(self) -> u16 {
        self.margin
    }

    /// Where the last repeat ends.
    pub(in crate::plan) const fn end(self) -> u16 {
        self.margin + self.repeats * self.width
    }

    /// Stitches of a repeat.
    pub(in crate::plan) const fn width(self) -> u16 {
        self.width
    }

    /// The place nearest to `wanted` at which no repeat is cut; of two, the earlier.
    pub(in crate::plan) fn cut(self, wanted: u16) -> u16 {
        let whole = |at: &u16| {
            *at <= self.start()
                || *at >= self.end()
                || (at - self.start()).is_multiple_of(self.width)
        };
        (0..=self.half)
            .filter(whole)
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
    if width > half {
        return Err(FieldError::new(
            "motif.rows",
            Problem::MotifWiderThanFront { width, front: half },
        ));
    }
    let panel = Panel::centred(half, width);
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
