//! A pattern repeated over leg and instep: so many stitches wide, so many rounds high.
//!
//! A row is operations in their written form, read in the order in which they are knitted (a chart
//! is read from right to left).

use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::{MOTIF_ROWS, MOTIF_WIDTH};
use crate::error::FieldError;
use crate::stitch::{Op, read_ops, write_ops};

/// Most rounds in which a stitch is slipped one after another (from memory).
const MOST_SLIPPED: usize = 4;

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
    pub place: Place,
}

choice! {
    /// Where a motif is knitted.
    #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
    #[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
    #[serde(rename_all = "kebab-case")]
    pub enum Place {
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

    /// Looks whether the round of that number, from 1, makes as many stitches as it takes.
    ///
    /// # Errors
    /// What it takes and makes, and what would help.
    pub fn check(&self, number: usize) -> Result<(), FieldError> {
        let (takes, makes) = self.counts();
        if makes == takes {
            return Ok(());
        }
        Err(FieldError::new(
            "motif.rows",
            format!("Round {number} of the motif makes {makes} stitches of {takes}."),
            "Each round keeps the count: give every yarn over a decrease, and every decrease a yarn over.",
        ))
    }

    /// Which of the stitches it takes are slipped.
    fn slipped(&self) -> Vec<bool> {
        let mut all = Vec::new();
        for op in &self.0 {
            let (takes, _) = op.chart_width().unwrap_or_default();
            all.extend(std::iter::repeat_n(matches!(op, Op::Slip(_)), takes.into()));
        }
        all
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

    /// Looks whether every row takes and makes as many stitches as the first one takes.
    pub(crate) fn check(&self) -> Result<(), FieldError> {
        let wrong = |message: String, help: &str| FieldError::new("motif.rows", message, help);
        let rows = self.rows.len();
        if !u16::try_from(rows).is_ok_and(|n| MOTIF_ROWS.contains(&n)) {
            return Err(wrong(
                format!(
                    "The motif has {rows} rounds; it can have {} to {}.",
                    MOTIF_ROWS.start(),
                    MOTIF_ROWS.end()
                ),
                "Enter one repeat only; it is knitted again and again.",
            ));
        }
        let width = self.rows.first().map_or(0, |r| r.counts().0);
        if !u16::try_from(width).is_ok_and(|w| MOTIF_WIDTH.contains(&w)) {
            return Err(wrong(
                format!(
                    "The motif is {width} stitches wide; it can be {} to {}.",
                    MOTIF_WIDTH.start(),
                    MOTIF_WIDTH.end()
                ),
                "Enter one repeat only; it is knitted again and again.",
            ));
        }
        for (number, row) in (1..).zip(&self.rows) {
            row.check(number)?;
            let (takes, _) = row.counts();
            if takes != width {
                return Err(wrong(
                    format!(
                        "Round {number} of the motif is worked over {takes} stitches, the first one over {width}."
                    ),
                    "All rounds of a repeat are equally wide.",
                ));
            }
        }
        let help = "Knit it in between: a stitch that is never worked pulls the sock together.";
        match self.longest_slip() {
            Some(rounds) if rounds > MOST_SLIPPED => Err(wrong(
                format!(
                    "A stitch of the motif is slipped in {rounds} rounds one after another; it can be {MOST_SLIPPED} at most."
                ),
                help,
            )),
            None => Err(wrong(
                "A stitch of the motif is slipped in every round.".to_owned(),
                help,
            )),
            Some(_) => Ok(()),
        }
    }

    /// The most rounds in which one column is slipped one after another, over the repeat's end too;
    /// `None` where that has no end.
    fn longest_slip(&self) -> Option<usize> {
        let rows: Vec<Vec<bool>> = self.rows.iter().map(Row::slipped).collect();
        let longest = |column: usize| {
            let at = |i: usize| rows[i % rows.len()].get(column) == Some(&true);
            let run = |from: usize| (0..rows.len()).take_while(|i| at(from + i)).count();
            (0..rows.len()).map(run).max().unwrap_or(0)
        };
        let columns = 0..usize::from(self.width());
        let most = columns.map(longest).max().unwrap_or(0);
        (most < rows.len()).then_some(most)
    }
}
