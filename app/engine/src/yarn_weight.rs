//! Yarn weights: the standard categories by the gauge they are usually knitted at, for a hint
//! beside a swatch. A hint only: the swatch decides, and sock fabric is knitted tighter than the
//! same yarn would be elsewhere.
//!
//! Ranges: Craft Yarn Council, Standard Yarn Weight System, as seen in copies. How tight socks are
//! knitted: from memory. Both row by row in the outside checks.

use std::ops::RangeInclusive;

use serde::{Deserialize, Serialize};

/// A category by its name. Stored with a sock: names are never changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum WeightName {
    /// Thinner than sock yarn.
    Lace,
    /// What socks are mostly knitted in.
    #[default]
    Fingering,
    /// A little thicker.
    Sport,
    /// For house socks and boots.
    Dk,
    /// For thick socks.
    Worsted,
    /// For slippers.
    Bulky,
}

impl WeightName {
    /// Every one of them, in the order of [`WEIGHTS`].
    pub const ALL: [Self; WEIGHTS.len()] = [
        Self::Lace,
        Self::Fingering,
        Self::Sport,
        Self::Dk,
        Self::Worsted,
        Self::Bulky,
    ];
}

/// One category.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct YarnWeight {
    /// Its number in the system.
    pub number: u8,
    /// What the trade calls such yarn.
    pub name: &'static str,
    /// Stitches to 10 cm in stockinette.
    pub stitches: RangeInclusive<u16>,
    /// Stitches to 10 cm in socks, where that is known to be tighter.
    pub in_socks: Option<RangeInclusive<u16>>,
    /// Usual needles, in hundredths of a millimetre.
    pub needles: RangeInclusive<u16>,
}

const fn weight(
    number: u8,
    name: &'static str,
    stitches: RangeInclusive<u16>,
    needles: RangeInclusive<u16>,
) -> YarnWeight {
    YarnWeight {
        number,
        name,
        stitches,
        in_socks: None,
        needles,
    }
}

/// The categories that a sock of ours can be knitted in, thin to thick.
pub const WEIGHTS: [YarnWeight; 6] = [
    weight(0, "lace", 33..=40, 150..=225),
    YarnWeight {
        in_socks: Some(28..=36),
        ..weight(1, "fingering", 27..=32, 225..=325)
    },
    weight(2, "sport", 23..=26, 325..=375),
    weight(3, "DK", 21..=24, 375..=450),
    weight(4, "worsted", 16..=20, 450..=550),
    weight(5, "bulky", 12..=15, 550..=800),
];

/// The weight that a sock of this gauge, in tenths of a stitch to 10 cm, is usually knitted in;
/// `None` beyond the categories. Where two share a gauge the thinner one is meant: socks are knitted
/// tightly.
pub fn usual_for(gauge_tenths: u64) -> Option<&'static YarnWeight> {
    let gauge = u16::try_from(gauge_tenths.saturating_add(5) / 10).ok()?;
    let in_socks = |w: &&YarnWeight| w.in_socks.as_ref().is_some_and(|r| r.contains(&gauge));
    WEIGHTS
        .iter()
        .find(in_socks)
        .or_else(|| WEIGHTS.iter().find(|w| w.stitches.contains(&gauge)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_socks_gauge_names_its_yarn() {
        let name = |gauge: u64| usual_for(gauge * 10).map(|w| w.name);
        assert_eq!(name(30), Some("fingering"));
        assert_eq!(name(35), Some("fingering"));
        assert_eq!(name(27), Some("fingering"));
        assert_eq!(name(24), Some("sport"));
        assert_eq!(name(22), Some("DK"));
        assert_eq!(name(38), Some("lace"));
        assert_eq!(name(11), None);
        // 26.4 and 26.5: between two categories the nearer one
        assert_eq!(usual_for(264).map(|w| w.name), Some("sport"));
        assert_eq!(usual_for(265).map(|w| w.name), Some("fingering"));
    }
}
