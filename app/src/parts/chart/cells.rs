//! What stands in the cells of a chart, and the rounds it means. Pure.
//!
//! A cell is one stitch of the finished round, so every round of a chart has as many cells; what
//! lies in several of them (a cross) is one symbol. Whether a round takes as many stitches as it
//! makes is counted, not enforced: a yarn over may stand there before its decrease does.

use evenloop_engine::recipe::{MOTIF_ROWS, MOTIF_WIDTH, Row};
use evenloop_engine::stitch::{Count, Cross, Op};
use evenloop_engine::written_ops::write_ops;
use serde::{Deserialize, Serialize};

/// One symbol of a chart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Symbol {
    /// Knit.
    Knit,
    /// Purl.
    Purl,
    /// Knit through the back loop.
    Twisted,
    /// Slip purlwise.
    Slipped,
    /// Yarn over.
    YarnOver,
    /// Knit two together.
    K2tog,
    /// Slip, slip, knit.
    Ssk,
    /// Stitches that cross over one another.
    Cross(Cross),
}

impl Symbol {
    /// Every symbol but the crosses.
    pub const SINGLE: [Self; 7] = [
        Self::Knit,
        Self::Purl,
        Self::YarnOver,
        Self::K2tog,
        Self::Ssk,
        Self::Twisted,
        Self::Slipped,
    ];

    /// Cells it covers.
    pub const fn span(self) -> usize {
        match self {
            Self::Cross(cross) => cross.width() as usize,
            _ => 1,
        }
    }

    /// The symbol of an operation and how often it stands there; `None` for what no chart holds.
    fn of(op: &Op) -> Option<(Self, u16)> {
        Some(match op {
            Op::Knit(n) => (Self::Knit, n.get()),
            Op::Purl(n) => (Self::Purl, n.get()),
            Op::KnitThroughBackLoop(n) => (Self::Twisted, n.get()),
            Op::Slip(n) => (Self::Slipped, n.get()),
            Op::YarnOver => (Self::YarnOver, 1),
            Op::K2tog => (Self::K2tog, 1),
            Op::Ssk => (Self::Ssk, 1),
            Op::Cross(cross) => (Self::Cross(*cross), 1),
            _ => return None,
        })
    }

    /// The operation of so many neighbours, where they are one run.
    fn run(self, n: Count) -> Option<Op> {
        Some(match self {
            Self::Knit => Op::Knit(n),
            Self::Purl => Op::Purl(n),
            Self::Twisted => Op::KnitThroughBackLoop(n),
            Self::Slipped => Op::Slip(n),
            Self::YarnOver | Self::K2tog | Self::Ssk | Self::Cross(_) => return None,
        })
    }

    const fn alone(self) -> Op {
        match self {
            Self::Knit => Op::Knit(Count::MIN),
            Self::Purl => Op::Purl(Count::MIN),
            Self::Twisted => Op::KnitThroughBackLoop(Count::MIN),
            Self::Slipped => Op::Slip(Count::MIN),
            Self::YarnOver => Op::YarnOver,
            Self::K2tog => Op::K2tog,
            Self::Ssk => Op::Ssk,
            Self::Cross(cross) => Op::Cross(cross),
        }
    }
}

/// The symbols of one round in the order in which they are knitted.
pub fn symbols(row: &Row) -> Vec<Symbol> {
    row.ops()
        .iter()
        .filter_map(Symbol::of)
        .flat_map(|(symbol, times)| std::iter::repeat_n(symbol, times.into()))
        .collect()
}

/// The operations of symbols, neighbours of one kind as one run.
fn ops(symbols: &[Symbol]) -> Vec<Op> {
    let mut out = Vec::new();
    for same in symbols.chunk_by(|a, b| a == b) {
        let run = u16::try_from(same.len())
            .ok()
            .and_then(Count::new)
            .and_then(|n| same[0].run(n));
        match run {
            Some(run) => out.push(run),
            None => out.extend(same.iter().map(|symbol| symbol.alone())),
        }
    }
    out
}

/// A chart: rounds of equally many cells, at least one of each.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Vec<String>", into = "Vec<String>")]
pub struct Cells {
    width: usize,
    rounds: Vec<Vec<Symbol>>,
}

impl Cells {
    /// A chart of knit stitches.
    pub fn plain(width: usize, height: usize) -> Self {
        let width = width.max(1);
        Self {
            width,
            rounds: vec![vec![Symbol::Knit; width]; height.max(1)],
        }
    }

    /// The chart of a motif's rounds; `None` when they are not equally wide, or larger than a motif
    /// can be.
    pub fn of(rows: &[Row]) -> Option<Self> {
        let rounds: Vec<Vec<Symbol>> = rows.iter().map(symbols).collect();
        let width_of = |round: &Vec<Symbol>| round.iter().map(|s| s.span()).sum::<usize>();
        let width = rounds.first().map(width_of)?;
        let even = rounds.iter().all(|round| width_of(round) == width);
        let fits = width >= 1
            && width <= usize::from(*MOTIF_WIDTH.end())
            && rounds.len() <= usize::from(*MOTIF_ROWS.end());
        (even && fits).then_some(Self { width, rounds })
    }

    /// The rounds as a recipe holds them.
    ///
    /// # Errors
    /// What the recipe says of a round that it does not hold; none that a chart can show.
    pub fn rows(&self) -> Result<Vec<Row>, String> {
        self.texts().iter().map(|text| text.parse()).collect()
    }

    fn texts(&self) -> Vec<String> {
        self.rounds
            .iter()
            .map(|round| write_ops(&ops(round)))
            .collect()
    }

    /// Cells of a round.
    pub const fn width(&self) -> usize {
        self.width
    }

    /// Rounds.
    pub const fn height(&self) -> usize {
        self.rounds.len()
    }

    /// The symbols of a round, counted from 0, in the order in which they are knitted.
    pub fn round(&self, round: usize) -> &[Symbol] {
        self.rounds.get(round).map_or(&[], Vec::as_slice)
    }

    /// Each symbol that stands in it once, in the order met.
    pub fn used(&self) -> Vec<Symbol> {
        let mut used = Vec::new();
        for symbol in self.rounds.iter().flatten() {
            if !used.contains(symbol) {
                used.push(*symbol);
            }
        }
        used
    }

    /// A round, counted from 0, as a recipe holds it.
    pub fn row(&self, round: usize) -> Option<Row> {
        write_ops(&ops(self.rounds.get(round)?)).parse().ok()
    }

    /// The cell that a symbol begins in, where it covers the given one.
    pub fn start_of(&self, round: usize, cell: usize) -> usize {
        let mut at = 0;
        for symbol in self.round(round) {
            if at + symbol.span() > cell {
                break;
            }
            at += symbol.span();
        }
        at.min(cell)
    }

    /// The symbol that covers a cell.
    pub fn symbol_at(&self, round: usize, cell: usize) -> Option<Symbol> {
        let mut left = cell;
        for symbol in self.round(round) {
            left = match left.checked_sub(symbol.span()) {
                Some(rest) => rest,
                None => return Some(*symbol),
            };
        }
        None
    }

    /// Puts a symbol where a cell is, further to the front where it would not fit; what it covers
    /// goes, and the rest of a cross that it cuts becomes knit stitches. Says where it begins;
    /// `None` when the chart is too narrow for it.
    pub fn put(&mut self, round: usize, cell: usize, symbol: Symbol) -> Option<usize> {
        let span = symbol.span();
        let last = self.width.checked_sub(span)?;
        let start = cell.min(last);
        let old = self.rounds.get_mut(round)?;
        *old = laid(old, start, symbol);
        Some(start)
    }

    /// Makes a round plain.
    pub fn clear(&mut self, round: usize) {
        if let Some(round) = self.rounds.get_mut(round) {
            *round = vec![Symbol::Knit; self.width];
        }
    }

    /// Puts a copy of some rounds, the last of which is given, after it; not beyond the rounds that a
    /// motif can have.
    pub fn copy_after(&mut self, last: usize, many: usize) {
        let first = (last + 1).saturating_sub(many);
        let Some(copied) = self.rounds.get(first..=last).map(<[_]>::to_vec) else {
            return;
        };
        if self.rounds.len() + copied.len() <= usize::from(*MOTIF_ROWS.end()) {
            let after = last + 1;
            self.rounds.splice(after..after, copied);
        }
    }

    /// Takes a round out; the last one stays.
    pub fn take_out(&mut self, round: usize) {
        if self.rounds.len() > 1 && round < self.rounds.len() {
            self.rounds.remove(round);
        }
    }

    /// Makes it as wide and as high: new cells are knit stitches at the end of the rounds and new
    /// rounds come last; what is cut off is gone.
    pub fn resize(&mut self, width: usize, height: usize) {
        let (width, height) = (width.max(1), height.max(1));
        for round in &mut self.rounds {
            let mut left = width;
            let mut kept = Vec::with_capacity(width);
            for &symbol in round.iter() {
                if symbol.span() > left {
                    break;
                }
                left -= symbol.span();
                kept.push(symbol);
            }
            kept.extend(std::iter::repeat_n(Symbol::Knit, left));
            *round = kept;
        }
        self.width = width;
        self.rounds.resize(height, vec![Symbol::Knit; width]);
    }
}

/// A round with a symbol laid over it from a cell on.
fn laid(round: &[Symbol], start: usize, new: Symbol) -> Vec<Symbol> {
    let end = start + new.span();
    let mut before = Vec::with_capacity(round.len());
    let mut after = Vec::new();
    let mut at = 0;
    for &old in round {
        let (from, to) = (at, at + old.span());
        at = to;
        if to <= start {
            before.push(old);
        } else if from >= end {
            after.push(old);
        } else {
            before.extend(std::iter::repeat_n(
                Symbol::Knit,
                start.saturating_sub(from),
            ));
            after.extend(std::iter::repeat_n(Symbol::Knit, to.saturating_sub(end)));
        }
    }
    before.push(new);
    before.extend(after);
    before
}

impl TryFrom<Vec<String>> for Cells {
    type Error = String;

    fn try_from(texts: Vec<String>) -> Result<Self, String> {
        let rows: Vec<Row> = texts
            .iter()
            .map(|text| text.parse())
            .collect::<Result<_, String>>()?;
        Self::of(&rows).ok_or_else(|| "rounds that are no chart".to_owned())
    }
}

impl From<Cells> for Vec<String> {
    fn from(cells: Cells) -> Self {
        cells.texts()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chart(texts: &[&str]) -> Cells {
        let texts: Vec<String> = texts.iter().map(|&text| text.to_owned()).collect();
        Cells::try_from(texts).expect("a chart")
    }

    fn cross(text: &str) -> Symbol {
        Symbol::Cross(text.parse().expect("a cross"))
    }

    fn texts(cells: &Cells) -> Vec<String> {
        cells.clone().into()
    }

    #[test]
    fn rounds_come_back_as_they_were_written() {
        let written = [
            "k1 yo ssk k1 k2tog yo",
            "kt2 p1 s3",
            "cr2/2 clp1/1",
            "k2tog k2tog yo yo p2",
        ];
        assert_eq!(texts(&chart(&written)), written);
        let rows = chart(&written).rows().expect("rows");
        assert_eq!(Cells::of(&rows), Some(chart(&written)));
    }

    #[test]
    fn neighbours_become_one_run_however_they_came_there() {
        let mut cells = Cells::plain(5, 1);
        for cell in [3, 1, 2] {
            assert_eq!(cells.put(0, cell, Symbol::Purl), Some(cell));
        }
        assert_eq!(texts(&cells), ["k1 p3 k1"]);
        cells.put(0, 2, Symbol::Knit);
        assert_eq!(texts(&cells), ["k1 p1 k1 p1 k1"]);
        assert_eq!(texts(&chart(&["k1 k1 k3"])), ["k5"]);
    }

    #[test]
    fn a_round_stays_as_wide_whatever_is_put_into_it() {
        let symbols = [
            Symbol::Purl,
            Symbol::YarnOver,
            cross("cr1/1"),
            cross("clp2/1"),
            cross("cl3/3"),
        ];
        for first in symbols {
            for second in symbols {
                for (a, b) in (0..8).flat_map(|a| (0..8).map(move |b| (a, b))) {
                    let mut cells = Cells::plain(8, 1);
                    cells.put(0, a, first);
                    let start = cells.put(0, b, second).expect("it fits");
                    let round = cells.round(0);
                    let width: usize = round.iter().map(|s| s.span()).sum();
                    assert_eq!(width, 8, "{first:?} at {a}, {second:?} at {b}: {round:?}");
                    let mut at = 0;
                    let there = round.iter().any(|symbol| {
                        let here = at == start && *symbol == second;
                        at += symbol.span();
                        here
                    });
                    assert!(there, "{second:?} at {b}: {round:?}");
                }
            }
        }
    }

    #[test]
    fn a_cut_cross_leaves_knit_stitches() {
        let mut cells = chart(&["p1 cr2/2 p1"]);
        cells.put(0, 2, Symbol::Purl);
        assert_eq!(texts(&cells), ["p1 k1 p1 k2 p1"]);
        let mut cells = chart(&["p1 cr2/2 p1"]);
        cells.put(0, 4, cross("cl1/1"));
        assert_eq!(texts(&cells), ["p1 k3 cl1/1"]);
    }

    #[test]
    fn a_cross_at_the_edge_moves_in_and_a_wider_one_does_not_fit() {
        let mut cells = Cells::plain(4, 1);
        assert_eq!(cells.put(0, 3, cross("cl2/2")), Some(0));
        assert_eq!(cells.put(0, 0, cross("cl3/2")), None);
        assert_eq!(cells.put(7, 0, Symbol::Purl), None);
        assert_eq!(texts(&cells), ["cl2/2"]);
    }

    #[test]
    fn resizing_cuts_and_fills() {
        let mut cells = chart(&["p2 cr2/2", "k6"]);
        cells.resize(4, 3);
        assert_eq!(texts(&cells), ["p2 k2", "k4", "k4"]);
        cells.resize(5, 1);
        assert_eq!(texts(&cells), ["p2 k3"]);
        cells.resize(0, 0);
        assert_eq!(texts(&cells), ["p1"]);
    }

    #[test]
    fn whole_rounds_are_copied_cleared_and_taken_out() {
        let mut cells = chart(&["k2", "p2", "k1 p1"]);
        cells.copy_after(1, 2);
        assert_eq!(texts(&cells), ["k2", "p2", "k2", "p2", "k1 p1"]);
        cells.copy_after(0, 1);
        assert_eq!(texts(&cells)[..3], ["k2", "k2", "p2"]);
        cells.clear(2);
        assert_eq!(texts(&cells)[2], "k2");
        for _ in 0..50 {
            cells.copy_after(1, 2);
        }
        assert_eq!(cells.height(), 48, "no more than a motif can have");
        for _ in 0..50 {
            cells.take_out(0);
        }
        assert_eq!(texts(&cells), ["k1 p1"]);
    }

    #[test]
    fn a_symbol_is_found_from_every_cell_it_covers() {
        let cells = chart(&["p1 cr2/2 p1"]);
        let starts: Vec<usize> = (0..8).map(|cell| cells.start_of(0, cell)).collect();
        assert_eq!(starts, [0, 1, 1, 1, 1, 5, 6, 6]);
    }

    #[test]
    fn what_a_round_takes_and_makes_is_counted() {
        let counts = |cells: &Cells| cells.row(0).map(|row| row.counts());
        let mut cells = Cells::plain(6, 1);
        assert_eq!(counts(&cells), Some((6, 6)));
        cells.put(0, 2, Symbol::YarnOver);
        assert_eq!(counts(&cells), Some((5, 6)));
        cells.put(0, 3, Symbol::Ssk);
        assert_eq!(counts(&cells), Some((6, 6)));
        assert_eq!(cells.row(1), None);
    }

    #[test]
    fn rounds_of_different_width_are_no_chart() {
        for bad in [&["k2", "k3"][..], &[], &["bo3"], &["k600"]] {
            let texts: Vec<String> = bad.iter().map(|&text| text.to_owned()).collect();
            assert!(Cells::try_from(texts).is_err(), "{bad:?}");
        }
    }
}
