//! What a pattern leaves to its knitter: how many rounds a height takes, and on how many needles the stitches lie.
//!
//! Knows a gauge and needle methods; must not know a pattern.

use crate::recipe::{Method, Recipe};
use crate::swatch::Swatch;
use crate::units::Length;

/// The knitter's gauge and needles.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct KnittersOwn {
    /// What is assumed where nobody has measured one, by default.
    swatch: Swatch,
    needles: Option<Method>,
}

impl KnittersOwn {
    /// By a recipe.
    pub const fn of(recipe: &Recipe) -> Self {
        Self {
            swatch: recipe.swatch,
            needles: Some(recipe.needles),
        }
    }

    /// Rounds that cover a height, to the nearest whole.
    pub(super) fn rounds_in(&self, height: Length) -> u16 {
        u16::try_from(self.swatch.rounds_in(height)).unwrap_or(u16::MAX)
    }

    /// How so many stitches may be divided over needles, the likeliest way first: by as many needles as the pattern
    /// names, else by those of the knitter. `named`: the highest number of a needle in the pattern, 0 where it has
    /// none.
    pub(super) fn divisions(&self, around: u16, named: u16) -> Vec<Vec<u16>> {
        let halves = vec![around.div_ceil(2), around / 2];
        let quarters = |half: u16| [half.div_ceil(2), half / 2];
        let [[a, b], [c, d]] = [quarters(halves[0]), quarters(halves[1])];
        let quarters = vec![a, b, c, d];
        // heel or sole on two needles, the round beginning between them
        let sole_divided = vec![a, b + c, d];
        let sole_first = vec![halves[0], c, d];
        let third = around.div_ceil(3);
        let thirds = vec![third, (around - third).div_ceil(2), (around - third) / 2];
        let all = match named {
            0 => match self.needles {
                Some(Method::FourDpns) => vec![thirds, halves, quarters],
                Some(Method::FiveDpns) => vec![quarters, halves, thirds],
                // no needle ends but where the round does
                Some(Method::ShortCircular { .. }) => vec![vec![around], halves, quarters],
                Some(Method::MagicLoop { .. } | Method::TwoCirculars { .. }) | None => {
                    vec![halves, quarters, thirds]
                }
            },
            1 | 2 => vec![halves, sole_divided, quarters],
            3 => vec![sole_divided, sole_first, thirds],
            _ => vec![quarters],
        };
        let holds = |sizes: &Vec<u16>| sizes.iter().all(|size| *size > 0);
        all.into_iter().filter(holds).collect()
    }
}
