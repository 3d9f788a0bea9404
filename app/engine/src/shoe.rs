//! Shoe sizes to foot length, for a knitter who cannot measure the foot.
//!
//! Adults: the formulas behind ISO 19407 (EU = 1.5 x length in cm + 2; UK = 3 x length in inches -
//! 23; US men's = UK + 1; US women's = UK + 2). Children: the standard's recommended markings at
//! 20 mm steps, with straight lines between them. Both as seen in second-hand copies; shoes differ
//! by maker, so a measured foot always wins.
//!
//! Pure. Must not know a sock; what comes of a size is an estimate that the form names as one.

use serde::{Deserialize, Serialize};

use crate::units::{Length, scaled};

/// Whose scale a size is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Scale {
    /// European (Paris points), adults and children.
    Eu,
    /// British, adults.
    Uk,
    /// American men's.
    UsMen,
    /// American women's.
    UsWomen,
    /// British, children: begins again at 1 after 13½.
    UkChild,
    /// American, children: half a size above the British.
    UsChild,
}

impl Scale {
    /// Every scale.
    pub const ALL: [Self; 6] = [
        Self::Eu,
        Self::Uk,
        Self::UsMen,
        Self::UsWomen,
        Self::UkChild,
        Self::UsChild,
    ];

    /// Smallest and largest size, in half sizes. On a child's scale sizes after 13½ are counted on:
    /// 1 is 14.
    pub const fn halves(self) -> (u16, u16) {
        match self {
            Self::Eu => (34, 100),
            Self::Uk => (4, 32),
            Self::UsMen => (6, 34),
            Self::UsWomen => (8, 36),
            Self::UkChild => (4, 33),
            Self::UsChild => (5, 34),
        }
    }
}

/// Foot length in mm, EU and child UK size in halves (1 after 13½ counted as 14).
const CHILDREN: [(u32, u16, u16); 6] = [
    (120, 39, 7),
    (140, 45, 12),
    (160, 52, 18),
    (180, 58, 23),
    (200, 65, 28),
    (220, 71, 33),
];

/// Foot length for a size given in half sizes (EU 38½ is 77); `None` outside the scale.
pub fn foot_length(scale: Scale, halves: u16) -> Option<Length> {
    let (low, high) = scale.halves();
    if !(low..=high).contains(&halves) {
        return None;
    }
    match scale {
        Scale::Eu if halves < 71 => child(halves, |row| row.1),
        Scale::Eu => Some(tenths(u64::from(halves) - 4, 100, 3)),
        Scale::Uk => Some(adult_uk(halves)),
        Scale::UsMen => Some(adult_uk(halves - 2)),
        Scale::UsWomen => Some(adult_uk(halves - 4)),
        Scale::UkChild => child(halves, |row| row.2),
        Scale::UsChild => child(halves - 1, |row| row.2),
    }
}

/// (UK + 23) / 3 inches.
fn adult_uk(halves: u16) -> Length {
    tenths(u64::from(halves) + 46, 254, 6)
}

fn tenths(a: u64, b: u64, c: u64) -> Length {
    Length(u32::try_from(scaled(a, b, c)).unwrap_or(u32::MAX))
}

/// On the straight line between the two rows round a size, and on beyond the first and last.
fn child(halves: u16, size: impl Fn(&(u32, u16, u16)) -> u16) -> Option<Length> {
    let pair = CHILDREN
        .windows(2)
        .find(|pair| halves <= size(&pair[1]))
        .or_else(|| CHILDREN.windows(2).last())?;
    let [from, to] = pair else { return None };
    let span = i64::from(size(to)) - i64::from(size(from));
    let along = i64::from(halves) - i64::from(size(from));
    let length = i64::from(from.0) * 10 + along * i64::from(to.0 - from.0) * 10 / span;
    u32::try_from(length).ok().map(Length)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_size_of_every_scale_has_a_longer_foot_than_the_one_before() {
        for scale in Scale::ALL {
            let (low, high) = scale.halves();
            let mut before = Length(0);
            for halves in low..=high {
                let length = foot_length(scale, halves).expect("in the scale");
                assert!(
                    length > before,
                    "{scale:?} {halves}: {length} after {before}"
                );
                before = length;
            }
            assert_eq!(foot_length(scale, low - 1), None);
            assert_eq!(foot_length(scale, high + 1), None);
        }
    }
}
