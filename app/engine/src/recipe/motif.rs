//! A pattern repeated over leg and instep: so many stitches wide, so many rounds high.
//!
//! A row is operations in their written form, read in the order in which they are knitted (a chart
//! is read from right to left).

use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::ranges::{MOTIF_ROWS, MOTIF_WIDTH};
use crate::error::{FieldError, Problem};
use crate::stitch::{Op, read_ops, write_ops};

/// Most rounds in which a stitch is slipped one after another (from memory).
const MOST_SLIPPED: usize = 4;

/// A pattern and where it is knitted.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Motif {
    /// Its rounds, the first one first.
    pub rows: Vec<Row>,
    /// Where it is knitted.
    #[serde(default)]
    pub place: Place,
}

/// Where a motif is knitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Place {
    /// All round the leg, and on the instep.
    #[default]
    AllRound,
    /// On the front of the leg and on the instep; as many repeats as fit, in the middle.
    Front,
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
    /// What it takes and makes.
    pub fn check(&self, number: usize) -> Result<(), FieldError> {
        let (takes, makes) = self.counts();
        if makes == takes {
            return Ok(());
        }
        Err(FieldError::new(
            "motif.rows",
            Problem::MotifCountNotKept {
                round: number,
                takes,
                makes,
            },
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
        let wrong = |problem| FieldError::new("motif.rows", problem);
        let rounds = self.rows.len();
        if !u16::try_from(rounds).is_ok_and(|n| MOTIF_ROWS.contains(&n)) {
            return Err(wrong(Problem::MotifRoundsOutOfRange {
                rounds,
                least: *MOTIF_ROWS.start(),
                most: *MOTIF_ROWS.end(),
            }));
        }
        let width = self.rows.first().map_or(0, |r| r.counts().0);
        if !u16::try_from(width).is_ok_and(|w| MOTIF_WIDTH.contains(&w)) {
            return Err(wrong(Problem::MotifWidthOutOfRange {
                width,
                least: *MOTIF_WIDTH.start(),
                most: *MOTIF_WIDTH.end(),
            }));
        }
        for (number, row) in (1..).zip(&self.rows) {
            row.check(number)?;
            let (takes, _) = row.counts();
            if takes != width {
                return Err(wrong(Problem::MotifUneven {
                    round: number,
                    width: takes,
                    first: width,
                }));
            }
        }
        match self.longest_slip() {
            Some(rounds) if rounds > MOST_SLIPPED => Err(wrong(Problem::MotifSlippedTooLong {
                rounds,
                most: MOST_SLIPPED,
            })),
            None => Err(wrong(Problem::MotifNeverWorked)),
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
