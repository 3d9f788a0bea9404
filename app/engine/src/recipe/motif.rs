//! A pattern repeated over leg and instep: so many stitches wide, so many rounds high.
//!
//! A row is operations in their written form, read in the order in which they are knitted (a chart
//! is read from right to left).

use serde::{Deserialize, Deserializer, Serialize, Serializer};

#[cfg(feature = "schemars")]
use super::ranges::MOTIF_ROWS;
use crate::document_shape::{Document, DocumentShape};
use crate::sort::sort;
use crate::stitch::{Count, Op};
use crate::written_ops::{read_ops, write_ops};

/// A pattern and where it is knitted.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, Document)]
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
    /// Balancing stitches: so many of the repeat's first stitches are worked once more after the last
    /// repeat ("a multiple of 8 stitches plus 1"), so that both sides of a panel are alike. On the front
    /// only: all round the repeats join.
    #[serde(default, skip_serializing_if = "is_none_at_all")]
    pub balance: u16,
    /// Edge stitches: so many are purled on each side of a panel on the front.
    #[serde(default, skip_serializing_if = "is_none_at_all")]
    pub edge: u16,
    /// Which fabric's rounds count where it lies beside plain knitting.
    #[serde(default, skip_serializing_if = "is_usual")]
    #[cfg_attr(feature = "schemars", schemars(extend("default" = RoundsBy::default())))]
    pub rounds_by: RoundsBy,
}

#[allow(clippy::trivially_copy_pass_by_ref)] // serde asks for a reference
const fn is_none_at_all(stitches: &u16) -> bool {
    *stitches == 0
}

#[allow(clippy::trivially_copy_pass_by_ref)] // serde asks for a reference
fn is_usual(by: &RoundsBy) -> bool {
    *by == RoundsBy::default()
}

choice! {
    /// Which fabric's rounds count where a motif lies beside plain knitting, on instep and sole or front
    /// and back: the two have the same number of rounds, however tall each lies by itself.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, Document)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
    #[serde(rename_all = "kebab-case")]
    pub enum RoundsBy {
        /// The plain side's: the sole lies flat, the motif stretches or gathers.
        #[default]
        Plain,
        /// Half way between the two.
        Between,
        /// The motif's: it lies as on its swatch, the plain side follows.
        Pattern,
    }
}

choice! {
    /// Where a motif is knitted.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, Document)]
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

impl Document for Row {
    const SHAPE: DocumentShape = DocumentShape::MotifRound;
}

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

impl Row {
    /// The row in two parts, the first of which takes and makes so many stitches; `None` where no such
    /// place is between two of its operations.
    pub(crate) fn split(&self, stitches: u16) -> Option<(Vec<Op>, Vec<Op>)> {
        let (mut first, mut rest) = (Vec::new(), Vec::new());
        let (mut takes, mut makes) = (0, 0);
        for op in &self.0 {
            if (takes, makes) == (stitches, stitches) {
                rest.push(op.clone());
                continue;
            }
            let (t, m) = op.chart_width()?;
            let room = stitches.checked_sub(takes)?;
            match op.in_run() {
                Some((make, n)) if n.get() > room => {
                    let now = Count::new(room)?;
                    first.push(make(now));
                    rest.push(make(Count::new(n.get() - room)?));
                    takes += room;
                    makes += room;
                }
                _ => {
                    first.push(op.clone());
                    takes += t;
                    makes += m;
                }
            }
        }
        ((takes, makes) == (stitches, stitches)).then_some((first, rest))
    }

    /// Whether it begins or ends with a yarn over, which nothing holds at a needle's end.
    fn has_loose_end(&self) -> bool {
        let over = |op: Option<&Op>| matches!(op, Some(Op::YarnOver | Op::YarnOverBehind));
        over(self.0.first()) || over(self.0.last())
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

    /// Balancing stitches where it has them: on the front.
    pub(crate) fn balancing(&self) -> u16 {
        match self.place {
            MotifPlacement::AllRound => 0,
            MotifPlacement::Front => self.balance,
        }
    }

    /// Edge stitches on each side where it has them: on the front.
    pub(crate) fn edging(&self) -> u16 {
        match self.place {
            MotifPlacement::AllRound => 0,
            MotifPlacement::Front => self.edge,
        }
    }

    /// The same motif with its repeat begun elsewhere, so that no round of it begins or ends with a yarn
    /// over: all that there are, those with as many balancing stitches first, then those begun soonest. A
    /// panel with balancing stitches that was alike on both sides still is.
    pub(crate) fn held_at_the_ends(&self) -> Vec<Self> {
        let width = self.width();
        let begun = (1..width).filter_map(|later| {
            let begun = self.begun_later(later)?;
            let balance = match self.balancing() {
                0 => 0,
                // a mirror's axis moves by as much as the repeat does, on both sides
                now => (now + 2 * width - 2 * later) % width,
            };
            let whole = begun.rows.iter().all(|row| row.split(balance).is_some());
            let held = begun.rows.iter().all(|row| !row.has_loose_end());
            (held && whole).then_some(Self { balance, ..begun })
        });
        let ranked = begun.enumerate().map(|(begun, motif)| {
            let difference = motif.balance.abs_diff(self.balancing());
            ((difference, begun), motif)
        });
        let mut all: Vec<((u16, usize), Self)> = ranked.collect();
        sort(&mut all, |(a, _), (b, _)| a < b);
        all.into_iter().map(|(_, motif)| motif).collect()
    }

    fn begun_later(&self, stitches: u16) -> Option<Self> {
        let rows = self.rows.iter().map(|row| {
            let (first, mut rest) = row.split(stitches)?;
            for op in first {
                let before = rest.last().and_then(Op::in_run);
                match (before, op.in_run()) {
                    (Some((make, n)), Some((_, more))) if make(more) == op => {
                        rest.pop();
                        rest.push(make(n.checked_add(more.get())?));
                    }
                    _ => rest.push(op),
                }
            }
            Some(Row(rest))
        });
        Some(Self {
            rows: rows.collect::<Option<_>>()?,
            ..self.clone()
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn motif(rows: &[&str], balance: u16) -> Motif {
        Motif {
            rows: rows.iter().filter_map(|row| row.parse().ok()).collect(),
            place: MotifPlacement::Front,
            balance,
            edge: 0,
            rounds_by: RoundsBy::default(),
        }
    }

    #[test]
    fn a_repeat_is_begun_later_where_a_yarn_over_would_lie_at_its_end() {
        let lace = motif(
            &["k1 yo ssk k3 k2tog yo", "k8", "k2 yo ssk k1 k2tog yo k1"],
            1,
        );
        let held = lace
            .held_at_the_ends()
            .into_iter()
            .next()
            .expect("it can be begun elsewhere");
        let rows: Vec<String> = held.rows.iter().map(|row| write_ops(row.ops())).collect();
        assert_eq!(
            rows,
            ["k2 k2tog yo k1 yo ssk k1", "k8", "k1 k2tog yo k3 yo ssk"]
        );
        assert_eq!(held.balance, 1, "both sides of the panel are still alike");
        let mesh = motif(&["yo k2tog"], 0);
        assert_eq!(mesh.held_at_the_ends(), [], "it can be begun nowhere else");
    }

    #[test]
    fn a_row_is_parted_only_where_it_keeps_its_stitches() {
        let row: Row = "k3 yo ssk".parse().expect("a row");
        let told = |at| {
            row.split(at)
                .map(|(first, rest)| (write_ops(&first), write_ops(&rest)))
        };
        assert_eq!(told(0), Some((String::new(), "k3 yo ssk".into())));
        assert_eq!(told(2), Some(("k2".into(), "k1 yo ssk".into())));
        assert_eq!(told(3), Some(("k3".into(), "yo ssk".into())));
        assert_eq!(told(4), None);
        assert_eq!(told(5), Some(("k3 yo ssk".into(), String::new())));
    }
}
