//! How high a heel flap is for its rows. Its slipped stitches draw rows together: measured on a flap that
//! is knitted, or allowed for by its texture.
//!
//! The allowances are from memory: flaps of 32 rows in sock yarn measure about 6 to 6.5 cm, where as
//! many rounds of stockinette measure 7.6; between each other slipped stitches draw in a little less.

use crate::recipe::{FlapTexture, Heel, Recipe};
use crate::swatch::FlapSwatch;
use crate::units::{Length, scaled};

/// Rows where stockinette has a hundred rounds, by texture.
const fn rows_to_100_rounds(texture: FlapTexture) -> u64 {
    match texture {
        FlapTexture::SlippedStitch | FlapTexture::GarterEdge => 120,
        FlapTexture::EyeOfPartridge => 115,
    }
}

/// How many rows make a height, in tenths of a millimetre.
struct RowGauge {
    rows: u64,
    over: u64,
}

impl RowGauge {
    fn of(recipe: &Recipe) -> Self {
        let swatch = &recipe.swatch;
        if let Some(FlapSwatch { rows, height }) = swatch.flap {
            return Self {
                rows: rows.into(),
                over: height.0.into(),
            };
        }
        let percent = match recipe.heel {
            Heel::FlapAndGusset { texture, .. } => rows_to_100_rounds(texture),
            Heel::ShortRow { .. } | Heel::Afterthought { .. } => 100,
        };
        Self {
            rows: u64::from(swatch.rounds) * percent,
            over: u64::from(swatch.height.0) * 100,
        }
    }
}

/// The even number of rows nearest to a height; of two as near the larger.
pub(in crate::plan) fn even_rows_in(recipe: &Recipe, height: Length) -> u64 {
    let gauge = RowGauge::of(recipe);
    2 * scaled(height.0.into(), gauge.rows, 2 * gauge.over.max(1))
}

/// How high so many rows are.
pub(in crate::plan) fn height_of_rows(recipe: &Recipe, rows: u16) -> Length {
    let gauge = RowGauge::of(recipe);
    let tenths = scaled(rows.into(), gauge.over, gauge.rows.max(1));
    Length(u32::try_from(tenths).unwrap_or(u32::MAX))
}
