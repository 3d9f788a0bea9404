//! Every number of a recipe, in one table: the field it stands in, what it counts, from what to what
//! it can be, and how it is read and written. Forms, checks and the API's description go by it.
//!
//! Knows nothing of what a number does to a sock, and has no words for it.

use std::borrow::Cow;
use std::ops::RangeInclusive;

use super::heel::Heel;
use super::ranges::{
    ADJUST, CUFF_LENGTH, EASE_PERCENT, FLAP_HEIGHT, FLAP_ROWS, FOOT_LENGTH, LEG_LENGTH,
    LENGTH_EASE, MOST_GIRTHS, MOST_STRIPES, MOTIF_WIDTH, ROUND_GAUGE, STITCH_GAUGE, STITCHES,
    SWATCH_SIZE,
};
use super::sock::{Ball, Recipe};
use crate::swatch::{FlapSwatch, PatternRounds, PatternSwatch, Unwashed};
use crate::units::Length;

/// What a number counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Tenths of a millimetre, shown in the knitter's unit.
    Length,
    /// Stitches.
    Stitches,
    /// Rounds.
    Rounds,
    /// Rows.
    Rows,
    /// Percent.
    Percent,
    /// Grams.
    Grams,
    /// Metres of yarn.
    Metres,
}

/// A number as it stands in a recipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Number {
    /// A length.
    Length(Length),
    /// A whole number of something.
    Whole(i64),
}

/// From what to what a number can be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NumberRange {
    /// A length.
    Length(RangeInclusive<Length>),
    /// A whole number.
    Whole(RangeInclusive<i64>),
    /// What is counted over a measured length has to come to so many over 10 cm.
    Gauge(RangeInclusive<u16>),
}

/// Whether a number has to be there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Presence {
    /// Always.
    Required,
    /// It can be left out; then it is worked out, or not needed.
    Optional,
    /// There are both or neither.
    With(NumberField),
}

/// The types in which recipes hold numbers.
trait Held: Sized {
    fn number(self) -> Number;
    fn held(number: Number) -> Option<Self>;
    fn range(range: RangeInclusive<Self>) -> NumberRange;
}

impl Held for Length {
    fn number(self) -> Number {
        Number::Length(self)
    }

    fn held(number: Number) -> Option<Self> {
        match number {
            Number::Length(length) => Some(length),
            Number::Whole(_) => None,
        }
    }

    fn range(range: RangeInclusive<Self>) -> NumberRange {
        NumberRange::Length(range)
    }
}

macro_rules! held_whole {
    ($($kind:ty)*) => {$(
        impl Held for $kind {
            fn number(self) -> Number {
                Number::Whole(self.into())
            }

            fn held(number: Number) -> Option<Self> {
                match number {
                    Number::Whole(whole) => whole.try_into().ok(),
                    Number::Length(_) => None,
                }
            }

            fn range(range: RangeInclusive<Self>) -> NumberRange {
                NumberRange::Whole((*range.start()).into()..=(*range.end()).into())
            }
        }
    )*};
}
held_whole!(u8 u16 i16);

/// The place of a field in a list, where it is in one.
macro_rules! place {
    (type $place:ident) => {
        u8
    };
    (of) => {
        None
    };
    (of $place:ident) => {
        Some($place)
    };
    (path $path:literal) => {
        Cow::Borrowed($path)
    };
    (path $path:literal $place:ident) => {
        Cow::Owned($path.replace('#', &$place.to_string()))
    };
    (all $all:ident, $field:ident) => {
        $all.push(Self::$field)
    };
    (all $all:ident, $field:ident, $most:expr) => {
        $all.extend((0..$most).map(Self::$field))
    };
}

macro_rules! numbers {
    ($(
        $(#[$about:meta])*
        $field:ident $(($place:ident < $most:expr))? at $path:literal {
            $unit:ident in $range:expr, $presence:expr,
            get |$from:ident| $get:expr,
            set |$to:ident, $value:ident: $kind:ty| $set:expr $(,)?
        }
    )*) => {
        /// A field of a recipe that holds a number; those of lists with their place, from 0.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum NumberField {
            $($(#[$about])* $field $((place!(type $place)))?,)*
        }

        impl NumberField {
            /// The path of each, with `#` for a place in a list.
            pub(crate) const PATHS: &[&str] = &[$($path),*];

            /// All of them, at every place that there can be.
            #[allow(clippy::vec_init_then_push)] // some are pushed, some are many
            pub fn all() -> Vec<Self> {
                let mut all = Vec::new();
                $(place!(all all, $field $(, $most)?);)*
                all
            }

            /// Its path in the recipe, as errors and the API's description name it.
            pub fn path(self) -> Cow<'static, str> {
                match self {
                    $(Self::$field $(($place))? => place!(path $path $($place)?),)*
                }
            }

            /// Its place in a list, from 0; none for what stands there once.
            pub const fn place(self) -> Option<u8> {
                match self {
                    $(Self::$field $(($place))? => place!(of $($place)?),)*
                }
            }

            /// What it counts.
            pub const fn unit(self) -> Unit {
                match self {
                    $(Self::$field { .. } => Unit::$unit,)*
                }
            }

            /// From what to what it can be.
            pub fn range(self) -> NumberRange {
                match self {
                    $(Self::$field { .. } => $range,)*
                }
            }

            /// Whether it has to be there.
            pub const fn presence(self) -> Presence {
                match self {
                    $(Self::$field { .. } => $presence,)*
                }
            }

            /// The number in a recipe, where the recipe has it.
            pub fn get(self, recipe: &Recipe) -> Option<Number> {
                match self {
                    $(Self::$field $(($place))? => {
                        let $from = recipe;
                        let found: Option<$kind> = $get;
                        found.map(Held::number)
                    })*
                }
            }

            /// Whether a recipe can hold the number there at all, in range or not.
            pub fn can_hold(self, number: Number) -> bool {
                match self {
                    $(Self::$field { .. } => <$kind as Held>::held(number).is_some(),)*
                }
            }

            /// Puts a number into a recipe, where the recipe has room for it: whether the number can
            /// be held there at all, not whether it is in range.
            pub fn set(self, recipe: &mut Recipe, number: Number) -> bool {
                match self {
                    $(Self::$field $(($place))? => {
                        let Some($value) = <$kind as Held>::held(number) else {
                            return false;
                        };
                        let $to = recipe;
                        $set;
                    })*
                }
                true
            }
        }
    };
}

numbers! {
    /// From the back of the heel to the longest toe.
    FootLength at "foot.length" {
        Length in Held::range(FOOT_LENGTH), Presence::Required,
        get |recipe| Some(recipe.foot.length),
        set |recipe, value: Length| recipe.foot.length = value,
    }
    /// Round the ball of the foot.
    FootCircumference at "foot.circumference" {
        Length in Held::range(Length::cm(9)..=Length::cm(36)), Presence::Optional,
        get |recipe| recipe.foot.circumference,
        set |recipe, value: Length| recipe.foot.circumference = Some(value),
    }
    /// Round heel and instep.
    HeelDiagonal at "foot.heel_diagonal" {
        Length in Held::range(Length::cm(10)..=Length::cm(50)), Presence::Optional,
        get |recipe| recipe.foot.heel_diagonal,
        set |recipe, value: Length| recipe.foot.heel_diagonal = Some(value),
    }
    /// Stitches counted on the swatch.
    SwatchStitches at "swatch.stitches" {
        Stitches in NumberRange::Gauge(STITCH_GAUGE), Presence::Required,
        get |recipe| Some(recipe.swatch.stitches),
        set |recipe, value: u16| recipe.swatch.stitches = value,
    }
    /// The width they were counted over.
    SwatchWidth at "swatch.width" {
        Length in Held::range(SWATCH_SIZE), Presence::Required,
        get |recipe| Some(recipe.swatch.width),
        set |recipe, value: Length| recipe.swatch.width = value,
    }
    /// Rounds counted on the swatch.
    SwatchRounds at "swatch.rounds" {
        Rounds in NumberRange::Gauge(ROUND_GAUGE), Presence::Required,
        get |recipe| Some(recipe.swatch.rounds),
        set |recipe, value: u16| recipe.swatch.rounds = value,
    }
    /// The height they were counted over.
    SwatchHeight at "swatch.height" {
        Length in Held::range(SWATCH_SIZE), Presence::Required,
        get |recipe| Some(recipe.swatch.height),
        set |recipe, value: Length| recipe.swatch.height = value,
    }
    /// The same width before washing.
    UnwashedWidth at "swatch.unwashed.width" {
        Length in Held::range(SWATCH_SIZE), Presence::With(NumberField::UnwashedHeight),
        get |recipe| recipe.swatch.unwashed.map(|unwashed| unwashed.width),
        set |recipe, value: Length| recipe.swatch.unwashed.get_or_insert(UNWASHED).width = value,
    }
    /// The same height before washing.
    UnwashedHeight at "swatch.unwashed.height" {
        Length in Held::range(SWATCH_SIZE), Presence::With(NumberField::UnwashedWidth),
        get |recipe| recipe.swatch.unwashed.map(|unwashed| unwashed.height),
        set |recipe, value: Length| recipe.swatch.unwashed.get_or_insert(UNWASHED).height = value,
    }
    /// Stitches counted on a swatch in the motif.
    PatternStitches at "swatch.pattern.stitches" {
        Stitches in Held::range(4_u16..=200), Presence::With(NumberField::PatternWidth),
        get |recipe| recipe.swatch.pattern.map(|pattern| pattern.stitches),
        set |recipe, value: u16| recipe.swatch.pattern.get_or_insert(PATTERN).stitches = value,
    }
    /// The width they were counted over.
    PatternWidth at "swatch.pattern.width" {
        Length in Held::range(SWATCH_SIZE), Presence::With(NumberField::PatternStitches),
        get |recipe| recipe.swatch.pattern.map(|pattern| pattern.width),
        set |recipe, value: Length| recipe.swatch.pattern.get_or_insert(PATTERN).width = value,
    }
    /// Rounds counted on the same swatch.
    PatternRounds at "swatch.pattern_rounds.rounds" {
        Rounds in Held::range(4_u16..=240), Presence::With(NumberField::PatternHeight),
        get |recipe| recipe.swatch.pattern_rounds.map(|pattern| pattern.rounds),
        set |recipe, value: u16| {
            recipe.swatch.pattern_rounds.get_or_insert(IN_PATTERN).rounds = value;
        },
    }
    /// The height they were counted over.
    PatternHeight at "swatch.pattern_rounds.height" {
        Length in Held::range(SWATCH_SIZE), Presence::With(NumberField::PatternRounds),
        get |recipe| recipe.swatch.pattern_rounds.map(|pattern| pattern.height),
        set |recipe, value: Length| {
            recipe.swatch.pattern_rounds.get_or_insert(IN_PATTERN).height = value;
        },
    }
    /// Rows counted on a knitted heel flap.
    FlapSwatchRows at "swatch.flap.rows" {
        Rows in Held::range(4_u16..=100), Presence::With(NumberField::FlapSwatchHeight),
        get |recipe| recipe.swatch.flap.map(|flap| flap.rows),
        set |recipe, value: u16| recipe.swatch.flap.get_or_insert(FLAP).rows = value,
    }
    /// The height they were counted over.
    FlapSwatchHeight at "swatch.flap.height" {
        Length in Held::range(Length::cm(1)..=Length::cm(20)), Presence::With(NumberField::FlapSwatchRows),
        get |recipe| recipe.swatch.flap.map(|flap| flap.height),
        set |recipe, value: Length| recipe.swatch.flap.get_or_insert(FLAP).height = value,
    }
    /// Stitches to 10 cm by the ball's band, for a first guess.
    BandStitches at "swatch.guess.band_stitches" {
        Stitches in Held::range(10_u16..=50), Presence::Optional,
        get |recipe| recipe.swatch.guess.and_then(|guess| guess.band_stitches),
        set |recipe, value: u16| {
            recipe.swatch.guess.get_or_insert_default().band_stitches = Some(value);
        },
    }
    /// Height of the cuff.
    CuffLength at "cuff.length" {
        Length in Held::range(CUFF_LENGTH), Presence::Required,
        get |recipe| Some(recipe.cuff.length),
        set |recipe, value: Length| recipe.cuff.length = value,
    }
    /// From the cast-on edge to the heel flap.
    Leg at "leg" {
        Length in Held::range(LEG_LENGTH), Presence::Required,
        get |recipe| Some(recipe.leg),
        set |recipe, value: Length| recipe.leg = value,
    }
    /// Rounds added to the leg, or left out.
    AdjustLeg at "adjust.leg" {
        Rounds in Held::range(ADJUST), Presence::Optional,
        get |recipe| Some(recipe.adjust.leg),
        set |recipe, value: i16| recipe.adjust.leg = value,
    }
    /// Rounds added to the foot, or left out.
    AdjustFoot at "adjust.foot" {
        Rounds in Held::range(ADJUST), Presence::Optional,
        get |recipe| Some(recipe.adjust.foot),
        set |recipe, value: i16| recipe.adjust.foot = value,
    }
    /// How high above the heel the leg is measured round.
    GirthHeight(place < GIRTH_PLACES) at "calf.#.height" {
        Length in Held::range(Length::cm(1)..=Length::cm(45)), Presence::Required,
        get |recipe| recipe.calf.get(usize::from(place)).map(|girth| girth.height),
        set |recipe, value: Length| if let Some(girth) = recipe.calf.get_mut(usize::from(place)) {
            girth.height = value;
        },
    }
    /// Round the leg there.
    GirthRound(place < GIRTH_PLACES) at "calf.#.circumference" {
        Length in Held::range(Length::cm(12)..=Length::cm(60)), Presence::Required,
        get |recipe| recipe.calf.get(usize::from(place)).map(|girth| girth.circumference),
        set |recipe, value: Length| if let Some(girth) = recipe.calf.get_mut(usize::from(place)) {
            girth.circumference = value;
        },
    }
    /// Rows of the heel flap.
    HeelRows at "heel.rows" {
        Rows in Held::range(FLAP_ROWS), Presence::Optional,
        get |recipe| match recipe.heel {
            Heel::FlapAndGusset { rows, .. } => rows,
            Heel::ShortRow { .. } | Heel::Afterthought { .. } => None,
        },
        set |recipe, value: u16| if let Heel::FlapAndGusset { rows, .. } = &mut recipe.heel {
            *rows = Some(value);
        },
    }
    /// Height of the heel flap.
    HeelHeight at "heel.height" {
        Length in Held::range(FLAP_HEIGHT), Presence::Optional,
        get |recipe| match recipe.heel {
            Heel::FlapAndGusset { height, .. } => height,
            Heel::ShortRow { .. } | Heel::Afterthought { .. } => None,
        },
        set |recipe, value: Length| if let Heel::FlapAndGusset { height, .. } = &mut recipe.heel {
            *height = Some(value);
        },
    }
    /// Rounds between the halves of a short-row heel.
    HeelBetween at "heel.between" {
        Rounds in Held::range(0_u16..=6), Presence::Required,
        get |recipe| match recipe.heel {
            Heel::ShortRow { between } => Some(between),
            Heel::FlapAndGusset { .. } | Heel::Afterthought { .. } => None,
        },
        set |recipe, value: u16| if let Heel::ShortRow { between } = &mut recipe.heel {
            *between = value;
        },
    }
    /// How much smaller than the foot the sock is round.
    EasePercent at "fit.ease_percent" {
        Percent in Held::range(EASE_PERCENT), Presence::Required,
        get |recipe| Some(recipe.fit.ease_percent),
        set |recipe, value: u8| recipe.fit.ease_percent = value,
    }
    /// How much shorter than the foot the sock is.
    LengthEase at "fit.length_ease" {
        Length in Held::range(LENGTH_EASE), Presence::Required,
        get |recipe| Some(recipe.fit.length_ease),
        set |recipe, value: Length| recipe.fit.length_ease = value,
    }
    /// Stitches around.
    Stitches at "stitches" {
        Stitches in Held::range(STITCHES), Presence::Optional,
        get |recipe| recipe.stitches,
        set |recipe, value: u16| recipe.stitches = Some(value),
    }
    /// Stitches of the motif that are worked once more after its last repeat: always fewer than its repeat.
    MotifBalance at "motif.balance" {
        Stitches in Held::range(0_u16..=*MOTIF_WIDTH.end() - 1), Presence::Optional,
        get |recipe| recipe.motif.as_ref().map(|motif| motif.balance).filter(|n| *n > 0),
        set |recipe, value: u16| if let Some(motif) = &mut recipe.motif {
            motif.balance = value;
        },
    }
    /// Stitches that are purled on each side of the motif.
    MotifEdge at "motif.edge" {
        Stitches in Held::range(0_u16..=4), Presence::Optional,
        get |recipe| recipe.motif.as_ref().map(|motif| motif.edge).filter(|n| *n > 0),
        set |recipe, value: u16| if let Some(motif) = &mut recipe.motif {
            motif.edge = value;
        },
    }
    /// Rounds of a stripe.
    StripeRounds(place < MOST_STRIPES) at "yarns.stripes.#.rounds" {
        Rounds in Held::range(1_u16..=60), Presence::Required,
        get |recipe| {
            let stripes = recipe.yarns.as_ref().map(|yarns| &yarns.stripes);
            stripes?.get(usize::from(place)).map(|stripe| stripe.rounds)
        },
        set |recipe, value: u16| {
            let stripes = recipe.yarns.as_mut().map(|yarns| &mut yarns.stripes);
            if let Some(stripe) = stripes.and_then(|stripes| stripes.get_mut(usize::from(place))) {
                stripe.rounds = value;
            }
        },
    }
    /// Grams in a ball.
    BallGrams at "ball.grams" {
        Grams in Held::range(5_u16..=1000), Presence::With(NumberField::BallMetres),
        get |recipe| recipe.ball.map(|ball| ball.grams),
        set |recipe, value: u16| recipe.ball.get_or_insert(BALL).grams = value,
    }
    /// Metres in a ball.
    BallMetres at "ball.metres" {
        Metres in Held::range(10_u16..=5000), Presence::With(NumberField::BallGrams),
        get |recipe| recipe.ball.map(|ball| ball.metres),
        set |recipe, value: u16| recipe.ball.get_or_insert(BALL).metres = value,
    }
}

/// Places at which a leg can be measured round.
#[allow(clippy::cast_possible_truncation)] // it is four
const GIRTH_PLACES: u8 = MOST_GIRTHS as u8;

/// In range, while only one of the two measures has been put in.
const UNWASHED: Unwashed = Unwashed {
    width: Length::cm(10),
    height: Length::cm(10),
};

/// In range, while only one of the two was put in.
const PATTERN: PatternSwatch = PatternSwatch {
    stitches: 30,
    width: Length::cm(10),
};

/// In range, while only one of the two was put in.
const IN_PATTERN: PatternRounds = PatternRounds {
    rounds: 42,
    height: Length::cm(10),
};

/// In range, while only one of the two was put in.
const FLAP: FlapSwatch = FlapSwatch {
    rows: 32,
    height: Length::mm(64),
};

/// In range, while only one of the two figures has been put in.
const BALL: Ball = Ball {
    grams: 100,
    metres: 400,
};

impl NumberField {
    /// The field of a path, if it is a number's.
    pub fn at(path: &str) -> Option<Self> {
        Self::all().into_iter().find(|field| field.path() == path)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::recipe::{Girth, Motif, Stripe, Yarns};
    use crate::stitch::Yarn;

    fn rich(heel: Heel) -> Recipe {
        let girth = Girth {
            height: Length::cm(10),
            circumference: Length::cm(25),
        };
        let stripe = Stripe {
            yarn: Yarn::A,
            rounds: 2,
        };
        Recipe {
            calf: vec![girth; MOST_GIRTHS],
            motif: Some(Motif::default()),
            heel,
            yarns: Some(Yarns {
                stripes: vec![stripe; MOST_STRIPES.into()],
                cuff: Yarn::A,
                heel: Yarn::A,
                toe: Yarn::A,
            }),
            ..Recipe::default()
        }
    }

    #[test]
    fn what_is_put_into_a_field_is_read_from_it_and_from_no_other() {
        for field in NumberField::all() {
            let heel = match field {
                NumberField::HeelBetween => Heel::ShortRow { between: 0 },
                _ => Heel::default(),
            };
            let before = rich(heel);
            let number = match field.unit() {
                Unit::Length => Number::Length(Length(777)),
                _ => Number::Whole(77),
            };
            let mut after = before.clone();
            assert!(field.set(&mut after, number), "{field:?}");
            assert_eq!(field.get(&after), Some(number), "{field:?}");
            for other in NumberField::all() {
                let fellow = Presence::With(field) == other.presence();
                if other != field && !fellow {
                    assert_eq!(other.get(&after), other.get(&before), "{field:?} {other:?}");
                }
            }
        }
    }

    #[test]
    fn what_a_field_cannot_hold_is_not_put_into_it() {
        let mut recipe = Recipe::default();
        for (field, number) in [
            (NumberField::EasePercent, Number::Whole(256)),
            (NumberField::Stitches, Number::Whole(-1)),
            (NumberField::AdjustLeg, Number::Whole(40_000)),
            (NumberField::Leg, Number::Whole(4)),
            (NumberField::Stitches, Number::Length(Length::cm(4))),
        ] {
            assert!(!field.set(&mut recipe, number), "{field:?}");
        }
        assert_eq!(recipe, Recipe::default());
    }

    #[test]
    fn every_field_has_a_path_of_its_own() {
        let all = NumberField::all();
        for (nth, field) in all.iter().enumerate() {
            assert_eq!(NumberField::at(&field.path()), Some(*field));
            assert!(!all[..nth].contains(field));
        }
        assert_eq!(NumberField::at("calf.4.height"), None);
        assert_eq!(NumberField::at("calf.#.height"), None);
    }
}
