//! Looks at a motif: whether its rounds fit on each other and every stitch is worked.

use crate::error::{FieldError, Problem};
use crate::recipe::{MOTIF_ROWS, MOTIF_WIDTH, Motif, Row};
use crate::stitch::Op;

/// Most rounds in which a stitch is slipped one after another (from memory).
const MOST_SLIPPED: usize = 4;

impl Row {
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
        for op in self.ops() {
            let (takes, _) = op.chart_width().unwrap_or_default();
            all.extend(std::iter::repeat_n(matches!(op, Op::Slip(_)), takes.into()));
        }
        all
    }
}

impl Motif {
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
        self.check_balance()?;
        match self.longest_slip() {
            Some(rounds) if rounds > MOST_SLIPPED => Err(wrong(Problem::MotifSlippedTooLong {
                rounds,
                most: MOST_SLIPPED,
            })),
            None => Err(wrong(Problem::MotifNeverWorked)),
            Some(_) => Ok(()),
        }
    }

    /// Looks whether every row can be broken off after the balancing stitches.
    fn check_balance(&self) -> Result<(), FieldError> {
        let (balance, width) = (self.balance, self.width());
        let wrong = |problem| Err(FieldError::new("motif.balance", problem));
        if balance > 0 && balance >= width {
            return wrong(Problem::BalanceNotLess { balance, width });
        }
        match (1..)
            .zip(&self.rows)
            .find(|(_, row)| row.split(balance).is_none())
        {
            Some((round, _)) => wrong(Problem::BalanceCutsRound { balance, round }),
            None => Ok(()),
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
