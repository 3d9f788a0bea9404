//! Making one stitch: cast on, drawn through one or two, slipped, laid over.

use super::{Cell, Face, Hands, How, Id, Parents, Part, live};

impl Hands {
    pub(super) fn cast_on(&mut self, back: u32, front: u32) -> Result<(), String> {
        if self.joined || !self.made.is_empty() {
            return Err("there are stitches already".into());
        }
        for i in 0..back + front {
            let part = if i < back { Part::Back } else { Part::Front };
            let id = self.make(Parents::default(), How::CastOn, Face::Knit, part);
            self.needles[0].push(Cell::Live(id));
        }
        self.at = self.needles[0].len();
        Ok(())
    }

    /// Two strands laid by turns: the loops of the one behind have their right leg behind the needle, those
    /// of the one in front do not. The first is one of the strand behind.
    pub(super) fn cast_on_tubular(&mut self, back: u32, front: u32) -> Result<(), String> {
        self.cast_on(back, front)?;
        for id in self.ring().into_iter().step_by(2) {
            self.made[id].right_leg_behind = true;
        }
        Ok(())
    }

    /// Loops of another yarn's chain round one needle, all alike. The other half of the toe hangs in the
    /// chain.
    pub(super) fn cast_on_provisional(&mut self, n: u32) -> Result<(), String> {
        if self.joined || !self.made.is_empty() {
            return Err("there are stitches already".into());
        }
        let mut sole = vec![Cell::Begin];
        sole.extend((0..n).map(|_| {
            let id = self.make(Parents::default(), How::CastOn, Face::Knit, Part::Sole);
            self.take_back();
            Cell::Live(id)
        }));
        self.needles = vec![sole];
        (self.needle, self.at) = (0, 1);
        (self.endless, self.toe_up, self.in_chain) = (false, true, n);
        Ok(())
    }

    /// The chain is undone: between so many stitches hang one fewer loops, and half a one at the end.
    pub(super) fn undo_chain(&mut self, n: u32) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        if n == 0 || std::mem::take(&mut self.in_chain) != n {
            return Err("there is no such chain".into());
        }
        let loops = (0..n).map(|_| {
            let id = self.make(Parents::default(), How::CastOn, Face::Knit, Part::Instep);
            self.take_back();
            Cell::Live(id)
        });
        let loops = loops.collect();
        self.needles.push(loops);
        self.joined = true;
        Ok(())
    }

    /// A stitch of a row that is drawn out later.
    pub(super) fn knit_to_snip(&mut self) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        let (_, below) = self.next_live()?;
        self.draw_through(1, How::Worked, true)?;
        self.to_snip.push([below, self.made.len() - 1]);
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
        match self.needles[self.needle][at] {
            Cell::Live(id) => Ok((at, id)),
            other => Err(format!("{other:?} lies here")),
        }
    }

    pub(super) fn slip(&mut self, yarn_in_front: bool) -> Result<(), String> {
        let (at, id) = self.next_live()?;
        // The first stitch of a flap row, slipped, makes one loop along that edge. (Where the turn
        // eats its way to the edge it slips there too, but that stitch belongs to the turn.)
        let flap = self.flap;
        let cells = &self.needles[self.needle];
        let behind = if self.wrong_side {
            cells.get(self.at)
        } else {
            cells[..at].last()
        };
        // Where the row before ended in knit the yarn hangs in front: taken behind a slipped stitch it
        // would wrap the edge, and no chain would lie there. With the wrong side facing, the wrong
        // side is the front.
        let wrapped = self.ended_in_knit && !(yarn_in_front || self.wrong_side);
        if flap && let (false, Some(Cell::Edge(side))) = (wrapped, behind) {
            self.edge_loops[*side as usize].push(id);
        }
        if yarn_in_front {
            self.slipped_in_front.push(id);
        }
        self.at = if self.wrong_side { at } else { at + 1 };
        self.worked += 1;
        self.lay(50);
        self.take_up(id)?;
        self.last = Some(id);
        self.slipped.push(id);
        Ok(())
    }

    /// Draws the yarn through the next `n` stitches together; they make one.
    pub(super) fn draw_through(&mut self, n: usize, how: How, knitted: bool) -> Result<(), String> {
        let part = {
            let (_, id) = self.next_live()?;
            self.made[id].part
        };
        let mut parents = Parents::default();
        for i in 0..n {
            if let (1.., Some(at)) = (i, self.next_cell())
                && self.needles[self.needle][at] == Cell::Gap
            {
                self.remove(at);
            }
            let (at, id) = self.next_live()?;
            if self.doubles.contains(&id) {
                return Err("a double stitch lies here".into());
            }
            self.use_up(id)?;
            self.take_up(id)?;
            self.remove(at);
            parents.ids[i] = id;
            parents.count += 1;
        }
        let behind = |id: &Id| self.made[*id].right_leg_behind;
        let how = match (how, parents.iter().any(behind)) {
            (How::Worked, true) => How::Twisted,
            (How::Twisted, true) => How::Worked,
            (other, true) => return Err(format!("{other:?} over a stitch that would twist")),
            (other, false) => other,
        };
        self.log.push((part, how));
        self.knitted_last = knitted;
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

    /// Knits the next stitch through its back loop: what lies the usual way twists, what lies the other
    /// way does not.
    pub(super) fn through_the_back(&mut self) -> Result<(), String> {
        self.draw_through(1, How::Twisted, true)
    }

    pub(super) fn yarn_over(&mut self, behind: bool) -> Result<(), String> {
        // Between two parts of the sock it belongs to the one that lacks a stitch.
        let part = match (self.last, self.next_live()) {
            (None, next) => self.made[next?.1].part,
            (Some(last), Err(_)) => self.made[last].part,
            (Some(last), Ok((_, next))) => {
                let (last, next) = (self.made[last].part, self.made[next].part);
                let lacks = self.parts()[last as usize] < self.parts_before[last as usize];
                if last == next || lacks { last } else { next }
            }
        };
        if behind && self.last.is_none_or(|last| self.made[last].part != part) {
            return Err("it does not belong to the stitch before it".into());
        }
        let id = self.make(Parents::default(), How::Over, Face::Knit, part);
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
        if let Cell::Live(id) = cell {
            self.last = Some(id);
        }
        self.needles[self.needle].insert(self.at, cell);
        if !self.wrong_side {
            self.at += 1;
        }
    }

    /// Turns the work and pulls the stitch just worked over the needle: it shows two legs.
    pub(super) fn turn_double(&mut self) -> Result<(), String> {
        if !self.row {
            return Err("this is not a row".into());
        }
        self.wrong_side = !self.wrong_side;
        let (at, id) = self.next_live()?;
        if self.made[id].born != self.now {
            return Err("the stitch to be doubled was not just worked".into());
        }
        if self.doubles.contains(&id) {
            return Err("it is double already".into());
        }
        self.doubles.push(id);
        self.worked += 1;
        self.lay(50);
        self.at = if self.wrong_side { at } else { at + 1 };
        Ok(())
    }

    /// Both legs of a double stitch together.
    pub(super) fn work_double(&mut self, knitted: bool) -> Result<(), String> {
        let (_, id) = self.next_live()?;
        let double = self.doubles.iter().position(|double| *double == id);
        self.doubles
            .swap_remove(double.ok_or("no double stitch lies here")?);
        self.draw_through(1, How::Worked, knitted)
    }

    /// From the strand before the next stitch, or behind the last one where none is next.
    pub(super) fn make_one(&mut self, how: How) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        let neighbour = match self.next_live() {
            Ok((_, id)) => id,
            Err(none) => {
                let behind = self.needles[self.needle][..self.at]
                    .iter()
                    .rev()
                    .find_map(live);
                behind.ok_or(none)?
            }
        };
        let part = self.made[neighbour].part;
        let id = self.make(Parents::default(), how, Face::Knit, part);
        self.log.push((part, how));
        self.put(Cell::Live(id));
        Ok(())
    }

    /// Loops round each of two needles: the sole's on the first, the instep's on the second. Wrapped
    /// like a spring both lie alike. Laid with a strand for each needle, those of the second one lie
    /// with the right leg behind.
    pub(super) fn cast_on_closed(&mut self, n: u32, strands: bool) -> Result<(), String> {
        if self.joined || !self.made.is_empty() {
            return Err("there are stitches already".into());
        }
        let mut needle = |part| -> Vec<Cell> {
            let loops =
                (0..n).map(|_| self.make(Parents::default(), How::CastOn, Face::Knit, part));
            loops.map(Cell::Live).collect()
        };
        let [mut sole, instep] = [needle(Part::Sole), needle(Part::Instep)];
        for id in instep.iter().filter_map(live) {
            self.made[id].right_leg_behind = strands;
        }
        sole.insert(0, Cell::Begin);
        self.needles = vec![sole, instep];
        (self.needle, self.at) = (0, 1);
        (self.endless, self.joined, self.toe_up) = (false, true, true);
        Ok(())
    }

    /// Knitted with the waste yarn, put back, and knitted again.
    pub(super) fn waste(&mut self) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        let (at, below) = self.next_live()?;
        self.use_up(below)?;
        self.remove(at);
        let part = self.made[below].part;
        let waste = self.make(Parents::one(below), How::Waste, Face::Knit, part);
        self.made[waste].used = true;
        // Not the sock's own yarn.
        self.take_back();
        let above = self.make(Parents::one(waste), How::Worked, Face::Knit, part);
        self.log.push((part, How::Worked));
        self.put(Cell::Live(above));
        self.waste.push([below, waste, above]);
        Ok(())
    }
}
