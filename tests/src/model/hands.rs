//! A naive knitter: needles are lists, every stitch is a thing with a number of its own and knows
//! which stitches it was made out of. Operations are worked one stitch at a time, as hands would.
//!
//! What hands cannot do is refused: knit past the end of a needle, past a marker or an unworked
//! part, knit plainly over the gap of a turn, decrease over a marker, pick up where there is no
//! edge, graft unequal needles. The fabric itself is remembered: which face each stitch shows on
//! the right side, which way each decrease leans, from which loop it was drawn.

use std::collections::HashSet;

use super::page::{Do, Move, Section};

/// A stitch's number, in the order in which stitches were made.
pub type Id = usize;

/// How a stitch came to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum How {
    /// Cast on.
    CastOn,
    /// Knitted or purled out of one stitch.
    Worked,
    /// Two became one, leaning left as seen from the right side.
    LeansLeft,
    /// Two became one, leaning right as seen from the right side.
    LeansRight,
    /// Picked up from an edge.
    PickedUp,
    /// Knitted out of one stitch through its back loop.
    Twisted,
    /// The yarn laid over the needle.
    Over,
    /// Knitted out of a stitch and a cast-on loop together.
    Folded,
}

/// What a stitch shows on the right side of the fabric.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Face {
    /// A smooth V.
    Knit,
    /// A bump.
    Purl,
}

/// Which part of the sock a stitch belongs to; the order is that of `closed::PARTS`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[repr(usize)]
pub enum Part {
    /// The back half of the leg.
    Back,
    /// The front half of the leg.
    Front,
    /// Flap and turn.
    Heel,
    /// Picked up along the first edge.
    GussetLeft,
    /// The top of the foot.
    Instep,
    /// Picked up along the second edge.
    GussetRight,
    /// The underside of the foot.
    Sole,
}

/// One stitch, live or long worked.
#[derive(Debug, Clone)]
pub struct Stitch {
    /// What it was made out of: stitches, or the edge loop it was drawn through.
    pub parents: Vec<Id>,
    /// How it was made.
    pub how: How,
    /// What it shows on the right side.
    pub face: Face,
    /// Where it belongs.
    pub part: Part,
    /// In which move, counted from 1, it was made.
    pub born: usize,
}

/// Which edge of the flap.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Where right-side rows end.
    Left,
    /// Where right-side rows begin.
    Right,
}

/// One thing on a needle.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cell {
    /// A live stitch.
    Live(Id),
    /// A marker by its letter.
    Marker(char),
    /// An open edge with the slipped stitches along it, oldest first.
    Edge(Side, Vec<Id>),
    /// The gap that a turn in the middle left.
    Gap,
    /// Where the round begins. Nothing hangs here; the knitter knows.
    Begin,
}

/// The knitter: needles, hands and everything knitted so far.
#[derive(Debug, Clone)]
pub struct Hands {
    /// The needles in ring order; each a list, right side facing, in the direction of knitting.
    pub needles: Vec<Vec<Cell>>,
    /// Whether the one list has no end: after its last cell comes its first. So it is before the
    /// first needle's end is made, and all the way on one short circular.
    pub endless: bool,
    /// How many double-pointed needles there are, the working one included, where they are used.
    pub set_of: Option<usize>,
    /// On which needle the working tip is.
    pub needle: usize,
    /// Before which of that needle's cells.
    pub at: usize,
    /// Whether the wrong side faces.
    pub wrong_side: bool,
    /// Whether the cast-on was joined.
    pub joined: bool,
    /// Every stitch ever made.
    pub made: Vec<Stitch>,
    /// Every stitch that something was made out of, or that was grafted.
    pub used: HashSet<Id>,
    /// Single things done: every stitch made or slipped, every pair grafted.
    pub worked: u64,
    /// Cast-on loops that a hem was folded to, in the order worked.
    pub folded: Vec<Id>,
    /// Stitches drawn closed.
    pub drawn: Vec<Id>,
    /// The live stitches from the round's beginning when the heel was begun.
    pub above_heel: Vec<Id>,
    /// Pairs grafted.
    pub grafted: Vec<(Id, Id)>,
    /// Stitches picked up along the left and the right side, corners included.
    pub picked_up: [u32; 2],
    /// How often the beginning of the round was passed in this move.
    pub rounds_begun: usize,
    /// Number of the present move, from 1.
    pub now: usize,
    /// What this move did, stitch by stitch, in the order worked: the part it lay in, the kind.
    pub log: Vec<(Part, How)>,
    flap: bool,
    grafting: bool,
    cut: bool,
    corners: Vec<Side>,
    edges_picked: Vec<Side>,
}

impl Default for Hands {
    fn default() -> Self {
        Self {
            needles: vec![Vec::new()],
            endless: true,
            set_of: None,
            needle: 0,
            at: 0,
            wrong_side: false,
            joined: false,
            made: Vec::new(),
            used: HashSet::new(),
            worked: 0,
            folded: Vec::new(),
            drawn: Vec::new(),
            above_heel: Vec::new(),
            grafted: Vec::new(),
            picked_up: [0; 2],
            rounds_begun: 0,
            now: 0,
            log: Vec::new(),
            flap: false,
            grafting: false,
            cut: false,
            corners: Vec::new(),
            edges_picked: Vec::new(),
        }
    }
}

impl Hands {
    /// Empty hands with a set of that many double-pointed needles, or with circulars.
    pub fn with(set_of: Option<usize>) -> Self {
        Self {
            set_of,
            ..Self::default()
        }
    }

    /// Works one move. `form` is the form of its step; the laws of a whole round are checked when
    /// it is one.
    ///
    /// # Errors
    /// What hands cannot do.
    pub fn work(&mut self, mv: &Move, form: &str) -> Result<(), String> {
        self.now += 1;
        self.rounds_begun = 0;
        self.log.clear();
        let ring = self.ring();
        for op in &mv.ops {
            self.one(op).map_err(|why| format!("{op:?}: {why}"))?;
            self.enough_needles()
                .map_err(|why| format!("after {op:?}: {why}"))?;
        }
        if only_moves_stitches(&mv.ops) && !same_ring(&ring, &self.ring()) {
            return Err("re-seating changed the order of the stitches".into());
        }
        if form == "round" {
            self.whole_round()?;
        }
        Ok(())
    }

    /// Calls stitches by what they have become when a section begins.
    pub fn begin_section(&mut self, section: &Section) {
        self.flap = section.kind == "heel-flap";
        if self.flap {
            self.above_heel = self.from_begin();
        }
        for id in self.ring() {
            let part = &mut self.made[id].part;
            *part = match (section.kind.as_str(), *part) {
                ("heel-flap", Part::Back) => Part::Heel,
                ("heel-flap", Part::Front) => Part::Instep,
                // Where the gusset leaves no round for the foot, the toe comes right after it.
                ("foot" | "toe", Part::Heel | Part::GussetLeft | Part::GussetRight) => Part::Sole,
                (_, as_it_was) => as_it_was,
            };
        }
    }

    /// The live stitches in ring order from the first needle's beginning.
    pub fn ring(&self) -> Vec<Id> {
        self.needles.iter().flatten().filter_map(live).collect()
    }

    /// The live stitches in ring order from where the round begins.
    pub fn from_begin(&self) -> Vec<Id> {
        let mut cells: Vec<&Cell> = self.needles.iter().flatten().collect();
        if let Some(begin) = cells.iter().position(|c| **c == Cell::Begin) {
            cells.rotate_left(begin);
        }
        cells.into_iter().filter_map(live).collect()
    }

    /// Stitches of each part.
    pub fn parts(&self) -> [u32; 7] {
        let mut parts = [0; 7];
        for id in self.ring() {
            parts[self.made[id].part as usize] += 1;
        }
        parts
    }

    /// Stitches on each needle, the needle on which the round begins first; nothing once all is
    /// off the needles.
    pub fn per_needle(&self) -> Vec<u32> {
        if self.ring().is_empty() {
            return Vec::new();
        }
        let count = |n: &Vec<Cell>| n.iter().filter_map(live).count();
        let mut counts: Vec<u32> = self
            .needles
            .iter()
            .map(count)
            .map(|n| u32::try_from(n).unwrap_or(u32::MAX))
            .collect();
        if let Some(first) = self.needles.iter().position(|n| n.contains(&Cell::Begin)) {
            counts.rotate_left(first);
        }
        counts
    }

    fn one(&mut self, op: &Do) -> Result<(), String> {
        match *op {
            Do::CastOn(n) => self.cast_on(n),
            Do::Join => self.join(),
            Do::Knit(n) => self.times(n, |h| h.draw_through(1, How::Worked, true)),
            Do::Purl(n) => self.times(n, |h| h.draw_through(1, How::Worked, false)),
            Do::Slip(n) => self.times(n, Self::slip),
            Do::K2tog => self.draw_through(2, How::LeansRight, true),
            Do::Ssk => self.draw_through(2, How::LeansLeft, true),
            Do::P2tog => self.draw_through(2, How::LeansRight, false),
            Do::PickUp(n) => self.times(n, Self::pick_up),
            Do::PickUpCorner => self.pick_up_corner(),
            Do::Turn => self.turn(),
            Do::NextNeedle => self.next_needle(),
            Do::Place(m) => self.place(m),
            Do::Pass(m) => self.pass(m),
            Do::TakeOff(m) => self.take_off(m),
            Do::Flat(n) => self.flat(n),
            Do::Split(n) => self.split(n),
            Do::Merge(n) => self.merge(n),
            Do::BeginHere => self.begin_here(),
            Do::GraftStart => self.graft_start(),
            Do::Graft(n) => self.times(n, Self::graft),
            Do::GraftEnd => self.graft_end(),
            Do::FastenOff => self.fasten_off(),
            Do::KnitTwisted(n) => self.times(n, |h| h.draw_through(1, How::Twisted, true)),
            Do::YarnOver => self.yarn_over(),
            Do::Fold(n) => self.times(n, Self::fold),
            Do::Draw(n) => self.draw_closed(n),
        }
    }

    fn times(
        &mut self,
        n: u32,
        mut what: impl FnMut(&mut Self) -> Result<(), String>,
    ) -> Result<(), String> {
        (1..=n).try_for_each(|i| {
            let done = what(self).and_then(|()| self.enough_needles());
            done.map_err(|why| format!("the {i}. of {n}: {why}"))
        })
    }

    fn make(&mut self, parents: Vec<Id>, how: How, face: Face, part: Part) -> Id {
        self.made.push(Stitch {
            parents,
            how,
            face,
            part,
            born: self.now,
        });
        self.worked += 1;
        self.made.len() - 1
    }

    fn use_up(&mut self, id: Id) -> Result<(), String> {
        if self.used.insert(id) {
            Ok(())
        } else {
            Err(format!("stitch {id} was used before"))
        }
    }

    /// A set of double-pointed needles has so many and no more: those that hold stitches, and one
    /// more while the tip is in the middle of a needle.
    fn enough_needles(&self) -> Result<(), String> {
        let Some(set_of) = self.set_of else {
            return Ok(());
        };
        let holds = |cells: &[Cell]| cells.iter().any(|c| live(c).is_some());
        let holding = self.needles.iter().filter(|n| holds(n)).count();
        let here = &self.needles[self.needle];
        let between = holds(&here[..self.at]) && holds(&here[self.at..]);
        let needed = holding + usize::from(between);
        if needed <= set_of {
            Ok(())
        } else {
            Err(format!("{needed} needles are needed of a set of {set_of}"))
        }
    }

    fn cast_on(&mut self, n: u32) -> Result<(), String> {
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

    fn join(&mut self) -> Result<(), String> {
        if self.joined {
            return Err("it is a ring already".into());
        }
        if self.needles.iter().all(Vec::is_empty) {
            return Err("there is nothing to join".into());
        }
        // The next stitch is the first one cast on.
        let behind = self.needles[self.needle][..self.at]
            .iter()
            .rev()
            .find_map(live);
        if behind != Some(self.made.len() - 1) {
            return Err("the yarn is not at the last stitch cast on".into());
        }
        self.joined = true;
        self.begin_here()
    }

    /// The cell that lies next, and where; the beginning of the round is stepped over.
    fn next_cell(&mut self) -> Option<usize> {
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
    fn next_live(&mut self) -> Result<(usize, Id), String> {
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

    fn slip(&mut self) -> Result<(), String> {
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
    fn draw_through(&mut self, n: usize, how: How, knitted: bool) -> Result<(), String> {
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

    fn remove(&mut self, at: usize) {
        self.needles[self.needle].remove(at);
        if at < self.at {
            self.at -= 1;
        }
    }

    /// Puts a cell where the tip is; it then lies behind the tip.
    fn put(&mut self, cell: Cell) {
        self.needles[self.needle].insert(self.at, cell);
        if !self.wrong_side {
            self.at += 1;
        }
    }

    /// The edge at the tip, looked for on both sides of it and over the needles' ends beside it.
    fn edge_here(&self) -> Option<(usize, usize)> {
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

    fn pick_up(&mut self) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        // The round's beginning may lie between the tip and the edge.
        let _ = self.next_cell();
        let (n, i) = self.edge_here().ok_or("there is no edge here")?;
        let Cell::Edge(side, loops) = &mut self.needles[n][i] else {
            return Err("there is no edge here".into());
        };
        let side = *side;
        // Down the left edge from the turned heel: the newest loop lies next. Up the right edge
        // towards it: the oldest.
        let next = match side {
            Side::Left => loops.pop(),
            Side::Right => (!loops.is_empty()).then(|| loops.remove(0)),
        };
        let drawn_from = next.ok_or("no loop is left along this edge")?;
        let empty = loops.is_empty();
        let part = gusset(side);
        let id = self.make(vec![drawn_from], How::PickedUp, Face::Knit, part);
        self.picked_up[usize::from(side == Side::Right)] += 1;
        self.put(Cell::Live(id));
        if empty {
            self.edges_picked.push(side);
        }
        self.drop_spent_edges();
        Ok(())
    }

    /// The corner stitch lies between the flap and the instep: after the loops of the left edge,
    /// before those of the right.
    fn pick_up_corner(&mut self) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        let _ = self.next_cell();
        let side = match self.edge_here().map(|(n, i)| &self.needles[n][i]) {
            Some(Cell::Edge(Side::Right, _)) => Side::Right,
            Some(Cell::Edge(Side::Left, _)) => return Err("the left edge comes first".into()),
            _ if self.edges_picked.last() == Some(&Side::Left) => Side::Left,
            _ => return Err("there is no corner here".into()),
        };
        if self.corners.contains(&side) {
            return Err("this corner was picked up before".into());
        }
        self.corners.push(side);
        let part = gusset(side);
        let id = self.make(Vec::new(), How::PickedUp, Face::Knit, part);
        self.picked_up[usize::from(side == Side::Right)] += 1;
        self.put(Cell::Live(id));
        Ok(())
    }

    /// An edge whose loops are all picked up is closed: the fabric is whole there.
    fn drop_spent_edges(&mut self) {
        for n in 0..self.needles.len() {
            let mut i = 0;
            while i < self.needles[n].len() {
                let spent = matches!(&self.needles[n][i],
                    Cell::Edge(side, loops) if loops.is_empty() && self.edges_picked.contains(side));
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

    fn turn(&mut self) -> Result<(), String> {
        if !self
            .needles
            .iter()
            .flatten()
            .any(|c| matches!(c, Cell::Edge(..)))
        {
            return Err("nothing is being worked flat".into());
        }
        // A turn short of the edge leaves a gap.
        if let Some(next) = self.next_cell()
            && !matches!(self.needles[self.needle][next], Cell::Edge(..))
        {
            // It lies ahead of the tip, so behind it once turned.
            self.needles[self.needle].insert(self.at, Cell::Gap);
            self.at += usize::from(self.wrong_side);
        }
        self.wrong_side = !self.wrong_side;
        Ok(())
    }

    fn next_needle(&mut self) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        if !self.joined {
            return Err("it is not a ring yet".into());
        }
        if let Some(at) = self.next_cell() {
            return Err(format!(
                "{:?} is still on this needle",
                self.needles[self.needle][at]
            ));
        }
        self.needle = (self.needle + 1) % self.needles.len();
        self.at = 0;
        Ok(())
    }

    fn place(&mut self, marker: char) -> Result<(), String> {
        if self.find_marker(marker).is_some() {
            return Err("that marker hangs already".into());
        }
        self.put(Cell::Marker(marker));
        Ok(())
    }

    fn find_marker(&self, marker: char) -> Option<(usize, usize)> {
        let wanted = Cell::Marker(marker);
        self.needles
            .iter()
            .enumerate()
            .find_map(|(n, cells)| cells.iter().position(|c| *c == wanted).map(|i| (n, i)))
    }

    fn pass(&mut self, marker: char) -> Result<(), String> {
        match self.next_cell() {
            Some(at) if self.needles[self.needle][at] == Cell::Marker(marker) => {
                self.at = if self.wrong_side { at } else { at + 1 };
                Ok(())
            }
            _ => Err("that marker does not lie next".into()),
        }
    }

    fn take_off(&mut self, marker: char) -> Result<(), String> {
        let (n, i) = self
            .find_marker(marker)
            .ok_or("that marker hangs nowhere")?;
        self.needles[n].remove(i);
        if n == self.needle && i < self.at {
            self.at -= 1;
        }
        Ok(())
    }

    /// From here the next `n` stitches have edges; the rest waits.
    fn flat(&mut self, n: u32) -> Result<(), String> {
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
        cells.insert(end, Cell::Edge(Side::Left, Vec::new()));
        cells.insert(first, Cell::Edge(Side::Right, Vec::new()));
        self.at = first + 1;
        Ok(())
    }

    /// The place `n` stitches ahead: a needle, and the cell right after the last of them.
    fn ahead(&self, n: u32) -> Result<(usize, usize), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        let (mut needle, mut at, mut left) = (self.needle, self.at, n);
        let mut ends = 0;
        while left > 0 {
            match self.needles[needle].get(at) {
                Some(cell) => {
                    left -= u32::from(live(cell).is_some());
                    at += 1;
                }
                // A strip that was just cast on is laid into a ring already.
                None if ends <= self.needles.len() => {
                    needle = (needle + 1) % self.needles.len();
                    at = 0;
                    ends += 1;
                }
                None => return Err("there are not so many stitches ahead".into()),
            }
        }
        Ok((needle, at))
    }

    /// A needle ends `n` stitches ahead. Where it ends at the tip, the tip is at that needle's end
    /// (`n` of nothing) or at the next one's beginning (once round).
    fn split(&mut self, n: u32) -> Result<(), String> {
        let (needle, at) = self.ahead(n)?;
        let moves_on = self.needle == needle && (self.at > at || (self.at == at && n > 0));
        if self.endless {
            self.endless = false;
            let cells = &mut self.needles[0];
            let length = cells.len();
            cells.rotate_left(at);
            self.at = if moves_on {
                self.at - at
            } else {
                self.at + length - at
            };
            return Ok(());
        }
        let holds = |cells: &[Cell]| cells.iter().any(|c| live(c).is_some());
        let (front, back) = self.needles[needle].split_at(at);
        if !holds(front) || !holds(back) {
            return Err("a needle ends there already".into());
        }
        let back = self.needles[needle].split_off(at);
        self.needles.insert(needle + 1, back);
        if self.needle > needle || moves_on {
            if moves_on {
                self.at -= at;
            }
            self.needle += 1;
        }
        Ok(())
    }

    /// The end of the needle `n` stitches ahead goes; its stitches and the next needle's lie
    /// together.
    fn merge(&mut self, n: u32) -> Result<(), String> {
        if self.endless {
            return Err("no needle ends anywhere".into());
        }
        let (needle, at) = self.ahead(n)?;
        let holds = |cells: &[Cell]| cells.iter().any(|c| live(c).is_some());
        let count = self.needles.len();
        // The tip may also be at the beginning of the second of the two.
        let first = if !holds(&self.needles[needle][at..]) {
            needle
        } else if n == 0 && !holds(&self.needles[needle][..at]) {
            (needle + count - 1) % count
        } else {
            return Err("no needle ends there".into());
        };
        if count == 1 {
            self.endless = true;
            return Ok(());
        }
        let second = (first + 1) % count;
        let shift = self.needles[first].len();
        let tail = self.needles[second].clone();
        self.needles[first].extend(tail);
        if self.needle == second {
            self.needle = first;
            self.at += shift;
        }
        self.needles.remove(second);
        if self.needle > second {
            self.needle -= 1;
        }
        Ok(())
    }

    fn begin_here(&mut self) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        // Standing at a needle's end or at the next one's beginning is the same place.
        if self.at == self.needles[self.needle].len() && !self.endless {
            self.next_needle()?;
        }
        for n in 0..self.needles.len() {
            if let Some(i) = self.needles[n].iter().position(|c| *c == Cell::Begin) {
                self.needles[n].remove(i);
                if n == self.needle && i < self.at {
                    self.at -= 1;
                }
            }
        }
        self.put(Cell::Begin);
        Ok(())
    }

    fn graft_start(&mut self) -> Result<(), String> {
        if self.needles.len() != 2 {
            return Err(format!(
                "{} needles cannot be held parallel",
                self.needles.len()
            ));
        }
        if self.at == self.needles[self.needle].len() {
            self.next_needle()?;
        }
        let _ = self.next_cell();
        for cells in &mut self.needles {
            cells.retain(|c| *c != Cell::Begin);
            if let Some(other) = cells.iter().find(|c| live(c).is_none()) {
                return Err(format!("{other:?} is in the way"));
            }
        }
        self.at = 0;
        let [one, two] = [self.needles[0].len(), self.needles[1].len()];
        if one != two || one == 0 {
            return Err(format!("{one} and {two} stitches cannot be grafted"));
        }
        self.grafting = true;
        Ok(())
    }

    /// Joins the two stitches nearest the yarn: the last of the needle just worked, the first of
    /// the other.
    fn graft(&mut self) -> Result<(), String> {
        if !self.grafting {
            return Err("grafting was not set up".into());
        }
        let one = self.needles[self.needle].first().and_then(live);
        let two = self.needles[1 - self.needle].last().and_then(live);
        let (Some(one), Some(two)) = (one, two) else {
            return Err("no pair is left".into());
        };
        self.needles[self.needle].remove(0);
        self.needles[1 - self.needle].pop();
        self.use_up(one)?;
        self.use_up(two)?;
        self.grafted.push((one, two));
        self.worked += 1;
        Ok(())
    }

    fn graft_end(&mut self) -> Result<(), String> {
        self.graft()?;
        if self.needles.iter().all(Vec::is_empty) {
            Ok(())
        } else {
            Err("it was not the last pair".into())
        }
    }

    fn yarn_over(&mut self) -> Result<(), String> {
        let (_, before) = self.next_live()?;
        let part = self.made[before].part;
        let id = self.make(Vec::new(), How::Over, Face::Knit, part);
        self.log.push((part, How::Over));
        self.put(Cell::Live(id));
        Ok(())
    }

    /// The hem's live stitch and the cast-on loop behind it are knitted together: the loops in the
    /// order in which they were cast on.
    fn fold(&mut self) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        let behind = self.folded.len();
        if self.made.get(behind).is_none_or(|s| s.how != How::CastOn) {
            return Err("every cast-on loop is folded in already".into());
        }
        let (at, id) = self.next_live()?;
        let part = self.made[id].part;
        self.use_up(id)?;
        self.remove(at);
        self.folded.push(behind);
        self.log.push((part, How::Folded));
        let new = self.make(vec![id, behind], How::Folded, Face::Knit, part);
        self.put(Cell::Live(new));
        Ok(())
    }

    /// The yarn goes through all that is live and is drawn tight.
    fn draw_closed(&mut self, n: u32) -> Result<(), String> {
        let all = self.ring();
        if u32::try_from(all.len()) != Ok(n) {
            return Err(format!("{} stitches are live", all.len()));
        }
        if !self.joined || self.wrong_side || self.cut {
            return Err("there is no ring to draw closed".into());
        }
        for id in all {
            self.use_up(id)?;
            self.drawn.push(id);
        }
        self.needles.iter_mut().for_each(Vec::clear);
        (self.needle, self.at) = (0, 0);
        Ok(())
    }

    fn fasten_off(&mut self) -> Result<(), String> {
        if self.needles.iter().any(|n| !n.is_empty()) {
            return Err("stitches are still live".into());
        }
        self.cut = true;
        Ok(())
    }

    /// A whole round: the tip came once round to the beginning, and every live stitch is new.
    fn whole_round(&mut self) -> Result<(), String> {
        let begins_next = self.needles[self.needle].get(self.at) == Some(&Cell::Begin);
        let begins_behind =
            self.at > 0 && self.needles[self.needle].get(self.at - 1) == Some(&Cell::Begin);
        if !(begins_next || begins_behind) {
            return Err("the round does not end at its beginning".into());
        }
        if self.rounds_begun > 1 {
            return Err(format!("{} rounds in one", self.rounds_begun));
        }
        let now = self.now;
        if let Some(old) = self
            .ring()
            .into_iter()
            .find(|&id| self.made[id].born != now)
        {
            return Err(format!("stitch {old} was not worked in this round"));
        }
        if let Some(cell) = self
            .needles
            .iter()
            .flatten()
            .find(|c| matches!(c, Cell::Edge(..) | Cell::Gap))
        {
            return Err(format!("{cell:?} is left open"));
        }
        Ok(())
    }
}

fn live(cell: &Cell) -> Option<Id> {
    match cell {
        Cell::Live(id) => Some(*id),
        _ => None,
    }
}

const fn gusset(side: Side) -> Part {
    match side {
        Side::Left => Part::GussetLeft,
        Side::Right => Part::GussetRight,
    }
}

/// Whether operations only move stitches between needles, markers and beginnings.
pub fn only_moves_stitches(ops: &[Do]) -> bool {
    ops.iter().all(|op| {
        matches!(
            op,
            Do::Split(_)
                | Do::Merge(_)
                | Do::BeginHere
                | Do::Place(_)
                | Do::Pass(_)
                | Do::TakeOff(_)
                | Do::NextNeedle
                | Do::Join
        )
    })
}

/// Whether two listings of a ring are the same ring, wherever each begins.
pub fn same_ring(a: &[Id], b: &[Id]) -> bool {
    let Some(first) = a.first() else {
        return b.is_empty();
    };
    let Some(turn) = b.iter().position(|id| id == first) else {
        return false;
    };
    a.len() == b.len() && a.iter().eq(b[turn..].iter().chain(&b[..turn]))
}
