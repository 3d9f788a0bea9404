//! A motif's chart, read from its rows as text: what each row makes of the stitches below it, stitch
//! by stitch. It knows neither needles nor how anything is worked.

use super::hands::{Face, How, Id};
use super::panel::Panel;

/// One sign of a chart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Sign {
    /// One stitch out of one.
    Plain(How, Face),
    /// One stitch goes up unworked.
    Slip,
    /// One stitch out of two.
    Together(How),
    /// One stitch out of none.
    Over,
    /// Of `over + under` stitches the `over` ones pass in front to the other side.
    Cross {
        over: usize,
        under: usize,
        to_the_right: bool,
        ground: Face,
    },
}

impl Sign {
    /// Stitches taken from the row below, and stitches in this one.
    const fn takes_and_makes(self) -> (usize, usize) {
        match self {
            Self::Plain(..) | Self::Slip => (1, 1),
            Self::Together(_) => (2, 1),
            Self::Over => (0, 1),
            Self::Cross { over, under, .. } => (over + under, over + under),
        }
    }
}

/// A stitch as a chart wants it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Due {
    /// The stitch that was there, slipped.
    Same(Id),
    /// A new one, out of these, made like this, with this face.
    New(Vec<Id>, How, Face),
}

/// A motif.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chart {
    rows: Vec<Vec<Sign>>,
    wide: usize,
}

impl Chart {
    /// Reads the rows, the first one worked first, each in the order in which it is worked.
    ///
    /// # Errors
    /// The number of the row, from 1, that has an unknown sign or another width.
    pub fn read<'a>(rows: impl IntoIterator<Item = &'a str>) -> Result<Self, usize> {
        let mut chart = Self {
            rows: Vec::new(),
            wide: 0,
        };
        for (i, text) in rows.into_iter().enumerate() {
            let mut row = Vec::new();
            for word in text.split_whitespace() {
                read_sign(word, &mut row).ok_or(i + 1)?;
            }
            let takes: usize = row.iter().map(|s| s.takes_and_makes().0).sum();
            let makes: usize = row.iter().map(|s| s.takes_and_makes().1).sum();
            if i == 0 {
                chart.wide = takes;
            }
            if takes != makes || takes != chart.wide || !(1..=24).contains(&takes) || i >= 48 {
                return Err(i + 1);
            }
            chart.rows.push(row);
        }
        if chart.rows.is_empty() {
            Err(0)
        } else {
            Ok(chart)
        }
    }

    /// Stitches of one repeat.
    pub const fn wide(&self) -> usize {
        self.wide
    }

    /// Rows until it starts again.
    pub const fn tall(&self) -> usize {
        self.rows.len()
    }

    /// What a row, from 0, makes of the stitches below, which lie like this.
    pub fn over(&self, row: usize, below: &[Id], panel: Panel) -> Vec<Due> {
        let mut made = Vec::with_capacity(below.len());
        let one = |face| move |id: &Id| Due::New(vec![*id], How::Worked, face);
        let mut left = below;
        let mut next = |n: usize| {
            let (here, rest) = left.split_at(n.min(left.len()));
            left = rest;
            here
        };
        let edge = panel.edge as usize;
        made.extend(next(panel.margin as usize).iter().map(one(Face::Knit)));
        made.extend(next(edge).iter().map(one(Face::Purl)));
        for below in next(self.wide * panel.repeats as usize).chunks(self.wide) {
            Self::once(&self.rows[row], below, &mut made);
        }
        let balance = next(panel.balance as usize);
        let begun = self.first(row, balance.len()).unwrap_or_default();
        Self::once(&self.rows[row][..begun], balance, &mut made);
        made.extend(next(edge).iter().map(one(Face::Purl)));
        made.extend(left.iter().map(one(Face::Knit)));
        made
    }

    /// How many signs of a row take and make so many stitches from its beginning.
    fn first(&self, row: usize, stitches: usize) -> Option<usize> {
        let mut sum = (0, 0);
        let signs = &self.rows[row];
        (0..=signs.len()).find(|n| {
            if *n > 0 {
                let (takes, makes) = signs[n - 1].takes_and_makes();
                sum = (sum.0 + takes, sum.1 + makes);
            }
            sum == (stitches, stitches)
        })
    }

    /// Whether every row can be broken off after so many stitches, which are no whole repeat.
    pub fn breaks_off(&self, stitches: usize) -> bool {
        let fewer = stitches == 0 || stitches < self.wide;
        fewer && (0..self.tall()).all(|row| self.first(row, stitches).is_some())
    }

    /// The same chart, its repeat begun so many stitches later, where that is between two signs of every
    /// row.
    pub fn begun_later(&self, stitches: usize) -> Option<Self> {
        let rows = (0..self.tall()).map(|row| {
            let mut signs = self.rows[row].clone();
            signs.rotate_left(self.first(row, stitches)?);
            Some(signs)
        });
        Some(Self {
            rows: rows.collect::<Option<_>>()?,
            wide: self.wide,
        })
    }

    /// Whether no row begins or ends with a yarn over.
    pub fn is_held(&self) -> bool {
        let over = |sign: Option<&Sign>| sign == Some(&Sign::Over);
        !self
            .rows
            .iter()
            .any(|row| over(row.first()) || over(row.last()))
    }

    /// Whether it can be begun so.
    pub fn can_be_held(&self) -> bool {
        let mut all = (0..self.wide).filter_map(|later| self.begun_later(later));
        all.any(|chart| chart.is_held())
    }

    fn once(signs: &[Sign], mut below: &[Id], made: &mut Vec<Due>) {
        for sign in signs {
            let (takes, _) = sign.takes_and_makes();
            let (here, rest) = below.split_at(takes.min(below.len()));
            below = rest;
            match *sign {
                Sign::Plain(how, face) => made.push(Due::New(here.to_vec(), how, face)),
                Sign::Slip => made.extend(here.iter().map(|id| Due::Same(*id))),
                Sign::Together(how) => made.push(Due::New(here.to_vec(), how, Face::Knit)),
                Sign::Over => made.push(Due::New(Vec::new(), How::Over, Face::Knit)),
                Sign::Cross {
                    over,
                    under,
                    to_the_right,
                    ground,
                } => {
                    // Counted in the direction of knitting, from right to left: what goes to the
                    // right lay after the others and comes to lie before them.
                    let first = if to_the_right { under } else { over };
                    let (earlier, later) = here.split_at(first.min(here.len()));
                    for (ids, passes_in_front) in [(later, to_the_right), (earlier, !to_the_right)]
                    {
                        let face = if passes_in_front { Face::Knit } else { ground };
                        made.extend(ids.iter().map(|id| Due::New(vec![*id], How::Worked, face)));
                    }
                }
            }
        }
    }

    /// How much narrower than stockinette it lies, in thousandths: crossed columns a fifth, slipped ones
    /// a tenth, twisted ones a twentieth; each change between a column that is always knit and one that
    /// is always purl a fifth of a stitch, together a tenth at most.
    pub fn draws_in(&self) -> u64 {
        let seen: Vec<Vec<Sign>> = (0..self.wide)
            .map(|column| self.rows.iter().filter_map(|row| at(row, column)).collect())
            .collect();
        let has = |column: usize, is: fn(&Sign) -> bool| seen[column].iter().any(is);
        let crossed = |column| has(column, |s| matches!(s, Sign::Cross { .. }));
        let slipped = |column| has(column, |s| *s == Sign::Slip);
        let twisted = |column| has(column, |s| matches!(s, Sign::Plain(How::Twisted, _)));
        let knit = |column| {
            has(column, |s| {
                matches!(s, Sign::Plain(_, Face::Knit) | Sign::Together(_))
            })
        };
        let purl = |column| has(column, |s| matches!(s, Sign::Plain(_, Face::Purl)));
        let (mut apart, mut changes) = (0, 0);
        for column in 0..self.wide {
            apart += match (crossed(column), slipped(column), twisted(column)) {
                (true, ..) => 200,
                (_, true, _) => 100,
                (.., true) => 50,
                _ => 0,
            };
            let next = (column + 1) % self.wide;
            let always = |column| match (crossed(column), knit(column), purl(column)) {
                (false, true, false) => Some(Face::Knit),
                (false, false, true) => Some(Face::Purl),
                _ => None,
            };
            if let (Some(one), Some(other)) = (always(column), always(next)) {
                changes += u64::from(one != other);
            }
        }
        let wide = self.wide as u64;
        apart / wide + (200 * changes / wide).min(100)
    }

    /// The most rows, one after another, through which a stitch goes up unworked; `None` where one
    /// never is worked.
    pub fn longest_slip(&self) -> Option<usize> {
        let slips_in = |row: &Vec<Sign>, column: usize| {
            let mut at = 0;
            row.iter().any(|sign| {
                let here = at;
                at += sign.takes_and_makes().0;
                *sign == Sign::Slip && here == column
            })
        };
        let mut longest = 0;
        for column in 0..self.wide {
            let mut run = 0;
            for row in self.rows.iter().chain(&self.rows) {
                run = if slips_in(row, column) { run + 1 } else { 0 };
                longest = longest.max(run);
            }
        }
        (longest < 2 * self.tall()).then_some(longest)
    }
}

/// The sign that is worked over a column.
fn at(row: &[Sign], column: usize) -> Option<Sign> {
    let mut end = 0;
    row.iter().copied().find(|sign| {
        end += sign.takes_and_makes().0;
        end > column
    })
}

/// Reads one word of a row; runs are written out.
fn read_sign(word: &str, row: &mut Vec<Sign>) -> Option<()> {
    match word {
        "k2tog" => row.push(Sign::Together(How::LeansRight)),
        "ssk" => row.push(Sign::Together(How::LeansLeft)),
        "yo" => row.push(Sign::Over),
        _ => {
            if let Some(cross) = word.strip_prefix('c') {
                row.push(read_cross(cross)?);
                return Some(());
            }
            let end = word.trim_end_matches(|c: char| c.is_ascii_digit()).len();
            let times: usize = word[end..].parse().ok()?;
            let sign = match &word[..end] {
                "k" => Sign::Plain(How::Worked, Face::Knit),
                "p" => Sign::Plain(How::Worked, Face::Purl),
                "kt" => Sign::Plain(How::Twisted, Face::Knit),
                "s" => Sign::Slip,
                _ => return None,
            };
            if times == 0 || times > 24 {
                return None;
            }
            row.extend(std::iter::repeat_n(sign, times));
        }
    }
    Some(())
}

/// What follows the `c`: `r2/2`, `lp1/2`.
fn read_cross(word: &str) -> Option<Sign> {
    let (to_the_right, rest) = match word.strip_prefix('r') {
        Some(rest) => (true, rest),
        None => (false, word.strip_prefix('l')?),
    };
    let (ground, rest) = match rest.strip_prefix('p') {
        Some(rest) => (Face::Purl, rest),
        None => (Face::Knit, rest),
    };
    let (over, under) = rest.split_once('/')?;
    let (over, under): (usize, usize) = (over.parse().ok()?, under.parse().ok()?);
    (over > 0 && under > 0 && over + under <= 6).then_some(Sign::Cross {
        over,
        under,
        to_the_right,
        ground,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The stitches below, in the order of the stitches above them.
    fn order(row: &str) -> Vec<Id> {
        let chart = Chart::read([row]).expect("a chart");
        let below: Vec<Id> = (0..chart.wide()).collect();
        chart
            .over(0, &below, Panel::alone(chart.wide()))
            .into_iter()
            .flat_map(|due| match due {
                Due::Same(id) => vec![id],
                Due::New(ids, ..) => ids,
            })
            .collect()
    }

    #[test]
    fn crosses_change_the_order() {
        // Two over one: to the right they were the last and become the first.
        assert_eq!(order("k1 cr2/1"), [0, 2, 3, 1]);
        assert_eq!(order("cl2/1 p1"), [2, 0, 1, 3]);
        assert_eq!(order("cl1/3 cr1/3"), [1, 2, 3, 0, 7, 4, 5, 6]);
    }

    #[test]
    fn widths_are_kept() {
        assert_eq!(Chart::read(["yo k2tog", "k2"]).map(|c| c.wide()), Ok(2));
        assert_eq!(Chart::read(["k2", "yo k2"]), Err(2));
        assert_eq!(Chart::read(["k2", "k3"]), Err(2));
        assert_eq!(Chart::read(["k25"]), Err(1));
        assert_eq!(Chart::read([]), Err(0));
        assert_eq!(Chart::read(["m1"]), Err(1));
    }

    #[test]
    fn a_stitch_that_is_never_worked_is_found() {
        let slip = |rows: &[&str]| {
            let chart = Chart::read(rows.iter().copied()).expect("a chart");
            chart.longest_slip()
        };
        assert_eq!(slip(&["k1 s1"]), None);
        assert_eq!(slip(&["k1 s1", "k2"]), Some(1));
        assert_eq!(slip(&["s1 k1", "k2", "s2"]), Some(2));
    }
}
