//! The parts of a sock, their stored names, and what each calls the stitches it takes over.
//!
//! Stored plans name sections by [`SectionKind::key`]: a key is never changed.

use crate::needles::{Needles, Origin};
use crate::recipe::SockPart;

/// The parts of a sock. A sock has some of them, in the order of its construction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum SectionKind {
    /// Casting on, dividing and joining.
    CastOn,
    /// The ribbed cuff.
    Cuff,
    /// The plain leg.
    Leg,
    /// The slipped-stitch heel flap, worked back and forth.
    HeelFlap,
    /// The short rows that turn the heel.
    HeelTurn,
    /// Picking up along the flap and rearranging the stitches on the needles.
    PickUp,
    /// The gusset: decreased from the cuff down, increased from the toe up.
    Gusset,
    /// A heel in short rows there and back.
    ShortHeel,
    /// The waste yarn that keeps the place of a later heel.
    HeelPlace,
    /// The foot.
    Foot,
    /// The toe: decreased from the cuff down, increased from the toe up.
    Toe,
    /// Closing the toe: re-seating and grafting, or drawing together.
    Close,
    /// A heel knitted last, where the waste yarn was.
    LateHeel,
    /// Closing that heel.
    LateClose,
    /// Binding off the cuff.
    BindOff,
}

impl SectionKind {
    /// All sections in order.
    pub const ALL: [Self; 15] = [
        Self::CastOn,
        Self::Cuff,
        Self::Leg,
        Self::HeelFlap,
        Self::HeelTurn,
        Self::PickUp,
        Self::Gusset,
        Self::ShortHeel,
        Self::HeelPlace,
        Self::Foot,
        Self::Toe,
        Self::Close,
        Self::LateHeel,
        Self::LateClose,
        Self::BindOff,
    ];

    /// The name used in the stored form.
    pub const fn key(self) -> &'static str {
        match self {
            Self::CastOn => "cast-on",
            Self::Cuff => "cuff",
            Self::Leg => "leg",
            Self::HeelFlap => "heel-flap",
            Self::HeelTurn => "heel-turn",
            Self::PickUp => "pick-up",
            Self::Gusset => "gusset",
            Self::Foot => "foot",
            Self::Toe => "toe",
            Self::Close => "close",
            Self::ShortHeel => "short-row-heel",
            Self::HeelPlace => "heel-place",
            Self::LateHeel => "late-heel",
            Self::LateClose => "late-close",
            Self::BindOff => "bind-off",
        }
    }

    /// The section of that stored name.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|k| k.key() == key)
    }

    /// The part of a sock that it belongs to, as a written pattern may give it. A section of the toe-up cast-on
    /// belongs to the toe, whatever is said here.
    pub const fn part(self) -> SockPart {
        match self {
            Self::CastOn | Self::Cuff | Self::BindOff => SockPart::Cuff,
            Self::Leg => SockPart::Leg,
            Self::HeelFlap
            | Self::HeelTurn
            | Self::PickUp
            | Self::Gusset
            | Self::ShortHeel
            | Self::HeelPlace
            | Self::LateHeel
            | Self::LateClose => SockPart::Heel,
            Self::Foot => SockPart::Foot,
            Self::Toe | Self::Close => SockPart::Toe,
        }
    }

    /// Calls stitches by what they have become when this section begins.
    pub(crate) fn rename(self, needles: &mut Needles) {
        use Origin::{Back, Front, GussetLeft, GussetRight, Heel, Instep, Sole};
        let rule: fn(Origin) -> Origin = match self {
            Self::HeelFlap | Self::HeelTurn | Self::ShortHeel => |o| match o {
                Back | Sole => Heel,
                Front => Instep,
                other => other,
            },
            Self::HeelPlace => |o| match o {
                Back => Sole,
                Front => Instep,
                other => other,
            },
            // the toe too: a short foot has no plain rounds
            Self::Foot | Self::Toe => |o| match o {
                Heel | GussetLeft | GussetRight => Sole,
                other => other,
            },
            Self::Leg | Self::Cuff => |o| match o {
                Heel | Sole => Back,
                Instep => Front,
                other => other,
            },
            Self::CastOn
            | Self::PickUp
            | Self::Gusset
            | Self::Close
            | Self::LateHeel
            | Self::LateClose
            | Self::BindOff => return,
        };
        needles.rename(rule);
    }
}

/// Section kinds by their stored names.
pub(crate) mod section_key {
    use serde::{Deserialize, Deserializer, Serializer};

    use super::SectionKind;

    #[allow(clippy::trivially_copy_pass_by_ref)] // serde's signature
    pub(crate) fn serialize<S: Serializer>(kind: &SectionKind, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_str(kind.key())
    }

    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(d: D) -> Result<SectionKind, D::Error> {
        let key = String::deserialize(d)?;
        SectionKind::from_key(&key).ok_or_else(|| serde::de::Error::custom("unknown section"))
    }
}
