//! On which real needle stitches lie in the middle of a walk, where the hands' needles are already
//! divided as they will be at its end.
//!
//! Two circulars: each stitch stays on the circular that worked it. Double-pointed needles: the needle
//! that works holds what it has worked and nothing else (common practice, no source).

use evenloop_engine::recipe::Method;
use evenloop_tests::model::hands::{Cell, Hands, Id};

pub(crate) struct Lying {
    method: Method,
    /// Whether the step at hand is walked move by move.
    pub(crate) walked: bool,
    /// Stitches that were told to wait.
    waiting: Vec<Id>,
}

impl Lying {
    pub(crate) const fn on(method: Method) -> Self {
        Self {
            method,
            walked: false,
            waiting: Vec::new(),
        }
    }

    /// What a knitter counts on the needle that was just worked.
    pub(crate) fn counted(&self, hands: &Hands) -> usize {
        self.counted_at(hands, hands.needle)
    }

    /// What a knitter counts on one of the needles.
    pub(crate) fn counted_at(&self, hands: &Hands, needle: usize) -> usize {
        let cells = &hands.needles[needle];
        let at_work = needle == hands.needle;
        let live = |cells: &[Cell]| cells.iter().filter(|c| matches!(c, Cell::Live(_))).count();
        match self.method {
            // A closed cast-on lays loops where nothing has been worked.
            Method::FourDpns | Method::FiveDpns
                if at_work && self.walked && live(&cells[..hands.at]) > 0 =>
            {
                live(&cells[..hands.at])
            }
            Method::TwoCirculars { .. } => {
                let here = |id: &&Id| cells.contains(&Cell::Live(**id));
                let waits = self.still_waiting(hands);
                let first = cells.contains(&Cell::Begin);
                let (among, elsewhere): (Vec<&Id>, Vec<&Id>) = waits.iter().partition(here);
                live(cells) - if first { 0 } else { among.len() }
                    + if first { elsewhere.len() } else { 0 }
            }
            _ => live(cells),
        }
    }

    /// What a note says of stitches that wait.
    pub(crate) fn read(&mut self, note: &str, hands: &Hands) -> Result<(), String> {
        if note.contains("These stitches wait until the end of the round") {
            self.waiting = hands.from_begin();
            self.waiting.retain(|id| hands.made[*id].born == hands.now);
        }
        let told = note.split(". ").find_map(|s| {
            let (n, rest) = s.split_once(" heel stitches wait ")?;
            Some((n.parse::<usize>().ok()?, rest))
        });
        let waiting = self.still_waiting(hands).len();
        match told {
            Some((n, _)) if n == waiting => Ok(()),
            Some((n, _)) => Err(format!("{n} wait by the words, {waiting} do")),
            None => Ok(()),
        }
    }

    fn still_waiting(&self, hands: &Hands) -> Vec<Id> {
        let mut waiting = self.waiting.clone();
        waiting.retain(|id| !hands.made[*id].used);
        waiting
    }
}
