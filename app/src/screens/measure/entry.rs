//! The lines of the form that take a number, each with the recipe's field it stands for.

use evenloop_engine::recipe;
use evenloop_engine::units::{Length, LengthUnit};
use serde::{Deserialize, Serialize};

/// A line of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Entry {
    /// Heel to longest toe.
    FootLength,
    /// Round the ball.
    FootCircumference,
    /// Round heel and instep.
    HeelDiagonal,
    /// Stitches counted on the swatch.
    SwatchStitches,
    /// Over this width.
    SwatchWidth,
    /// Rounds counted on the swatch.
    SwatchRounds,
    /// Over this height.
    SwatchHeight,
    /// Height of the cuff.
    CuffLength,
    /// Cast-on edge to heel flap.
    Leg,
    /// Rows of the flap.
    HeelRows,
    /// Rounds between the halves of a short-row heel.
    Between,
    /// Ease round the foot.
    Ease,
    /// Ease along the foot.
    LengthEase,
    /// Stitches around.
    Stitches,
    /// Grams in a ball.
    BallGrams,
    /// Metres in a ball.
    BallMetres,
}

/// What kind of number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Number {
    /// A length, in the knitter's unit.
    Length,
    /// A whole number of something; its word.
    Whole(&'static str),
}

impl Entry {
    /// All of them, in the order of the form.
    pub(super) const ALL: [Self; 16] = [
        Self::FootLength,
        Self::FootCircumference,
        Self::HeelDiagonal,
        Self::SwatchStitches,
        Self::SwatchWidth,
        Self::SwatchRounds,
        Self::SwatchHeight,
        Self::CuffLength,
        Self::Leg,
        Self::HeelRows,
        Self::Between,
        Self::Ease,
        Self::LengthEase,
        Self::Stitches,
        Self::BallGrams,
        Self::BallMetres,
    ];

    /// The field of the recipe, as the engine's errors name it.
    pub(super) const fn field(self) -> &'static str {
        match self {
            Self::FootLength => "foot.length",
            Self::FootCircumference => "foot.circumference",
            Self::HeelDiagonal => "foot.heel_diagonal",
            Self::SwatchStitches => "swatch.stitches",
            Self::SwatchWidth => "swatch.width",
            Self::SwatchRounds => "swatch.rounds",
            Self::SwatchHeight => "swatch.height",
            Self::CuffLength => "cuff.length",
            Self::Leg => "leg",
            Self::HeelRows => "heel.rows",
            Self::Between => "heel.between",
            Self::Ease => "fit.ease_percent",
            Self::LengthEase => "fit.length_ease",
            Self::Stitches => "stitches",
            Self::BallGrams => "ball.grams",
            Self::BallMetres => "ball.metres",
        }
    }

    /// The line of that field.
    pub(super) fn of_field(field: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|entry| entry.field() == field)
    }

    /// Id of its input in the page.
    pub(super) const fn id(self) -> &'static str {
        match self {
            Self::FootLength => "foot-length",
            Self::FootCircumference => "foot-circumference",
            Self::HeelDiagonal => "heel-diagonal",
            Self::SwatchStitches => "swatch-stitches",
            Self::SwatchWidth => "swatch-width",
            Self::SwatchRounds => "swatch-rounds",
            Self::SwatchHeight => "swatch-height",
            Self::CuffLength => "cuff-length",
            Self::Leg => "leg",
            Self::HeelRows => "heel-rows",
            Self::Between => "heel-between",
            Self::Ease => "ease",
            Self::LengthEase => "length-ease",
            Self::Stitches => "stitches",
            Self::BallGrams => "ball-grams",
            Self::BallMetres => "ball-metres",
        }
    }

    /// What kind of number it takes.
    pub(super) const fn number(self) -> Number {
        match self {
            Self::FootLength
            | Self::FootCircumference
            | Self::HeelDiagonal
            | Self::SwatchWidth
            | Self::SwatchHeight
            | Self::CuffLength
            | Self::Leg
            | Self::LengthEase => Number::Length,
            Self::SwatchStitches | Self::Stitches => Number::Whole("stitches"),
            Self::SwatchRounds | Self::Between => Number::Whole("rounds"),
            Self::HeelRows => Number::Whole("rows"),
            Self::Ease => Number::Whole("percent"),
            Self::BallGrams => Number::Whole("grams"),
            Self::BallMetres => Number::Whole("metres"),
        }
    }

    /// Whether it may stay empty.
    pub(super) const fn optional(self) -> bool {
        matches!(
            self,
            Self::FootCircumference
                | Self::HeelDiagonal
                | Self::HeelRows
                | Self::Stitches
                | Self::BallGrams
                | Self::BallMetres
        )
    }

    /// From what to what it can be, in the knitter's unit; `None` where the engine has no plain
    /// range for it.
    pub(super) fn range(self, unit: LengthUnit) -> Option<(String, String)> {
        let length = |range: std::ops::RangeInclusive<Length>| {
            Some((range.start().show(unit), range.end().show(unit)))
        };
        let whole = |range: std::ops::RangeInclusive<u16>| {
            Some((range.start().to_string(), range.end().to_string()))
        };
        match self {
            Self::FootLength => length(recipe::FOOT_LENGTH),
            Self::FootCircumference => length(recipe::FOOT_CIRCUMFERENCE),
            Self::HeelDiagonal => length(recipe::HEEL_DIAGONAL),
            Self::SwatchWidth | Self::SwatchHeight => length(recipe::SWATCH_SIZE),
            Self::CuffLength => length(recipe::CUFF_LENGTH),
            Self::Leg => length(recipe::LEG_LENGTH),
            Self::LengthEase => length(recipe::LENGTH_EASE),
            Self::HeelRows => whole(recipe::FLAP_ROWS),
            Self::Between => whole(recipe::BETWEEN),
            Self::Stitches => whole(recipe::STITCHES),
            Self::BallGrams => whole(recipe::BALL_GRAMS),
            Self::BallMetres => whole(recipe::BALL_METRES),
            Self::Ease => {
                let range = recipe::EASE_PERCENT;
                Some((range.start().to_string(), range.end().to_string()))
            }
            Self::SwatchStitches | Self::SwatchRounds => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_has_a_field_and_an_id_of_its_own() {
        for (i, entry) in Entry::ALL.into_iter().enumerate() {
            assert_eq!(Entry::of_field(entry.field()), Some(entry));
            assert!(Entry::ALL[..i].iter().all(|e| e.id() != entry.id()));
        }
    }
}
