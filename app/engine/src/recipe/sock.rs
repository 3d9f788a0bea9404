//! The recipe of a sock as a whole, and what of it is too small for a file of its own.

use serde::{Deserialize, Serialize};

use super::cuff::{BindOff, CastOn, Cuff, Edge, Rib, Stretch};
use super::heel::Heel;
use super::motif::Motif;
use super::needles::Method;
#[cfg(feature = "schemars")]
use super::ranges::MOST_GIRTHS;
use super::ranges::STITCHES;
use super::toe::{Toe, ToeCastOn};
use super::written::Written;
use super::yarns::Yarns;
use crate::document_shape::{Document, count_choices};
use crate::foot::Foot;
use crate::swatch::Swatch;
use crate::units::Length;

/// Everything a sock is made from. Lengths are tenths of a millimetre.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Recipe {
    /// Which end is begun with.
    #[serde(default)]
    pub direction: Direction,
    /// The foot.
    pub foot: Foot,
    /// A washed swatch in stockinette.
    pub swatch: Swatch,
    /// How close it fits.
    #[serde(default)]
    pub fit: Fit,
    /// The cuff.
    #[serde(default)]
    pub cuff: Cuff,
    /// How the cuff is cast on, from the cuff down.
    #[serde(default, skip_serializing_if = "is_default")]
    #[cfg_attr(feature = "schemars", schemars(extend("default" = CastOn::default())))]
    pub cast_on: CastOn,
    /// How the toe is cast on, from the toe up.
    #[serde(default, skip_serializing_if = "is_default")]
    #[cfg_attr(feature = "schemars", schemars(extend("default" = ToeCastOn::default())))]
    pub toe_cast_on: ToeCastOn,
    /// How the cuff is bound off, from the toe up.
    #[serde(default, skip_serializing_if = "is_default")]
    #[cfg_attr(feature = "schemars", schemars(extend("default" = BindOff::default())))]
    pub bind_off: BindOff,
    /// From the cast-on edge to where the heel flap begins, the cuff included; not shorter than
    /// the cuff.
    #[serde(default = "default_leg")]
    pub leg: Length,
    /// Measured round the leg, heights ascending; none for a leg as wide as the ankle.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schemars", schemars(extend("maxItems" = MOST_GIRTHS)))]
    pub calf: Vec<Girth>,
    /// Rounds more or fewer than the measurements ask for.
    #[serde(default, skip_serializing_if = "is_default")]
    pub adjust: Adjust,
    /// The heel.
    #[serde(default)]
    pub heel: Heel,
    /// The toe.
    #[serde(default)]
    pub toe: Toe,
    /// The needles, and how stitches sit on them.
    #[serde(default)]
    pub needles: Method,
    /// A pattern on leg and instep; none for plain knitting.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub motif: Option<Motif>,
    /// Several yarns in stripes and for single parts; none for one yarn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub yarns: Option<Yarns>,
    /// Stitches around, when the knitter decides them; else worked out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schemars", schemars(extend("multipleOf" = 4)))]
    pub stitches: Option<u16>,
    /// The ball, for grams.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ball: Option<Ball>,
    /// A pattern of the knitter's own that is followed; none for a sock of ours.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub written: Option<Written>,
}

impl Recipe {
    /// How many choices and switches a recipe's document has, wherever they stand in it. By this a form can hold that
    /// it asks for all of them.
    pub const CHOICES: usize = count_choices(&<Self as Document>::SHAPE);

    /// What the second sock of the pair is made from, where it is not the same: its toe is shaped
    /// for the other foot.
    #[must_use]
    pub fn second_sock(&self) -> Option<Self> {
        let Toe::Shaped { foot } = self.toe else {
            return None;
        };
        Some(Self {
            toe: Toe::Shaped { foot: foot.other() },
            ..self.clone()
        })
    }
}

impl Recipe {
    /// Whether the leg may be wider than the ankle: at the back, where it is.
    pub fn shapes_leg(&self) -> bool {
        !self.calf.is_empty() || self.fit.tender_legs
    }

    /// The rib that a tubular edge ends; `None` where the cuff has no such edge, or none that is possible.
    pub const fn tubular_rib(&self) -> Option<Rib> {
        let tubular = match self.direction {
            Direction::CuffDown => matches!(self.cast_on, CastOn::Tubular),
            Direction::ToeUp => matches!(self.bind_off, BindOff::Tubular),
        };
        match self.cuff.edge {
            Edge::Rib(rib) if tubular && rib.can_be_tubular() => Some(rib),
            _ => None,
        }
    }

    /// Whether stitches of the cuff are worked in pairs that no needle's end may divide: the points of a
    /// picot hem, and the stitches that cross between a rib of two and two and its tubular edge.
    pub(crate) const fn pairs_in_cuff(&self) -> bool {
        matches!(self.cuff.edge, Edge::Hem { picot: true })
            || matches!(self.tubular_rib(), Some(Rib::TwoByTwo))
    }

    /// Whether the live stitches of a hem are sewn down: from the toe up it has no other edge.
    pub const fn sews_hem(&self) -> bool {
        matches!(self.direction, Direction::ToeUp) && matches!(self.cuff.edge, Edge::Hem { .. })
    }

    /// Whether the last edge is worked with a thread on a tapestry needle, so that a tail is left for it.
    pub const fn sews_edge(&self) -> bool {
        matches!(self.direction, Direction::ToeUp)
            && (self.sews_hem() || matches!(self.bind_off, BindOff::Sewn | BindOff::Tubular))
    }

    /// Whether the cuff is bound off stitch over stitch, which wants a thicker needle.
    pub const fn binds_off_plainly(&self) -> bool {
        matches!(self.direction, Direction::ToeUp)
            && !self.sews_hem()
            && matches!(self.bind_off, BindOff::Plain)
    }

    /// How far the edge of the cuff stretches. Sewn down, the stitches of a hem do as they did.
    pub const fn edge_stretch(&self) -> Stretch {
        match self.direction {
            Direction::CuffDown => self.cast_on.stretch(),
            Direction::ToeUp if self.sews_hem() => Stretch::Usual,
            Direction::ToeUp => self.bind_off.stretch(),
        }
    }

    /// Whether so many stitches would make a tube at least half as wide again as the foot, in
    /// stockinette: no number of stitches to offer.
    fn is_far_too_wide(&self, stitches: u16) -> bool {
        let tube = u64::from(stitches) * u64::from(self.swatch.width.0);
        let foot = u64::from(self.foot.round_ball().0) * u64::from(self.swatch.stitches);
        2 * tube > 3 * foot
    }

    /// The nearest numbers of stitches around below and above one, in whole multiples, that a sock for
    /// this foot can have.
    pub(crate) fn multiples_near(
        &self,
        stitches: u16,
        multiple: u16,
    ) -> (Option<u16>, Option<u16>) {
        let all = STITCHES.filter(|n| n.is_multiple_of(multiple) && !self.is_far_too_wide(*n));
        let all: Vec<u16> = all.collect();
        let below = all.iter().rev().find(|n| **n < stitches);
        let above = all.iter().find(|n| **n > stitches);
        (below.copied(), above.copied())
    }
}

fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

const fn default_leg() -> Length {
    Length::cm(16)
}

impl Default for Recipe {
    fn default() -> Self {
        Self {
            direction: Direction::default(),
            foot: Foot {
                length: Length::cm(24),
                circumference: None,
                heel_diagonal: None,
            },
            swatch: Swatch::default(),
            fit: Fit::default(),
            cuff: Cuff::default(),
            cast_on: CastOn::default(),
            toe_cast_on: ToeCastOn::default(),
            bind_off: BindOff::default(),
            leg: default_leg(),
            calf: Vec::new(),
            adjust: Adjust::default(),
            heel: Heel::default(),
            toe: Toe::default(),
            needles: Method::default(),
            motif: None,
            yarns: None,
            stitches: None,
            ball: None,
            written: None,
        }
    }
}

choice! {
    /// Which end of the sock is begun with.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, Document)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
    #[serde(rename_all = "kebab-case")]
    pub enum Direction {
        /// From the cuff down to the toe.
        #[default]
        CuffDown,
        /// From the toe up to the cuff.
        ToeUp,
    }
}

/// How close the sock fits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[allow(clippy::struct_excessive_bools)] // each is a choice of its own
pub struct Fit {
    /// Negative ease: how much smaller the sock is than the foot round the ball, in percent.
    pub ease_percent: u8,
    /// How much shorter the sock's foot is than the foot.
    pub length_ease: Length,
    /// A high instep: a longer flap with a wider gusset, or rounds in the middle of a short-row heel.
    /// Not for an afterthought heel.
    #[serde(default, skip_serializing_if = "is_default")]
    pub high_instep: bool,
    /// Wide toes: the toe ends with eight stitches more. Not for a round toe.
    #[serde(default, skip_serializing_if = "is_default")]
    pub wide_toes: bool,
    /// A narrow heel: its cup is two stitches narrower.
    #[serde(default, skip_serializing_if = "is_default")]
    pub narrow_heel: bool,
    /// Tender or swollen legs: leg and cuff have no negative ease, and the edge is the stretchiest.
    #[serde(default, skip_serializing_if = "is_default")]
    pub tender_legs: bool,
}

impl Default for Fit {
    /// 10 % and 1 cm: common practice for adults.
    fn default() -> Self {
        Self {
            ease_percent: 10,
            length_ease: Length::cm(1),
            high_instep: false,
            wide_toes: false,
            narrow_heel: false,
            tender_legs: false,
        }
    }
}

/// Rounds that the knitter adds to leg and foot or leaves out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Adjust {
    /// To the leg, under the cuff.
    #[serde(default)]
    pub leg: i16,
    /// To the foot, between heel and toe.
    #[serde(default)]
    pub foot: i16,
}

/// The leg's circumference at a height.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Girth {
    /// Above where the heel begins.
    pub height: Length,
    /// Round the leg there.
    pub circumference: Length,
}

/// One ball of the yarn, from its band.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Ball {
    /// Grams in a ball.
    pub grams: u16,
    /// Metres in a ball.
    pub metres: u16,
}
