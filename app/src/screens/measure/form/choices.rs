//! The choices of the form in their order, where the recipe's own types hold more than one question.

use evenloop_engine::recipe::{
    BindOff, CastOn, Direction, Edge, FlapTexture, Heel, LeftRight, Method, Narrowing, Place, Rib,
    Seating, Toe, Turn,
};
use evenloop_engine::units::LengthUnit;
use serde::{Deserialize, Serialize};

/// The needles, without the seating that only some of them have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(in crate::screens::measure) enum Needles {
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

impl Needles {
    /// In the order of the form.
    pub(in crate::screens::measure) const ALL: [Self; 5] = [
        Self::MagicLoop,
        Self::TwoCirculars,
        Self::FourDpns,
        Self::FiveDpns,
        Self::ShortCircular,
    ];

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
            Self::ShortCircular => Method::ShortCircular,
        }
    }

    pub(super) const fn of(method: Method) -> Self {
        match method {
            Method::MagicLoop { .. } => Self::MagicLoop,
            Method::TwoCirculars { .. } => Self::TwoCirculars,
            Method::FourDpns => Self::FourDpns,
            Method::FiveDpns => Self::FiveDpns,
            Method::ShortCircular => Self::ShortCircular,
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
    /// In the order of the form.
    pub(in crate::screens::measure) const ALL: [Self; 3] =
        [Self::Flap, Self::ShortRow, Self::Afterthought];

    pub(super) const fn of(heel: Heel) -> Self {
        match heel {
            Heel::FlapAndGusset { .. } => Self::Flap,
            Heel::ShortRow { .. } => Self::ShortRow,
            Heel::Afterthought => Self::Afterthought,
        }
    }
}

/// What decides how tall the flap is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(in crate::screens::measure) enum FlapBy {
    /// Its rows; as many as it has stitches when nobody says.
    #[default]
    Rows,
    /// Its height.
    Height,
}

impl FlapBy {
    /// In the order of the form.
    pub(in crate::screens::measure) const ALL: [Self; 2] = [Self::Rows, Self::Height];
}

/// Directions in the order of the form.
pub(in crate::screens::measure) const DIRECTIONS: [Direction; 2] =
    [Direction::CuffDown, Direction::ToeUp];
/// Edges in the order of the form.
pub(in crate::screens::measure) const EDGES: [Edge; 7] = [
    Edge::Rib(Rib::TwoByTwo),
    Edge::Rib(Rib::OneByOne),
    Edge::Rib(Rib::ThreeByOne),
    Edge::Rib(Rib::Twisted),
    Edge::Hem { picot: false },
    Edge::Hem { picot: true },
    Edge::Rolled,
];
/// Cast-ons in the order of the form.
pub(in crate::screens::measure) const CAST_ONS: [CastOn; 3] = CastOn::ALL;
/// Bind-offs in the order of the form.
pub(in crate::screens::measure) const BIND_OFFS: [BindOff; 3] = BindOff::ALL;
/// Flap textures in the order of the form.
pub(in crate::screens::measure) const TEXTURES: [FlapTexture; 3] = FlapTexture::ALL;
/// Turns in the order of the form.
pub(in crate::screens::measure) const TURNS: [Turn; 3] = Turn::ALL;
/// Toes in the order of the form; left and right are one of them.
pub(in crate::screens::measure) const TOES: [Toe; 6] = [
    Toe::Wedge {
        narrowing: Narrowing::Rounded,
    },
    Toe::Wedge {
        narrowing: Narrowing::Even,
    },
    Toe::Wedge {
        narrowing: Narrowing::Long,
    },
    Toe::Round,
    Toe::ShortRow,
    Toe::Shaped {
        foot: LeftRight::Left,
    },
];
/// Feet in the order of the form.
pub(in crate::screens::measure) const FEET: [LeftRight; 2] = [LeftRight::Left, LeftRight::Right];
/// Places of a motif in the order of the form.
pub(in crate::screens::measure) const PLACES: [Place; 2] = [Place::AllRound, Place::Front];
/// Seatings in the order of the form.
pub(in crate::screens::measure) const SEATINGS: [Seating; 2] =
    [Seating::EvenHalves, Seating::InstepAndSole];
/// Units in the order of the form.
pub(in crate::screens::measure) const UNITS: [LengthUnit; 2] = [LengthUnit::Cm, LengthUnit::Inch];

/// Where a toe stands among [`TOES`]: a shaped one there is of either foot.
pub(in crate::screens::measure) fn toe_place(toe: Toe) -> usize {
    let like = match toe {
        Toe::Shaped { .. } => Toe::Shaped { foot: FEET[0] },
        other => other,
    };
    TOES.iter().position(|one| *one == like).unwrap_or(0)
}
