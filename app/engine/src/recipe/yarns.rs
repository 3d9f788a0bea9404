//! Several yarns: a sequence of stripes, and single parts in a yarn of their own.

use serde::{Deserialize, Serialize};

#[cfg(feature = "schemars")]
use super::ranges::STRIPES;
use crate::document_shape::Document;
use crate::sort::sort;
use crate::stitch::Yarn;

/// Which part is knitted with which yarn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Yarns {
    /// The stripes of leg and foot, again and again; they go on from leg to foot without a break.
    #[cfg_attr(feature = "schemars", schemars(extend("minItems" = STRIPES.start(), "maxItems" = STRIPES.end())))]
    pub stripes: Vec<Stripe>,
    /// Cuff, with its cast-on or bind-off.
    #[serde(default)]
    pub cuff: Yarn,
    /// What is worked back and forth at the heel; all of an afterthought heel.
    #[serde(default)]
    pub heel: Yarn,
    /// The toe.
    #[serde(default)]
    pub toe: Yarn,
}

/// One stripe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Document)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Stripe {
    /// In which yarn.
    pub yarn: Yarn,
    /// How many rounds.
    pub rounds: u16,
}

impl Yarns {
    /// The yarn of a round of leg or foot, counted from 0 through all of them.
    pub fn of_round(&self, round: u32) -> Yarn {
        let all: u32 = self.stripes.iter().map(|s| u32::from(s.rounds)).sum();
        let mut left = round.checked_rem(all).unwrap_or(0);
        for stripe in &self.stripes {
            match left.checked_sub(stripe.rounds.into()) {
                None => return stripe.yarn,
                Some(rest) => left = rest,
            }
        }
        Yarn::default()
    }

    /// Every yarn that is used, in order.
    pub fn used(&self) -> Vec<Yarn> {
        let stripes = self.stripes.iter().map(|s| s.yarn);
        let mut all: Vec<Yarn> = stripes.chain([self.cuff, self.heel, self.toe]).collect();
        sort(&mut all, |a, b| a < b);
        all.dedup();
        all
    }
}
