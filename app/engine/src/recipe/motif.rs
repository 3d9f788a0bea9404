//! A pattern repeated over leg and instep: so many stitches wide, so many rounds high.
//!
//! A row is operations in their written form, read in the order in which they are knitted (a chart
//! is read from right to left).

use serde::{Deserialize, Deserializer, Serialize, Serializer};

#[cfg(feature = "schemars")]
use super::ranges::MOTIF_ROWS;
use crate::stitch::{Op, read_ops, write_ops};

/// A pattern and where it is knitted.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Motif {
    /// Its rounds, the first one first, all over the same 1 to 24 stitches and each making as many
    /// as it takes.
    #[cfg_attr(feature = "schemars", schemars(extend("minItems" = MOTIF_ROWS.start(), "maxItems" = MOTIF_ROWS.end())))]
    pub rows: Vec<Row>,
    /// Where it is knitted.
    #[serde(default)]
    pub place: MotifPlacement,
}

choice! {
    /// Where a motif is knitted.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
    #[serde(rename_all = "kebab-case")]
    pub enum MotifPlacement {
        /// All round the leg, and on the instep.
        #[default]
        AllRound,
        /// On the front of the leg and on the instep; as many repeats as fit, in the middle.
        Front,
    }
}

/// One round of the repeat.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row(Vec<Op>);

impl Row {
    /// Its operations.
    pub fn ops(&self) -> &[Op] {
        &self.0
    }

    /// Stitches it takes and stitches it makes.
    pub fn counts(&self) -> (u32, u32) {
        self.0.iter().fold((0, 0), |(takes, makes), op| {
            let (t, m) = op.chart_width().unwrap_or_default();
            (takes + u32::from(t), makes + u32::from(m))
        })
    }
}

impl Serialize for Row {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_str(&write_ops(&self.0))
    }
}

impl<'de> Deserialize<'de> for Row {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        String::deserialize(d)?
            .parse()
            .map_err(serde::de::Error::custom)
    }
}

impl std::str::FromStr for Row {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let ops = read_ops(text).map_err(|e| e.to_string())?;
        match ops.iter().find(|op| op.chart_width().is_none()) {
            Some(op) => Err(format!("“{op}” does not belong in a motif")),
            None => Ok(Self(ops)),
        }
    }
}

impl Motif {
    /// Stitches of one repeat; at least 1.
    pub fn width(&self) -> u16 {
        let (takes, _) = self.rows.first().map_or((1, 1), Row::counts);
        u16::try_from(takes).unwrap_or(u16::MAX).max(1)
    }
}
