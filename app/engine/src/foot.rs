//! What was measured on the foot, and estimates for what was not.
//!
//! Proportions: foot circumference about 95 % of foot length, heel diagonal about 35 % over the
//! foot's circumference (survey proportions published in a knitting magazine's sizing guidelines;
//! see the outside checks). A measured number always wins.
//!
//! Pure. May use lengths; must not know a swatch or a sock.

use serde::{Deserialize, Serialize};

use crate::document_shape::Document;
use crate::units::{Length, scaled};

/// A foot. Only its length has to be measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Foot {
    /// From the back of the heel to the longest toe, standing.
    pub length: Length,
    /// Round the ball of the foot; estimated when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub circumference: Option<Length>,
    /// Round heel and instep, from under the heel over the ankle's bend; estimated when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heel_diagonal: Option<Length>,
}

impl Foot {
    /// Round the ball of the foot: measured, else 95 % of the length.
    pub fn round_ball(&self) -> Length {
        self.circumference
            .unwrap_or_else(|| percent_of(self.length, 95))
    }

    /// Round heel and instep: measured, else 135 % of the circumference.
    pub fn round_heel(&self) -> Length {
        self.heel_diagonal
            .unwrap_or_else(|| percent_of(self.round_ball(), 135))
    }
}

/// A share of a length, rounded to a tenth of a millimetre.
pub(crate) fn percent_of(length: Length, percent: u32) -> Length {
    let tenths = scaled(length.0.into(), percent.into(), 100);
    Length(u32::try_from(tenths).unwrap_or(u32::MAX))
}
