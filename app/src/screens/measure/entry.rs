//! The lines of the form that take a number, and the choices that can be wrong, each with the
//! recipe's field it stands for.

use std::borrow::Cow;

use evenloop_engine::recipe::{self, MOST_GIRTHS};
use evenloop_engine::units::{Length, LengthUnit};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// A line of the form. It is stored under its id.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
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
    /// The same width before washing.
    UnwashedWidth,
    /// The same height before washing.
    UnwashedHeight,
    /// Height of the cuff.
    CuffLength,
    /// Cast-on edge to heel flap.
    Leg,
    /// How high the leg is measured round, place by place from 0.
    GirthHeight(u8),
    /// Round the leg there.
    GirthRound(u8),
    /// Rows of the flap.
    HeelRows,
    /// Height of the flap.
    HeelHeight,
    /// Rounds between the halves of a short-row heel.
    Between,
    /// Ease round the foot.
    Ease,
    /// Ease along the foot.
    LengthEase,
    /// Stitches around.
    Stitches,
    /// Rounds of a stripe, stripe by stripe from 0.
    StripeRounds(u8),
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

/// Places at which the leg can be measured round.
pub(super) const GIRTHS: u8 = 4;
/// Stripes that a sequence can have.
pub(super) const STRIPES: u8 = 12;
const _: () = assert!(GIRTHS as usize == MOST_GIRTHS);
const _: () = assert!(STRIPES as u16 == *recipe::STRIPES.end());

impl Entry {
    /// All that stand there once.
    const SINGLE: [Self; 19] = [
        Self::FootLength,
        Self::FootCircumference,
        Self::HeelDiagonal,
        Self::SwatchStitches,
        Self::SwatchWidth,
        Self::SwatchRounds,
        Self::SwatchHeight,
        Self::UnwashedWidth,
        Self::UnwashedHeight,
        Self::CuffLength,
        Self::Leg,
        Self::HeelRows,
        Self::HeelHeight,
        Self::Between,
        Self::Ease,
        Self::LengthEase,
        Self::Stitches,
        Self::BallGrams,
        Self::BallMetres,
    ];

    /// All of them.
    pub(super) fn all() -> impl Iterator<Item = Self> {
        Self::SINGLE
            .into_iter()
            .chain((0..GIRTHS).flat_map(|i| [Self::GirthHeight(i), Self::GirthRound(i)]))
            .chain((0..STRIPES).map(Self::StripeRounds))
    }

    /// The field of the recipe and the id of the input; `#` stands for the place.
    const fn names(self) -> (&'static str, &'static str) {
        match self {
            Self::FootLength => ("foot.length", "foot-length"),
            Self::FootCircumference => ("foot.circumference", "foot-circumference"),
            Self::HeelDiagonal => ("foot.heel_diagonal", "heel-diagonal"),
            Self::SwatchStitches => ("swatch.stitches", "swatch-stitches"),
            Self::SwatchWidth => ("swatch.width", "swatch-width"),
            Self::SwatchRounds => ("swatch.rounds", "swatch-rounds"),
            Self::SwatchHeight => ("swatch.height", "swatch-height"),
            Self::UnwashedWidth => ("swatch.unwashed.width", "unwashed-width"),
            Self::UnwashedHeight => ("swatch.unwashed.height", "unwashed-height"),
            Self::CuffLength => ("cuff.length", "cuff-length"),
            Self::Leg => ("leg", "leg"),
            Self::GirthHeight(_) => ("calf.#.height", "girth-height-#"),
            Self::GirthRound(_) => ("calf.#.circumference", "girth-round-#"),
            Self::HeelRows => ("heel.rows", "heel-rows"),
            Self::HeelHeight => ("heel.height", "heel-height"),
            Self::Between => ("heel.between", "heel-between"),
            Self::Ease => ("fit.ease_percent", "ease"),
            Self::LengthEase => ("fit.length_ease", "length-ease"),
            Self::Stitches => ("stitches", "stitches"),
            Self::StripeRounds(_) => ("yarns.stripes.#.rounds", "stripe-rounds-#"),
            Self::BallGrams => ("ball.grams", "ball-grams"),
            Self::BallMetres => ("ball.metres", "ball-metres"),
        }
    }

    fn placed(self, name: &'static str) -> Cow<'static, str> {
        match self {
            Self::GirthHeight(i) | Self::GirthRound(i) | Self::StripeRounds(i) => {
                name.replace('#', &i.to_string()).into()
            }
            _ => name.into(),
        }
    }

    /// The field of the recipe, as the engine's errors name it.
    pub(super) fn field(self) -> Cow<'static, str> {
        self.placed(self.names().0)
    }

    /// The line of that field.
    pub(super) fn of_field(field: &str) -> Option<Self> {
        Self::all().find(|entry| entry.field() == field)
    }

    /// Id of its input in the page.
    pub(super) fn id(self) -> Cow<'static, str> {
        self.placed(self.names().1)
    }

    /// What kind of number it takes.
    pub(super) const fn number(self) -> Number {
        match self {
            Self::FootLength
            | Self::FootCircumference
            | Self::HeelDiagonal
            | Self::SwatchWidth
            | Self::SwatchHeight
            | Self::UnwashedWidth
            | Self::UnwashedHeight
            | Self::CuffLength
            | Self::Leg
            | Self::GirthHeight(_)
            | Self::GirthRound(_)
            | Self::HeelHeight
            | Self::LengthEase => Number::Length,
            Self::SwatchStitches | Self::Stitches => Number::Whole("stitches"),
            Self::SwatchRounds | Self::Between | Self::StripeRounds(_) => Number::Whole("rounds"),
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
                | Self::UnwashedWidth
                | Self::UnwashedHeight
                | Self::HeelRows
                | Self::HeelHeight
                | Self::Stitches
                | Self::BallGrams
                | Self::BallMetres
        )
    }

    /// From what to what it can be, in the knitter's unit; `None` where the engine has no plain
    /// range for it.
    pub(super) fn range(self, unit: LengthUnit) -> Option<(String, String)> {
        let length = |range: std::ops::RangeInclusive<Length>| {
            Some((range.start().show_least(unit), range.end().show_most(unit)))
        };
        let whole = |range: std::ops::RangeInclusive<u16>| {
            Some((range.start().to_string(), range.end().to_string()))
        };
        match self {
            Self::FootLength => length(recipe::FOOT_LENGTH),
            Self::FootCircumference => length(recipe::FOOT_CIRCUMFERENCE),
            Self::HeelDiagonal => length(recipe::HEEL_DIAGONAL),
            Self::SwatchWidth | Self::SwatchHeight | Self::UnwashedWidth | Self::UnwashedHeight => {
                length(recipe::SWATCH_SIZE)
            }
            Self::CuffLength => length(recipe::CUFF_LENGTH),
            Self::Leg => length(recipe::LEG_LENGTH),
            Self::GirthHeight(_) => length(recipe::GIRTH_HEIGHT),
            Self::GirthRound(_) => length(recipe::GIRTH),
            Self::LengthEase => length(recipe::LENGTH_EASE),
            Self::HeelRows => whole(recipe::FLAP_ROWS),
            Self::HeelHeight => length(recipe::FLAP_HEIGHT),
            Self::Between => whole(recipe::BETWEEN),
            Self::Stitches => whole(recipe::STITCHES),
            Self::StripeRounds(_) => whole(recipe::STRIPE_ROUNDS),
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

impl Serialize for Entry {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_str(&self.id())
    }
}

impl<'de> Deserialize<'de> for Entry {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let id = Cow::<str>::deserialize(d)?;
        // Drafts of an earlier build have it under a shorter name.
        let id = if id == "between" { "heel-between" } else { &id };
        Self::all()
            .find(|entry| entry.id() == id)
            .ok_or_else(|| serde::de::Error::custom("no such line"))
    }
}

/// Where in the form something can be wrong: a line, or a choice that does not go with the others.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Spot {
    /// A line.
    Line(Entry),
    /// Which toe.
    Toe,
    /// Room for a high instep.
    HighInstep,
    /// Room for wide toes.
    WideToes,
    /// The leg's girths together.
    Calf,
    /// The pattern's rounds.
    Motif,
    /// The sequence of stripes.
    Stripes,
    /// Which needles.
    Needles,
    /// Where stitches sit on them.
    Seating,
}

impl Spot {
    const CHOICES: [Self; 8] = [
        Self::Toe,
        Self::HighInstep,
        Self::WideToes,
        Self::Calf,
        Self::Motif,
        Self::Stripes,
        Self::Needles,
        Self::Seating,
    ];

    /// The field of the recipe, as the engine's errors name it.
    fn field(self) -> Cow<'static, str> {
        match self {
            Self::Line(entry) => entry.field(),
            Self::Toe => "toe.kind".into(),
            Self::HighInstep => "fit.high_instep".into(),
            Self::WideToes => "fit.wide_toes".into(),
            Self::Calf => "calf".into(),
            Self::Motif => "motif.rows".into(),
            Self::Stripes => "yarns.stripes".into(),
            Self::Needles => "needles.method".into(),
            Self::Seating => "needles.seating".into(),
        }
    }

    /// The spot of that field.
    pub(super) fn of_field(field: &str) -> Option<Self> {
        Entry::of_field(field)
            .map(Self::Line)
            .or_else(|| Self::CHOICES.into_iter().find(|spot| spot.field() == field))
    }

    /// Id of what takes the focus there.
    pub(super) fn id(self) -> Cow<'static, str> {
        match self {
            Self::Line(entry) => entry.id(),
            Self::Toe => "at-toe".into(),
            Self::HighInstep => "at-high-instep".into(),
            Self::WideToes => "at-wide-toes".into(),
            Self::Calf => "at-calf".into(),
            Self::Motif => "at-motif".into(),
            Self::Stripes => "at-stripes".into(),
            Self::Needles => "at-needles".into(),
            Self::Seating => "at-seating".into(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_spot_has_a_field_and_an_id_of_its_own() {
        let all: Vec<Spot> = Entry::all().map(Spot::Line).chain(Spot::CHOICES).collect();
        for (i, spot) in all.iter().enumerate() {
            assert_eq!(Spot::of_field(&spot.field()), Some(*spot));
            assert!(all[..i].iter().all(|other| other.id() != spot.id()));
        }
    }

    #[test]
    fn a_line_reads_back_from_its_stored_name() {
        for entry in Entry::all() {
            let text = serde_json::to_string(&entry).expect("a name");
            assert_eq!(serde_json::from_str::<Entry>(&text).expect("a line"), entry);
        }
        assert_eq!(
            serde_json::from_str::<Entry>("\"between\"").expect("a line"),
            Entry::Between
        );
    }
}
