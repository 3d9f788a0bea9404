//! What can be answered to each question: the values in the order of the form, each with its name, a
//! sentence about it and perhaps a drawing. A value that is missing here does not compile.

use evenloop_engine::recipe::{
    BindOff, CastOn, CircularLength, Direction, Edge, FlapTexture, Heel, HeelOpening, HeelTurn,
    LeftRight, Method, MotifPlacement, Narrowing, Rib, RoundsBy, Seating, Toe, ToeCastOn,
};
use evenloop_engine::units::LengthUnit;
use evenloop_engine::yarn_weight::WeightName;
use serde::{Deserialize, Serialize};

use crate::parts::Choice;
use crate::screens::measure::drawings;
use crate::text::Named;
use crate::text::measure::choices as text;

/// A value that is chosen from a few.
pub(in crate::screens::measure) trait Answer:
    Copy + PartialEq + Sized + 'static
{
    /// What there is to choose from, in the order of the form.
    const ALL: &'static [Self];

    /// The one of them that this is: some stand for several values.
    fn offered(self) -> Self;

    /// What is said of it.
    fn choice(self) -> Choice;

    /// Where it stands among them.
    fn index(self) -> usize {
        let offered = self.offered();
        Self::ALL
            .iter()
            .position(|one| *one == offered)
            .unwrap_or(0)
    }

    /// Takes the one at an index, if there is one.
    fn pick(&mut self, index: usize) {
        if let Some(one) = Self::ALL.get(index) {
            *self = *one;
        }
    }

    /// Its name.
    fn name(self) -> &'static str {
        self.choice().name
    }

    /// All of them.
    fn choices() -> Vec<Choice> {
        Self::ALL.iter().map(|one| one.choice()).collect()
    }
}

/// What is said of one thing to choose.
pub(in crate::screens::measure) const fn choice(named: Named) -> Choice {
    Choice::with_note(named.name, named.note)
}

/// The pattern of a row: the value itself, unless it stands for others, too.
macro_rules! pattern {
    ([$($value:tt)+]) => { $($value)+ };
    ([$($value:tt)+] [$($for:tt)+]) => { $($for)+ };
}

macro_rules! answers {
    ($kind:ty {
        $([$($value:tt)+] $(for [$($for:tt)+])? => $text:expr $(, $drawing:path)?;)+
    }) => {
        impl Answer for $kind {
            const ALL: &'static [Self] = &[$($($value)+),+];

            fn offered(self) -> Self {
                match self {
                    $(pattern!([$($value)+] $([$($for)+])?) => $($value)+,)+
                }
            }

            fn choice(self) -> Choice {
                match self {
                    $(pattern!([$($value)+] $([$($for)+])?) => choice($text)$(.drawn($drawing))?,)+
                }
            }
        }
    };
}

/// The needles, without the seating that only some of them have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(in crate::screens::measure) enum NeedleChoice {
    /// One long circular.
    MagicLoop,
    /// Two circulars.
    TwoCirculars,
    /// Four double-pointed.
    FourDpns,
    /// Five double-pointed.
    FiveDpns,
    /// One short circular.
    ShortCircular,
}

impl NeedleChoice {
    /// Whether there are two halves, so that a seating can be chosen.
    pub(in crate::screens::measure) const fn has_halves(self) -> bool {
        matches!(self, Self::MagicLoop | Self::TwoCirculars)
    }

    pub(super) const fn method(self, seating: Seating) -> Method {
        match self {
            Self::MagicLoop => Method::MagicLoop { seating },
            Self::TwoCirculars => Method::TwoCirculars { seating },
            Self::FourDpns => Method::FourDpns,
            Self::FiveDpns => Method::FiveDpns,
            Self::ShortCircular => Method::ShortCircular { length: None },
        }
    }

    pub(super) const fn of(method: Method) -> Self {
        match method {
            Method::MagicLoop { .. } => Self::MagicLoop,
            Method::TwoCirculars { .. } => Self::TwoCirculars,
            Method::FourDpns => Self::FourDpns,
            Method::FiveDpns => Self::FiveDpns,
            Method::ShortCircular { .. } => Self::ShortCircular,
        }
    }
}

/// The heel, without what only some of them have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(in crate::screens::measure) enum HeelKind {
    /// Flap and gusset.
    Flap,
    /// Short rows there and back.
    ShortRow,
    /// Knitted last.
    Afterthought,
}

impl HeelKind {
    /// A heel of this kind with all that is usual.
    pub(super) fn heel(self) -> Heel {
        match self {
            Self::Flap => Heel::default(),
            Self::ShortRow => Heel::ShortRow { between: 0 },
            Self::Afterthought => Heel::Afterthought {
                opening: HeelOpening::default(),
            },
        }
    }

    pub(super) const fn of(heel: Heel) -> Self {
        match heel {
            Heel::FlapAndGusset { .. } => Self::Flap,
            Heel::ShortRow { .. } => Self::ShortRow,
            Heel::Afterthought { .. } => Self::Afterthought,
        }
    }
}

/// What decides how tall the flap is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(in crate::screens::measure) enum FlapBy {
    /// Its rows; as many as it has stitches where they are left empty.
    #[default]
    Rows,
    /// Its height.
    Height,
}

/// What says how many stitches and rounds there are to a length.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(in crate::screens::measure) enum GaugeBy {
    /// A swatch.
    #[default]
    Swatch,
    /// Nothing yet: a first guess from the yarn.
    Guess,
}

answers! { LengthUnit {
    [Self::Cm] => text::UNIT_CM;
    [Self::Inch] => text::UNIT_INCH;
} }

answers! { GaugeBy {
    [Self::Swatch] => text::BY_SWATCH;
    [Self::Guess] => text::BY_GUESS;
} }

answers! { WeightName {
    [Self::Lace] => text::WEIGHT_LACE;
    [Self::Fingering] => text::WEIGHT_FINGERING;
    [Self::Sport] => text::WEIGHT_SPORT;
    [Self::Dk] => text::WEIGHT_DK;
    [Self::Worsted] => text::WEIGHT_WORSTED;
    [Self::Bulky] => text::WEIGHT_BULKY;
} }

answers! { Direction {
    [Self::CuffDown] => text::CUFF_DOWN;
    [Self::ToeUp] => text::TOE_UP;
} }

answers! { Edge {
    [Self::Rib(Rib::TwoByTwo)] => text::RIB_TWO_BY_TWO;
    [Self::Rib(Rib::OneByOne)] => text::RIB_ONE_BY_ONE;
    [Self::Rib(Rib::ThreeByOne)] => text::RIB_THREE_BY_ONE;
    [Self::Rib(Rib::Twisted)] => text::RIB_TWISTED;
    [Self::Hem { picot: false }] => text::HEM;
    [Self::Hem { picot: true }] => text::HEM_PICOT;
    [Self::Rolled] => text::ROLLED;
} }

answers! { CastOn {
    [Self::LongTail] => text::CAST_ON_LONG_TAIL;
    [Self::TwistedLongTail] => text::CAST_ON_TWISTED;
    [Self::KnittedOn] => text::CAST_ON_KNITTED;
    [Self::SlipKnot] => text::CAST_ON_SLIP_KNOT;
    [Self::Tubular] => text::CAST_ON_TUBULAR;
} }

answers! { ToeCastOn {
    [Self::Magic] => text::TOE_CAST_ON_MAGIC;
    [Self::Wrapped] => text::TOE_CAST_ON_WRAPPED;
    [Self::Provisional] => text::TOE_CAST_ON_PROVISIONAL;
} }

answers! { BindOff {
    [Self::Plain] => text::BIND_OFF_PLAIN;
    [Self::Sewn] => text::BIND_OFF_SEWN;
    [Self::Tubular] => text::BIND_OFF_TUBULAR;
    [Self::YarnOver] => text::BIND_OFF_YARN_OVER;
    [Self::WorkedTogether] => text::BIND_OFF_TOGETHER;
} }

answers! { HeelKind {
    [Self::Flap] => text::HEEL_FLAP;
    [Self::ShortRow] => text::HEEL_SHORT_ROW;
    [Self::Afterthought] => text::HEEL_AFTERTHOUGHT;
} }

answers! { HeelOpening {
    [Self::WasteYarn] => text::OPENING_WASTE_YARN;
    [Self::Snipped] => text::OPENING_SNIPPED;
} }

answers! { FlapTexture {
    [Self::SlippedStitch] => text::FLAP_SLIPPED;
    [Self::EyeOfPartridge] => text::FLAP_PARTRIDGE;
    [Self::GarterEdge] => text::FLAP_GARTER_EDGE;
} }

answers! { HeelTurn {
    [Self::Round] => text::TURN_ROUND;
    [Self::Square] => text::TURN_SQUARE;
    [Self::Band] => text::TURN_BAND;
} }

answers! { FlapBy {
    [Self::Rows] => text::FLAP_BY_ROWS;
    [Self::Height] => text::FLAP_BY_HEIGHT;
} }

answers! { Toe {
    [Self::Wedge { narrowing: Narrowing::Rounded }] => text::TOE_ROUNDED;
    [Self::Wedge { narrowing: Narrowing::Even }] => text::TOE_EVEN;
    [Self::Wedge { narrowing: Narrowing::Long }] => text::TOE_LONG;
    [Self::Round] => text::TOE_ROUND;
    [Self::ShortRow] => text::TOE_SHORT_ROW;
    [Self::Shaped { foot: LeftRight::Left }] for [Self::Shaped { .. }] => text::TOE_SHAPED;
} }

answers! { LeftRight {
    [Self::Left] => text::FOOT_LEFT;
    [Self::Right] => text::FOOT_RIGHT;
} }

answers! { MotifPlacement {
    [Self::AllRound] => text::PLACE_ALL_ROUND;
    [Self::Front] => text::PLACE_FRONT;
} }

answers! { RoundsBy {
    [Self::Plain] => text::ROUNDS_BY_PLAIN;
    [Self::Between] => text::ROUNDS_BY_BETWEEN;
    [Self::Pattern] => text::ROUNDS_BY_PATTERN;
} }

answers! { NeedleChoice {
    [Self::MagicLoop] => text::MAGIC_LOOP, drawings::magic_loop;
    [Self::TwoCirculars] => text::TWO_CIRCULARS, drawings::two_circulars;
    [Self::FourDpns] => text::FOUR_DPNS, drawings::four_dpns;
    [Self::FiveDpns] => text::FIVE_DPNS, drawings::five_dpns;
    [Self::ShortCircular] => text::SHORT_CIRCULAR, drawings::short_circular;
} }

answers! { CircularLength {
    [Self::Cm20] => text::CIRCULAR_20;
    [Self::Cm23] => text::CIRCULAR_23;
    [Self::Cm25] => text::CIRCULAR_25;
    [Self::Cm30] => text::CIRCULAR_30;
} }

answers! { Seating {
    [Self::EvenHalves] => text::EVEN_HALVES, drawings::even_halves;
    [Self::InstepAndSole] => text::INSTEP_AND_SOLE, drawings::instep_and_sole;
} }
