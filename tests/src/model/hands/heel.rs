//! What a flap needs: edges of its own, turns that leave gaps, picking up along the edges.

use super::{Cell, Face, Hands, How, Parents, Part, Side, live};

impl Hands {
    /// From here the next `n` stitches have edges; the rest waits.
    pub(super) fn flat(&mut self, n: u32) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        let _ = self.next_cell();
        let first = self.at;
        let cells = &mut self.needles[self.needle];
        let mut left = n;
        let mut end = first;
        while left > 0 {
            match cells.get(end) {
                Some(Cell::Live(_)) => left -= 1,
                Some(other) => return Err(format!("{other:?} lies among them")),
                None => return Err("they are not all on this needle".into()),
            }
            end += 1;
        }
        cells.insert(end, Cell::Edge(Side::Left));
        cells.insert(first, Cell::Edge(Side::Right));
        self.edge_loops = Default::default();
        self.at = first + 1;
        Ok(())
    }

    pub(super) fn turn(&mut self) -> Result<(), String> {
        if !self.row {
            return Err("this is not a row".into());
        }
        // A turn with stitches of the same part ahead leaves a gap.
        if let Some(next) = self.next_cell()
            && live(&self.needles[self.needle][next]).is_some()
        {
            // It lies ahead of the tip, so behind it once turned.
            self.needles[self.needle].insert(self.at, Cell::Gap);
            self.at += usize::from(self.wrong_side);
        }
        self.wrong_side = !self.wrong_side;
        Ok(())
    }

    /// The edge at the tip, looked for on both sides of it and over the needles' ends beside it.
    pub(super) fn edge_here(&self) -> Option<(usize, usize)> {
        let here = self.needle;
        let is_edge =
            |&(n, i): &(usize, usize)| matches!(self.needles[n].get(i), Some(Cell::Edge(..)));
        let ahead = (here, self.at);
        let behind = (here, self.at.wrapping_sub(1));
        let over = ((here + 1) % self.needles.len(), 0);
        let at_end = self.at == self.needles[here].len();
        [ahead, behind]
            .into_iter()
            .chain(at_end.then_some(over))
            .find(is_edge)
    }

    pub(super) fn pick_up(&mut self) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        // The round's beginning may lie between the tip and the edge.
        let _ = self.next_cell();
        let (n, i) = self.edge_here().ok_or("there is no edge here")?;
        let Cell::Edge(side) = self.needles[n][i] else {
            return Err("there is no edge here".into());
        };
        let loops = &mut self.edge_loops[side as usize];
        // Down the left edge from the turned heel: the newest loop lies next. Up the right edge
        // towards it: the oldest.
        let next = match side {
            Side::Left => loops.pop(),
            Side::Right => (!loops.is_empty()).then(|| loops.remove(0)),
        };
        let drawn_from = next.ok_or("no loop is left along this edge")?;
        let empty = loops.is_empty();
        let part = gusset(side);
        let id = self.make(Parents::one(drawn_from), How::PickedUp, Face::Knit, part);
        self.picked_up[side as usize] += 1;
        self.put(Cell::Live(id));
        if empty {
            self.edges_picked.push(side);
        }
        self.drop_spent_edges();
        Ok(())
    }

    /// The corner stitch lies between the flap and the instep: after the loops of the left edge,
    /// before those of the right.
    pub(super) fn pick_up_corner(&mut self) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        let _ = self.next_cell();
        let side = match self.edge_here().map(|(n, i)| &self.needles[n][i]) {
            Some(Cell::Edge(Side::Right)) => Side::Right,
            Some(Cell::Edge(Side::Left)) => return Err("the left edge comes first".into()),
            _ if self.edges_picked.last() == Some(&Side::Left) => Side::Left,
            _ => return Err("there is no corner here".into()),
        };
        if self.corners.contains(&side) {
            return Err("this corner was picked up before".into());
        }
        self.corners.push(side);
        let part = gusset(side);
        let id = self.make(Parents::default(), How::PickedUp, Face::Knit, part);
        self.picked_up[side as usize] += 1;
        self.put(Cell::Live(id));
        Ok(())
    }

    /// An edge whose loops are all picked up is closed: the fabric is whole there.
    pub(super) fn drop_spent_edges(&mut self) {
        for n in 0..self.needles.len() {
            let mut i = 0;
            while i < self.needles[n].len() {
                let spent = matches!(&self.needles[n][i],
                    Cell::Edge(side) if self.edge_loops[*side as usize].is_empty()
                        && self.edges_picked.contains(side));
                if spent {
                    self.needles[n].remove(i);
                    if n == self.needle && i < self.at {
                        self.at -= 1;
                    }
                } else {
                    i += 1;
                }
            }
        }
    }
}

const fn gusset(side: Side) -> Part {
    match side {
        Side::Left => Part::GussetLeft,
        Side::Right => Part::GussetRight,
    }
}
