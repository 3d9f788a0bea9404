//! Making one stitch: cast on, drawn through one or two, slipped, laid over.

use super::{Cell, Face, Hands, How, Id, Part};

impl Hands {
    pub(super) fn cast_on(&mut self, n: u32) -> Result<(), String> {
        if self.joined || !self.made.is_empty() {
            return Err("there are stitches already".into());
        }
        for i in 0..n {
            let part = if i < n / 2 { Part::Back } else { Part::Front };
            let id = self.make(Vec::new(), How::CastOn, Face::Knit, part);
            self.needles[0].push(Cell::Live(id));
        }
        self.at = self.needles[0].len();
        Ok(())
    }

    /// The cell that lies next, and where; the beginning of the round is stepped over.
    pub(super) fn next_cell(&mut self) -> Option<usize> {
        loop {
            let cells = &self.needles[self.needle];
            if self.endless && cells.iter().any(|c| *c != Cell::Begin) {
                if self.wrong_side && self.at == 0 {
                    self.at = cells.len();
                } else if !self.wrong_side && self.at == cells.len() {
                    self.at = 0;
                }
            }
            let next = if self.wrong_side {
                self.at.checked_sub(1)?
            } else {
                self.at
            };
            match cells.get(next)? {
                Cell::Begin if self.wrong_side => self.at -= 1,
                Cell::Begin => {
                    self.rounds_begun += 1;
                    self.at += 1;
                }
                _ => return Some(next),
            }
        }
    }

    /// The live stitch that lies next, or why there is none.
    pub(super) fn next_live(&mut self) -> Result<(usize, Id), String> {
        if self.cut {
            return Err("the yarn is cut".into());
        }
        let Some(at) = self.next_cell() else {
            return Err(format!("needle {} ends here", self.needle + 1));
        };
        match &self.needles[self.needle][at] {
            Cell::Live(id) => Ok((at, *id)),
            other => Err(format!("{other:?} lies here")),
        }
    }

    pub(super) fn slip(&mut self) -> Result<(), String> {
        let (at, id) = self.next_live()?;
        // The first stitch of a flap row, slipped, makes one loop along that edge. (Where the turn
        // eats its way to the edge it slips there too, but that stitch belongs to the turn.)
        let flap = self.flap;
        let cells = &mut self.needles[self.needle];
        let behind = if self.wrong_side {
            cells.get_mut(self.at)
        } else {
            cells[..at].last_mut()
        };
        if flap && let Some(Cell::Edge(_, loops)) = behind {
            loops.push(id);
        }
        self.at = if self.wrong_side { at } else { at + 1 };
        self.worked += 1;
        Ok(())
    }

    /// Draws the yarn through the next `n` stitches together; they make one.
    pub(super) fn draw_through(&mut self, n: usize, how: How, knitted: bool) -> Result<(), String> {
        let part = {
            let (_, id) = self.next_live()?;
            self.made[id].part
        };
        let mut parents = Vec::with_capacity(n);
        for i in 0..n {
            if let (1.., Some(at)) = (i, self.next_cell())
                && self.needles[self.needle][at] == Cell::Gap
            {
                self.remove(at);
            }
            let (at, id) = self.next_live()?;
            self.use_up(id)?;
            self.remove(at);
            parents.push(id);
        }
        self.log.push((part, how));
        let smooth = knitted != self.wrong_side;
        let how = match how {
            // Seen from the other side, it leans the other way.
            How::LeansLeft if self.wrong_side => How::LeansRight,
            How::LeansRight if self.wrong_side && knitted => How::LeansLeft,
            // A purl decrease worked on the right side would lean right there too, hidden.
            other => other,
        };
        let face = if smooth { Face::Knit } else { Face::Purl };
        let id = self.make(parents, how, face, part);
        self.put(Cell::Live(id));
        Ok(())
    }

    pub(super) fn yarn_over(&mut self) -> Result<(), String> {
        let (_, before) = self.next_live()?;
        let part = self.made[before].part;
        let id = self.make(Vec::new(), How::Over, Face::Knit, part);
        self.log.push((part, How::Over));
        self.put(Cell::Live(id));
        Ok(())
    }

    pub(super) fn remove(&mut self, at: usize) {
        self.needles[self.needle].remove(at);
        if at < self.at {
            self.at -= 1;
        }
    }

    /// Puts a cell where the tip is; it then lies behind the tip.
    pub(super) fn put(&mut self, cell: Cell) {
        self.needles[self.needle].insert(self.at, cell);
        if !self.wrong_side {
            self.at += 1;
        }
    }
}
