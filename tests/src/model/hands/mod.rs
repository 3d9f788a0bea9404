//! A naive knitter: needles are lists, every stitch is a thing with a number of its own and knows
//! which stitches it was made out of. Operations are worked one stitch at a time, as hands would.
//!
//! What hands cannot do is refused: knit past the end of a needle, past a marker or an unworked
//! part, knit plainly over the gap of a turn, decrease over a marker, pick up where there is no
//! edge, graft unequal needles. The fabric itself is remembered: which face each stitch shows on
//! the right side, which way each decrease leans, from which loop it was drawn.

mod charted;
mod close;
mod heel;
mod seats;
mod stitches;

use std::ops::Deref;

pub use charted::ChartProgress;

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
    /// Worked out of one stitch so that its legs cross.
    Twisted,
    /// Knitted out of one stitch and a loop lifted beside it, in a corner.
    Cornered,
    /// The yarn laid over the needle.
    Over,
    /// Knitted out of a stitch and a cast-on loop together.
    Folded,
    /// Made from the strand between two stitches, leaning left.
    MadeLeft,
    /// Made from the strand between two stitches, leaning right.
    MadeRight,
    /// Knitted with the waste yarn.
    Waste,
    /// The lower half of a stitch, live again once the waste yarn below it is out.
    Freed,
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

/// What a stitch was made out of: nothing, one stitch, or two.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Parents {
    ids: [Id; 2],
    count: u8,
}

impl Parents {
    /// Drawn through this one.
    pub const fn one(id: Id) -> Self {
        Self {
            ids: [id, 0],
            count: 1,
        }
    }

    /// Drawn through both.
    pub const fn two(one: Id, other: Id) -> Self {
        Self {
            ids: [one, other],
            count: 2,
        }
    }
}

impl Deref for Parents {
    type Target = [Id];

    fn deref(&self) -> &[Id] {
        &self.ids[..usize::from(self.count)]
    }
}

/// One stitch, live or long worked.
#[derive(Debug, Clone)]
pub struct Stitch {
    /// What it was made out of: stitches, or the edge loop it was drawn through.
    pub parents: Parents,
    /// Whether something was made out of it, or it was grafted.
    pub used: bool,
    /// How it was made.
    pub how: How,
    /// What it shows on the right side.
    pub face: Face,
    /// Where it belongs.
    pub part: Part,
    /// In which move, counted from 1, it was made.
    pub born: usize,
    /// Whether its right leg lies behind the needle: it twists when worked through the front.
    pub right_leg_behind: bool,
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
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cell {
    /// A live stitch.
    Live(Id),
    /// A marker by its letter.
    Marker(char),
    /// An open edge.
    Edge(Side),
    /// The gap that a turn in the middle left.
    Gap,
    /// Where the round begins. Nothing hangs here; the knitter knows.
    Begin,
}

/// The knitter: needles, hands and everything knitted so far.
#[derive(Debug, Clone)]
#[allow(clippy::struct_excessive_bools)] // each is a thing of its own that is so or is not
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
    /// The slipped stitches along the left and the right edge, oldest first.
    pub edge_loops: [Vec<Id>; 2],
    /// Single things done with the sock's own yarn: every stitch made, slipped, doubled or bound off,
    /// every pair grafted.
    pub worked: u64,
    /// Cast-on loops that a hem was folded to, in the order worked.
    pub folded: Vec<Id>,
    /// Stitches drawn closed.
    pub drawn: Vec<Id>,
    /// Stitches bound off.
    pub bound: Vec<Id>,
    /// Live stitches that were pulled up to double ones.
    pub doubles: Vec<Id>,
    /// What the waste yarn keeps apart: the stitch below, its own, the stitch above.
    pub waste: Vec<[Id; 3]>,
    /// The row that is to be snipped: the stitch below, its own.
    pub to_snip: Vec<[Id; 2]>,
    /// Loops in a chain of waste yarn that are on no needle yet.
    pub in_chain: u32,
    /// Whether the last edge was sewn down inside.
    pub sewn_down: bool,
    /// Whether it was begun at the toe.
    pub toe_up: bool,
    /// Whether this move is a row, in which the work may be turned.
    row: bool,
    /// The instep's stitches where heel or foot was begun: its columns stand on them.
    pub instep_base: Vec<Id>,
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
    /// The motif being worked, if there is one.
    pub chart_progress: Option<ChartProgress>,
    /// The yarn in hand.
    pub yarn: char,
    /// Loops laid down of each yarn, A first, in hundredths of a plain stitch.
    pub loops: [u64; 4],
    /// What a stitch of this section takes, in hundredths of a plain one.
    loop_size: u64,
    /// The stitch worked last on this needle or since the row of the chart was looked up.
    last: Option<Id>,
    /// Whether stitches are passing over others.
    crossing: bool,
    /// Stitches of each part when this move was begun.
    parts_before: [u32; 7],
    /// What was slipped in this move.
    slipped: Vec<Id>,
    flap: bool,
    /// Whether the stitch worked last was knitted, as seen by who worked it, and whether the row
    /// before this one ended so.
    knitted_last: bool,
    ended_in_knit: bool,
    /// What was slipped in this move with the yarn in front.
    pub slipped_in_front: Vec<Id>,
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
            made: Vec::with_capacity(1 << 14),
            edge_loops: [const { Vec::new() }; 2],
            worked: 0,
            folded: Vec::new(),
            drawn: Vec::new(),
            bound: Vec::new(),
            doubles: Vec::new(),
            waste: Vec::new(),
            to_snip: Vec::new(),
            in_chain: 0,
            sewn_down: false,
            toe_up: false,
            row: false,
            instep_base: Vec::new(),
            grafted: Vec::new(),
            picked_up: [0; 2],
            rounds_begun: 0,
            now: 0,
            log: Vec::new(),
            chart_progress: None,
            yarn: 'A',
            loops: [0; 4],
            loop_size: 100,
            last: None,
            crossing: false,
            parts_before: [0; 7],
            slipped: Vec::new(),
            flap: false,
            knitted_last: false,
            ended_in_knit: false,
            slipped_in_front: Vec::new(),
            grafting: false,
            cut: false,
            corners: Vec::new(),
            edges_picked: Vec::new(),
        }
    }
}

impl Hands {
    /// Empty hands with a set of that many double-pointed needles, or with circulars, and a motif to
    /// be worked.
    pub fn with(set_of: Option<usize>, chart_progress: Option<ChartProgress>) -> Self {
        Self {
            set_of,
            chart_progress,
            ..Self::default()
        }
    }

    /// Works one move. `form` is the form of its step; the laws of a whole round are checked when
    /// it is one.
    ///
    /// # Errors
    /// What hands cannot do.
    pub fn work(&mut self, mv: &Move, form: &str) -> Result<(), String> {
        self.begin_move(form);
        let only_moves = only_moves_stitches(&mv.ops);
        let ring = if only_moves { self.ring() } else { Vec::new() };
        let to_be_worked = if form == "round" {
            self.to_the_begin()
        } else {
            Vec::new()
        };
        for op in &mv.ops {
            self.one(op).map_err(|why| format!("{op:?}: {why}"))?;
            self.enough_needles()
                .map_err(|why| format!("after {op:?}: {why}"))?;
        }
        if only_moves && !same_ring(&ring, &self.ring()) {
            return Err("re-seating changed the order of the stitches".into());
        }
        if form == "round" {
            self.whole_round(&to_be_worked)?;
        }
        self.look_at_the_chart()
    }

    /// Gets ready for a move of a step of that form.
    pub fn begin_move(&mut self, form: &str) {
        self.now += 1;
        self.rounds_begun = 0;
        self.log.clear();
        self.slipped.clear();
        self.slipped_in_front.clear();
        self.parts_before = self.parts();
        self.last = None;
        self.row = form.ends_with("row");
    }

    /// Calls stitches by what they have become when a section begins.
    pub fn begin_section(&mut self, section: &Section) {
        let kind = section.kind.as_str();
        self.flap = kind == "heel-flap" && !self.toe_up;
        for id in self.ring() {
            let part = &mut self.made[id].part;
            *part = match (kind, *part) {
                ("heel-flap" | "heel-turn" | "short-row-heel", Part::Back | Part::Sole) => {
                    Part::Heel
                }
                ("heel-flap" | "heel-turn" | "short-row-heel" | "heel-place", Part::Front) => {
                    Part::Instep
                }
                // Where the gusset leaves no round for the foot, the toe comes right after it.
                ("heel-place", Part::Back)
                | ("foot" | "toe", Part::Heel | Part::GussetLeft | Part::GussetRight) => Part::Sole,
                ("leg" | "cuff", Part::Heel | Part::Sole) => Part::Back,
                ("leg" | "cuff", Part::Instep) => Part::Front,
                (_, as_it_was) => as_it_was,
            };
        }
        let begins_instep = if self.toe_up {
            matches!(
                kind,
                "foot" | "gusset" | "heel-turn" | "short-row-heel" | "heel-place"
            )
        } else {
            matches!(kind, "heel-flap" | "short-row-heel" | "heel-place")
        };
        if begins_instep && self.instep_base.is_empty() {
            self.instep_base = self.of_part(Part::Instep);
        }
        self.loop_size = if kind == "cuff" { 105 } else { 100 };
        self.dress_section(kind);
    }

    /// The live stitches of a part in ring order from where the round begins.
    pub fn of_part(&self, part: Part) -> Vec<Id> {
        self.from_begin()
            .into_iter()
            .filter(|&id| self.made[id].part == part)
            .collect()
    }

    /// The live stitches from the tip to where the round begins.
    fn to_the_begin(&self) -> Vec<Id> {
        let (here, count) = (self.needle, self.needles.len());
        let others = (1..count).flat_map(|n| &self.needles[(here + n) % count]);
        let (behind, ahead) = self.needles[here].split_at(self.at);
        let mut ids = self.room();
        for cell in ahead.iter().chain(others).chain(behind) {
            match cell {
                Cell::Begin if !ids.is_empty() => break,
                Cell::Live(id) => ids.push(*id),
                _ => {}
            }
        }
        ids
    }

    /// The live stitches in ring order from the first needle's beginning.
    pub fn ring(&self) -> Vec<Id> {
        let mut ring = self.room();
        ring.extend(self.needles.iter().flatten().filter_map(live));
        ring
    }

    /// A list with room for everything that is live.
    fn room(&self) -> Vec<Id> {
        Vec::with_capacity(self.needles.iter().map(Vec::len).sum())
    }

    /// The live stitches in ring order from where the round begins.
    pub fn from_begin(&self) -> Vec<Id> {
        let mut ids = self.room();
        let mut begin = 0;
        for cell in self.needles.iter().flatten() {
            match cell {
                Cell::Live(id) => ids.push(*id),
                Cell::Begin => begin = ids.len(),
                _ => {}
            }
        }
        ids.rotate_left(begin);
        ids
    }

    /// Stitches of each part.
    pub fn parts(&self) -> [u32; 7] {
        let mut parts = [0; 7];
        for id in self.needles.iter().flatten().filter_map(live) {
            parts[self.made[id].part as usize] += 1;
        }
        parts
    }

    /// Stitches on each needle, the needle on which the round begins first; nothing once all is
    /// off the needles.
    pub fn per_needle(&self) -> Vec<u32> {
        if self.needles.iter().flatten().find_map(live).is_none() {
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

    /// Everything ahead on this needle, the next first; on one short circular, to where the round
    /// begins.
    pub fn to_the_end(&self) -> Vec<Cell> {
        let cells = &self.needles[self.needle];
        let (near, far) = (&cells[self.at..], &cells[..self.at]);
        let far = if self.endless { far } else { &[] };
        // The beginning may lie right at the tip: then the round is just begun.
        near.iter()
            .chain(far)
            .enumerate()
            .take_while(|(i, cell)| *i == 0 || **cell != Cell::Begin)
            .map(|(_, cell)| *cell)
            .filter(|cell| *cell != Cell::Begin)
            .collect()
    }

    /// How many stitches lie ahead on this needle before something else does, and what that is:
    /// a double stitch, a marker, an edge, a gap, or nothing but the needle's end.
    pub fn before_the_next_thing(&self) -> (u32, Option<Cell>) {
        let cells = &self.needles[self.needle];
        let (near, far) = (&cells[self.at..], &cells[..self.at]);
        let ahead: Vec<&Cell> = match (self.wrong_side, self.endless) {
            (false, false) => near.iter().collect(),
            (false, true) => near.iter().chain(far).collect(),
            (true, false) => far.iter().rev().collect(),
            (true, true) => far.iter().rev().chain(near.iter().rev()).collect(),
        };
        let mut stitches = 0;
        for cell in ahead {
            match cell {
                Cell::Live(id) if !self.doubles.contains(id) => stitches += 1,
                Cell::Begin => {}
                thing => return (stitches, Some(*thing)),
            }
        }
        (stitches, None)
    }

    /// Works one operation, whatever the round.
    ///
    /// # Errors
    /// What hands cannot do.
    pub fn one(&mut self, op: &Do) -> Result<(), String> {
        match *op {
            Do::CastOn(back, front) => self.cast_on(back, front),
            Do::Join => self.join(),
            Do::Knit(n) => self.times(n, |h| h.draw_through(1, How::Worked, true)),
            Do::Purl(n) => self.times(n, |h| h.draw_through(1, How::Worked, false)),
            Do::Slip(n) => self.times(n, |h| h.slip(false)),
            Do::SlipInFront(n) => self.times(n, |h| h.slip(true)),
            Do::K2tog => self.draw_through(2, How::LeansRight, true),
            Do::Ssk => self.draw_through(2, How::LeansLeft, true),
            Do::P2tog => self.draw_through(2, How::LeansRight, false),
            Do::PickUp(n) => self.times(n, Self::pick_up),
            Do::PickUpCorner => self.pick_up_corner(),
            Do::KnitCorner => self.knit_corner(),
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
            Do::KnitBack(n) => self.times(n, Self::through_the_back),
            Do::YarnOver => self.yarn_over(false),
            Do::YarnOverBehind => self.yarn_over(true),
            Do::Fold(n) => self.times(n, Self::fold),
            Do::Draw(n) => self.draw_closed(n),
            Do::TurnDouble => self.turn_double(),
            Do::KnitDouble(n) => self.times(n, |h| h.work_double(true)),
            Do::PurlDouble(n) => self.times(n, |h| h.work_double(false)),
            Do::MakeLeft => self.make_one(How::MadeLeft),
            Do::MakeRight => self.make_one(How::MadeRight),
            Do::CastOnWrapped(n) => self.cast_on_closed(n, false),
            Do::CastOnMagic(n) => self.cast_on_closed(n, true),
            Do::BindOff(n) => self.bind_off(n),
            Do::Waste(n) => self.times(n, Self::waste),
            Do::OpenWaste(n) => self.open_waste(n),
            Do::KnitToSnip(n) => self.times(n, Self::knit_to_snip),
            Do::Snip(n) => self.snip(n),
            Do::CastOnTubular(back, front) => self.cast_on_tubular(back, front),
            Do::CastOnProvisional(n) => self.cast_on_provisional(n),
            Do::OpenProvisional(n) => self.undo_chain(n),
            Do::SewDown(n) => self.sew_down(n),
            Do::Hang(m, n) => self.hang(m, n),
            Do::Row(n) => self.look_up_row(n),
            Do::Yarn(yarn) => self.change_yarn(yarn),
            Do::Cross {
                over,
                under,
                to_the_right,
                purl,
            } => self.cross(over, under, to_the_right, purl),
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

    fn make(&mut self, parents: Parents, how: How, face: Face, part: Part) -> Id {
        self.made.push(Stitch {
            parents,
            used: false,
            how,
            face,
            part,
            born: self.now,
            right_leg_behind: false,
        });
        self.worked += 1;
        self.lay(self.loop_size);
        self.made.len() - 1
    }

    /// Yarn laid down, in hundredths of a plain stitch's.
    fn lay(&mut self, loops: u64) {
        self.loops[self.yarn as usize - 'A' as usize] += loops;
    }

    /// Yarn that was not laid down after all: nothing was worked.
    fn take_back(&mut self) {
        self.worked -= 1;
        self.loops[self.yarn as usize - 'A' as usize] -= self.loop_size;
    }

    /// From here with another yarn than the one in hand.
    fn change_yarn(&mut self, yarn: char) -> Result<(), String> {
        if yarn == self.yarn {
            return Err("that yarn is in hand already".into());
        }
        self.yarn = yarn;
        Ok(())
    }

    fn use_up(&mut self, id: Id) -> Result<(), String> {
        if std::mem::replace(&mut self.made[id].used, true) {
            Err(format!("stitch {id} was used before"))
        } else {
            Ok(())
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

    /// A whole round: the tip came to the beginning, and every stitch that lay before it when the
    /// round was begun has been worked. (After short rows a round may begin in the middle.)
    fn whole_round(&mut self, to_be_worked: &[Id]) -> Result<(), String> {
        let begins_next = self.needles[self.needle].get(self.at) == Some(&Cell::Begin);
        let begins_behind =
            self.at > 0 && self.needles[self.needle].get(self.at - 1) == Some(&Cell::Begin);
        if !(begins_next || begins_behind) {
            return Err("the round does not end at its beginning".into());
        }
        if self.rounds_begun > 1 {
            return Err(format!("{} rounds in one", self.rounds_begun));
        }
        if let Some(old) = to_be_worked
            .iter()
            .find(|id| !self.made[**id].used && !self.slipped.contains(id))
        {
            return Err(format!("stitch {old} was not worked in this round"));
        }
        let mut cells = self.needles.iter().flatten();
        if let Some(cell) = cells.find(|c| matches!(c, Cell::Edge(..) | Cell::Gap)) {
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
                | Do::Hang(..)
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
