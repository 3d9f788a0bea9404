//! What a flap needs: edges of its own, turns that leave gaps, picking up along the edges.

use super::{Cell, Face, Hands, How, Id, Parents, Part, Side, live};

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
        self.ended_in_knit = false;
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
        self.ended_in_knit = self.knitted_last;
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
            _ => return self.pick_up_in_a_corner_of_the_ring(),
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

    /// Where two halves of the sock meet, a stitch for the needle at work.
    fn pick_up_in_a_corner_of_the_ring(&mut self) -> Result<(), String> {
        let (before, _, after) = self.neighbours();
        let (before, after) = (before.ok_or("nothing lies here")?, after.ok_or("nothing")?);
        if !self.meet(before, after) {
            return Err("there is no corner here".into());
        }
        let worked_here = self.needles[self.needle][..self.at]
            .iter()
            .any(|c| live(c).is_some());
        let beside = if worked_here { before } else { after };
        let part = self.made[beside].part;
        let id = self.make(Parents::default(), How::PickedUp, Face::Knit, part);
        self.log.push((part, How::PickedUp));
        self.put(Cell::Live(id));
        Ok(())
    }

    /// The stitches before the tip, right after it, and the one after it, round the ring. Between two
    /// stitches only the first and the last are different.
    fn neighbours(&self) -> (Option<Id>, Option<Id>, Option<Id>) {
        let here = &self.needles[self.needle];
        let count = self.needles.len();
        let others = (1..count).flat_map(|n| &self.needles[(self.needle + n) % count]);
        let ring: Vec<Id> = here[self.at..]
            .iter()
            .chain(others)
            .chain(&here[..self.at])
            .filter_map(live)
            .collect();
        (
            ring.last().copied(),
            ring.get(1).copied(),
            ring.first().copied(),
        )
    }

    fn meet(&self, one: Id, other: Id) -> bool {
        let late = self.made[one].part == Part::Sole && self.made[other].part == Part::Back
            || self.made[one].part == Part::Back && self.made[other].part == Part::Sole;
        late || self.on_top(one) != self.on_top(other)
    }

    fn on_top(&self, id: Id) -> bool {
        matches!(self.made[id].part, Part::Front | Part::Instep)
    }

    /// A loop is lifted between heel and instep and knitted together with the heel's stitch beside it.
    pub(super) fn knit_corner(&mut self) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        let (_, next) = self.next_live()?;
        let (before, after_next, _) = self.neighbours();
        let beside = [before, after_next]
            .into_iter()
            .flatten()
            .any(|id| self.meet(id, next));
        if self.on_top(next) || !beside {
            return Err("no corner lies beside it".into());
        }
        if let Some(double) = self.doubles.iter().position(|double| *double == next) {
            self.doubles.swap_remove(double);
        }
        self.draw_through(1, How::Cornered, true)
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
