//! The fabric that a plan makes: every stitch that the simulator made, with its neighbours. Replays the
//! plan's operations over the trace's needles. Pure; knows no picture.

use std::collections::BTreeSet;
use std::ops::Range;

use evenloop_engine::needles::{Item, Needles};
use evenloop_engine::plan::{Move, Plan, SectionKind};
use evenloop_engine::recipe::Toe;
use evenloop_engine::sort::sort;
use evenloop_engine::stitch::{Cross, Decrease, Increase, Lean, Op, RareStitch, Yarn};
use evenloop_engine::trace::{Position, Trace};

use super::loops::{Loops, StitchId};
use super::places::{NOWHERE, narrow, places, region};
use super::stitch::{CableLayer, FabricStitch, PlaceInRound, Region, StitchKind, Zone};

/// All stitches of a sock, in the order in which they are made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Fabric {
    /// The stitches.
    pub(crate) stitches: Vec<FabricStitch>,
}

impl Fabric {
    /// Knits the fabric of a plan; `None` where trace and plan are not of the same sock.
    pub(crate) fn of(plan: &Plan, trace: &Trace) -> Option<Self> {
        let mut hands = Hands::of(plan);
        let steps = plan.sections.iter().flat_map(|section| &section.steps);
        for (at, (step, seen)) in steps.zip(&trace.steps).enumerate() {
            hands.begin(seen.kind);
            for (mv, (one, after)) in step.moves.iter().zip(&seen.moves).enumerate() {
                hands.work_move(Position { step: at, mv }, one, &after.after)?;
            }
        }
        let mut stitches = hands.stitches;
        count_columns(&mut stitches);
        Some(Self { stitches })
    }

    /// How many stitches are made before the move at a position.
    pub(crate) fn made_before(&self, at: Position) -> usize {
        self.stitches
            .partition_point(|stitch| (stitch.made.step, stitch.made.mv) < (at.step, at.mv))
    }
}

/// How many rows every column of a region has: whatever grows out of a stitch counts to its column.
fn count_columns(stitches: &mut [FabricStitch]) {
    for top in (0..stitches.len()).rev() {
        let (before, rest) = stitches.split_at_mut(top);
        let Some(stitch) = rest.first() else {
            continue;
        };
        for below in stitch.below.into_iter().flatten() {
            let below = usize::try_from(below)
                .ok()
                .and_then(|at| before.get_mut(at));
            if let Some(below) = below.filter(|below| below.region == stitch.region) {
                below.rows = below.rows.max(stitch.rows);
            }
        }
    }
}

/// The loops in hand with all stitches made so far.
#[derive(Debug)]
pub(super) struct Hands {
    loops: Loops,
    stitches: Vec<FabricStitch>,
    /// Stitches worked or slipped in this step.
    worked: Vec<StitchId>,
    region: Region,
    /// How the toe lies.
    toe: Region,
    /// Stitches of the part before that were slipped in this one, and over how many rows.
    carried: Vec<(StitchId, u16)>,
    /// The loops of a closed cast-on that are mounted the other way.
    leading_leg_behind: Range<usize>,
    /// Stitches that were turned by slipping them knitwise.
    turned: BTreeSet<StitchId>,
    yarn: Yarn,
    at: Position,
}

impl Default for Hands {
    fn default() -> Self {
        Self {
            loops: Loops::default(),
            stitches: Vec::with_capacity(16_384),
            worked: Vec::with_capacity(256),
            region: Region::Cuff,
            toe: Region::Toe,
            carried: Vec::new(),
            leading_leg_behind: 0..0,
            turned: BTreeSet::new(),
            yarn: Yarn::A,
            at: Position::default(),
        }
    }
}

impl Hands {
    /// Empty hands that are about to knit a plan.
    pub(super) fn of(plan: &Plan) -> Self {
        let toe = match plan.recipe.toe {
            Toe::ShortRow => Region::ShortToe,
            _ => Region::Toe,
        };
        Self {
            toe,
            ..Self::default()
        }
    }

    /// Works a move and compares with what the simulator has on the needles after it.
    pub(super) fn work_move(&mut self, at: Position, one: &Move, after: &Needles) -> Option<()> {
        self.at = at;
        self.work_all(&one.ops)?;
        self.see(after)
    }

    /// The loops in ring order.
    pub(super) fn ring(&self) -> impl Iterator<Item = StitchId> + '_ {
        self.loops.ring()
    }

    /// The yarn that is worked with.
    pub(super) const fn yarn(&self) -> Yarn {
        self.yarn
    }

    /// Whether the wrong side faces.
    pub(super) const fn is_wrong_side(&self) -> bool {
        self.loops.is_wrong_side()
    }

    /// A stitch that was made.
    pub(super) fn stitch(&self, id: StitchId) -> Option<&FabricStitch> {
        self.get(id)
    }

    /// Begins a step of a section.
    pub(super) fn begin(&mut self, kind: SectionKind) {
        let region = region(kind, self.region, self.toe);
        if self.region != region {
            self.region = region;
            self.carried.clear();
        }
        self.worked.clear();
    }

    fn work_all(&mut self, ops: &[Op]) -> Option<()> {
        ops.iter().try_for_each(|op| self.work(op))
    }

    fn work(&mut self, op: &Op) -> Option<()> {
        match op {
            Op::CastOn(n) => self.cast_on(StitchKind::CastOn, n.get()),
            Op::CastOnUneven(back, front) => {
                self.cast_on(StitchKind::CastOn, back.get().saturating_add(front.get()));
            }
            Op::CastOnWrapped(n) => self.cast_on_at_the_toe(n.get().saturating_mul(2)),
            Op::CastOnMagic(n) => {
                self.region = self.toe;
                self.cast_on(StitchKind::CastOn, n.get());
                let first = self.stitches.len();
                self.cast_on(StitchKind::CastOn, n.get());
                self.leading_leg_behind = first..self.stitches.len();
            }
            Op::CastOnTubular(back, front) => {
                self.cast_on_by_turns(back.get().saturating_add(front.get()));
            }
            Op::CastOnProvisional(n) => self.cast_on_at_the_toe(n.get()),
            Op::OpenProvisional(n) => self.undo_chain(n.get()),
            Op::Knit(n)
            | Op::FoldJoin(n)
            | Op::KnitToSnip(n)
            | Op::Waste(n)
            | Op::KnitDouble(n)
            | Op::KnitWrapped(n) => {
                return self.run(n.get(), self.seen(StitchKind::Knit));
            }
            Op::Purl(n) | Op::PurlDouble(n) | Op::PurlWrapped(n) => {
                return self.run(n.get(), self.seen(StitchKind::Purl));
            }
            Op::KnitThroughBackLoop(n) => {
                return (0..n.get()).try_for_each(|_| self.through_back_loop(false));
            }
            Op::KnitCorner => return self.run(1, self.seen(StitchKind::Knit)),
            Op::Rare(RareStitch::PurlThroughBackLoop, n) => {
                return (0..n.get()).try_for_each(|_| self.through_back_loop(true));
            }
            Op::Rare(RareStitch::SlipKnitwise, n) => {
                return (0..n.get()).try_for_each(|_| self.slip_knitwise());
            }
            Op::Slip(n) | Op::SlipYarnInFront(n) | Op::Rare(RareStitch::SlipYarnInBack, n) => {
                return (0..n.get()).try_for_each(|_| self.slip());
            }
            Op::K2tog => return self.decrease(self.leaning(Lean::Right)),
            Op::Ssk => return self.decrease(self.leaning(Lean::Left)),
            Op::P2tog => {
                let kind = if self.loops.is_wrong_side() {
                    StitchKind::Decrease(Lean::Right)
                } else {
                    StitchKind::PurlDecrease
                };
                return self.decrease(kind);
            }
            Op::Decrease(decrease) => return self.decrease_to_one(*decrease),
            Op::Increase(increase) => return self.increase(*increase),
            Op::AsWritten(from, to) => return self.as_written(from.get(), to.get()),
            Op::YarnOver | Op::YarnOverBehind => self.new_stitch(StitchKind::YarnOver),
            Op::MakeLeft => self.new_stitch(StitchKind::MakeOne(Lean::Left)),
            Op::MakeRight => self.new_stitch(StitchKind::MakeOne(Lean::Right)),
            Op::PickUp(n) | Op::PickUpAlong(n) => {
                (0..n.get()).for_each(|_| self.new_stitch(StitchKind::PickedUp));
            }
            Op::PickUpCorner => self.new_stitch(StitchKind::PickedUp),
            // the wrap lies around a stitch and makes none
            Op::Turn | Op::TurnWrapped => self.loops.turn(),
            Op::TurnDouble => {
                self.loops.turn();
                return self.pull_double();
            }
            Op::BeginHere => self.loops.begin_here(),
            Op::WorkFlatBehind(n) => return self.loops.begin_behind(usize::from(n.get())),
            Op::BindOff(n) | Op::SewDown(n) => {
                return (0..n.get()).try_for_each(|_| self.bind_off());
            }
            Op::OpenWaste(n) | Op::SnipRow(n) => return self.open_waste(n.get()),
            Op::Graft(n) => return (0..n.get()).try_for_each(|_| self.graft()),
            Op::GraftEnd => return self.graft(),
            Op::Cross(cross) => return self.cross(*cross),
            Op::Yarn(yarn) => self.yarn = *yarn,
            Op::DrawClosed(_) | Op::FastenOff => self.loops.clear(),
            Op::Repeat(ops, n) => return (0..n.get()).try_for_each(|_| self.work_all(ops)),
            Op::Join
            | Op::Next
            | Op::Place(_)
            | Op::Hang(..)
            | Op::SlipMarker(_)
            | Op::Remove(_)
            | Op::WorkFlat(_)
            | Op::LoopOut(_)
            | Op::LoopIn(_)
            | Op::GraftStart
            | Op::NameHeel
            | Op::PatternLine(_)
            | Op::MotifRow(_) => {}
        }
        Some(())
    }

    /// What is knitted with the wrong side facing is a purl stitch on the right side, and the reverse.
    const fn seen(&self, kind: StitchKind) -> StitchKind {
        match (kind, self.loops.is_wrong_side()) {
            (StitchKind::Knit | StitchKind::Twisted, true) => StitchKind::Purl,
            (StitchKind::Purl, true) => StitchKind::Knit,
            _ => kind,
        }
    }

    const fn leaning(&self, lean: Lean) -> StitchKind {
        if self.loops.is_wrong_side() {
            StitchKind::PurlDecrease
        } else {
            StitchKind::Decrease(lean)
        }
    }

    fn get(&self, id: StitchId) -> Option<&FabricStitch> {
        self.stitches.get(usize::try_from(id).ok()?)
    }

    fn get_mut(&mut self, id: StitchId) -> Option<&mut FabricStitch> {
        self.stitches.get_mut(usize::try_from(id).ok()?)
    }

    /// The row that a stitch lies in, as seen from the region that is knitted now.
    fn row_of(&self, id: Option<StitchId>) -> u16 {
        let Some(id) = id else {
            return 0;
        };
        match self.get(id) {
            Some(stitch) if stitch.region == self.region => stitch.row,
            _ => {
                let mine = self.carried.iter().find(|(slipped, _)| *slipped == id);
                mine.map_or(0, |(_, rows)| *rows)
            }
        }
    }

    fn add(&mut self, kind: StitchKind, below: [Option<StitchId>; 2], row: u16) -> StitchId {
        let id = StitchId::try_from(self.stitches.len()).unwrap_or(StitchId::MAX);
        self.stitches.push(FabricStitch {
            kind,
            yarn: self.yarn,
            made: self.at,
            below,
            slipped: 0,
            double: false,
            cable: None,
            region: self.region,
            row,
            rows: row,
            place: NOWHERE,
        });
        self.worked.push(id);
        id
    }

    /// A stitch worked into one or two others.
    fn into(&mut self, kind: StitchKind, below: [Option<StitchId>; 2]) -> StitchId {
        let row = below.map(|id| self.row_of(id));
        self.add(kind, below, row[0].max(row[1]).saturating_add(1))
    }

    fn cast_on(&mut self, kind: StitchKind, n: u16) {
        for _ in 0..n {
            let id = self.add(kind, [None; 2], 0);
            self.loops.lay(id);
        }
    }

    fn cast_on_at_the_toe(&mut self, n: u16) {
        self.region = self.toe;
        self.cast_on(StitchKind::CastOn, n);
    }

    /// Knit and purl loops by turns, the knit ones mounted the other way.
    fn cast_on_by_turns(&mut self, n: u16) {
        for nth in 0..n {
            let id = self.add(StitchKind::CastOn, [None; 2], 0);
            self.loops.lay(id);
            if nth.is_multiple_of(2) {
                self.turned.insert(id);
            }
        }
    }

    /// The loops that a chain gives back lie on a needle after all the others.
    fn undo_chain(&mut self, n: u16) {
        for _ in 0..n {
            let id = self.add(StitchKind::CastOn, [None; 2], 0);
            self.loops.lay_last(id);
        }
    }

    fn run(&mut self, n: u16, kind: StitchKind) -> Option<()> {
        for _ in 0..n {
            let below = self.loops.take()?;
            let id = self.into(kind, [Some(below), None]);
            self.loops.lay(id);
        }
        Some(())
    }

    /// A stitch that is mounted the other way comes out open, any other one twisted.
    fn through_back_loop(&mut self, purled: bool) -> Option<()> {
        let next = self.loops.next()?;
        let laid_behind = self
            .leading_leg_behind
            .contains(&usize::try_from(next).ok()?);
        let behind = laid_behind != self.turned.contains(&next);
        let kind = match (purled, behind, self.loops.is_wrong_side()) {
            (true, false, true) => StitchKind::Twisted,
            (true, ..) => self.seen(StitchKind::Purl),
            (false, true, _) => self.seen(StitchKind::Knit),
            (false, false, _) => self.seen(StitchKind::Twisted),
        };
        self.run(1, kind)
    }

    /// Its other leg leads then.
    fn slip_knitwise(&mut self) -> Option<()> {
        let next = self.loops.next()?;
        if !self.turned.remove(&next) {
            self.turned.insert(next);
        }
        self.slip()
    }

    fn slip(&mut self) -> Option<()> {
        let id = self.loops.take()?;
        let region = self.region;
        let stitch = self.get_mut(id)?;
        // One that comes from the part below stays the last of its column there.
        stitch.slipped = stitch.slipped.saturating_add(1);
        if stitch.region == region {
            stitch.row = stitch.row.saturating_add(1);
            stitch.rows = stitch.row;
        } else if let Some((_, rows)) = self.carried.iter_mut().find(|(slipped, _)| *slipped == id)
        {
            *rows = rows.saturating_add(1);
        } else {
            self.carried.push((id, 1));
        }
        self.worked.push(id);
        self.loops.lay(id);
        Some(())
    }

    /// The stitch on top is the second one where it leans right, else the first.
    fn decrease(&mut self, kind: StitchKind) -> Option<()> {
        let (first, second) = (self.loops.take()?, self.loops.take()?);
        let right = kind == StitchKind::Decrease(Lean::Right) && !self.loops.is_wrong_side();
        let below = if right {
            [Some(second), Some(first)]
        } else {
            [Some(first), Some(second)]
        };
        let id = self.into(kind, below);
        self.loops.lay(id);
        Some(())
    }

    /// Of three stitches in one, the fabric shows the one on top and one below it; the third lies hidden.
    fn decrease_to_one(&mut self, decrease: Decrease) -> Option<()> {
        let taken: Vec<StitchId> = (0..decrease.takes())
            .map(|_| self.loops.take())
            .collect::<Option<_>>()?;
        let (first, last) = (taken.first().copied(), taken.last().copied());
        let (purled, lean) = match decrease {
            Decrease::K3tog => (false, Some(Lean::Right)),
            Decrease::P3tog => (true, Some(Lean::Right)),
            Decrease::Skp | Decrease::Sssk | Decrease::Sk2p | Decrease::K2togThroughBackLoops => {
                (false, Some(Lean::Left))
            }
            Decrease::Ssp | Decrease::P2togThroughBackLoops => (true, Some(Lean::Left)),
            Decrease::S2kp => (false, None),
        };
        let kind = match (purled == self.loops.is_wrong_side(), lean) {
            (true, Some(lean)) => StitchKind::Decrease(lean),
            // upright: it looks like a knit stitch
            (true, None) => StitchKind::Knit,
            (false, _) => StitchKind::PurlDecrease,
        };
        let below = match (lean, taken.as_slice()) {
            (None, [first, middle, _]) => [Some(*middle), Some(*first)],
            (Some(Lean::Right), _) if !self.loops.is_wrong_side() => [last, first],
            _ => [first, last],
        };
        let id = self.into(kind, below);
        self.loops.lay(id);
        Some(())
    }

    fn increase(&mut self, increase: Increase) -> Option<()> {
        let kind = match increase {
            Increase::Kfb => Some(StitchKind::Knit),
            Increase::Pfb => Some(StitchKind::Purl),
            Increase::MakePurl => None,
        };
        if let Some(kind) = kind {
            self.run(1, self.seen(kind))?;
        }
        self.new_stitch(StitchKind::MakeOne(Lean::Left));
        Some(())
    }

    /// What a pattern's own words do is known by its count alone.
    fn as_written(&mut self, from: u16, to: u16) -> Option<()> {
        let kept = from.min(to);
        self.run(kept, self.seen(StitchKind::Knit))?;
        for _ in kept..from {
            self.loops.take()?;
        }
        (kept..to).for_each(|_| self.new_stitch(StitchKind::MakeOne(Lean::Left)));
        Some(())
    }

    /// A stitch between others lies in the row of the one worked before it.
    fn new_stitch(&mut self, kind: StitchKind) {
        let last = self.worked.last().copied();
        let row = match self.row_of(last) {
            0 => {
                let next = self.loops.next();
                self.row_of(next).saturating_add(1)
            }
            row => row,
        };
        let id = self.add(kind, [None; 2], row);
        self.loops.lay(id);
    }

    fn pull_double(&mut self) -> Option<()> {
        let id = self.loops.take()?;
        self.get_mut(id)?.double = true;
        self.worked.push(id);
        self.loops.lay(id);
        Some(())
    }

    fn bind_off(&mut self) -> Option<()> {
        let below = self.loops.take()?;
        let place = self.get(below)?.place;
        let id = self.into(StitchKind::BoundOff, [Some(below), None]);
        self.get_mut(id)?.place = place;
        Some(())
    }

    fn graft(&mut self) -> Option<()> {
        let (front, back) = self.loops.take_pair()?;
        for below in [front, back] {
            let place = self.get(below)?.place;
            let id = self.into(StitchKind::Grafted, [Some(below), None]);
            self.get_mut(id)?.place = place;
        }
        Some(())
    }

    /// The loops below and above the waste yarn: they are no stitches of their own.
    fn open_waste(&mut self, n: u16) -> Option<()> {
        self.loops.clear();
        self.region = Region::LateHeel;
        self.cast_on(StitchKind::Opened, n.checked_mul(2)?);
        Some(())
    }

    fn cross(&mut self, cross: Cross) -> Option<()> {
        let taken: Vec<StitchId> = (0..cross.width())
            .map(|_| self.loops.take())
            .collect::<Option<_>>()?;
        let (over, under) = (
            usize::from(cross.over.get()),
            usize::from(cross.under.get()),
        );
        let behind = if cross.purl {
            StitchKind::Purl
        } else {
            StitchKind::Knit
        };
        // What is held on the cable needle is worked last.
        let order: Vec<(StitchId, CableLayer)> = match cross.lean {
            Lean::Right => {
                let (held, now) = taken.split_at_checked(under)?;
                let now = now.iter().map(|id| (*id, CableLayer::Front));
                now.chain(held.iter().map(|id| (*id, CableLayer::Behind)))
                    .collect()
            }
            Lean::Left => {
                let (held, now) = taken.split_at_checked(over)?;
                let now = now.iter().map(|id| (*id, CableLayer::Behind));
                now.chain(held.iter().map(|id| (*id, CableLayer::Front)))
                    .collect()
            }
        };
        for (below, layer) in order {
            let kind = match layer {
                CableLayer::Front => StitchKind::Knit,
                CableLayer::Behind => behind,
            };
            let id = self.into(kind, [Some(below), None]);
            self.get_mut(id)?.cable = Some(layer);
            self.loops.lay(id);
        }
        Some(())
    }

    /// Compares with what the simulator has on the needles, and notes where each stitch lies.
    fn see(&mut self, needles: &Needles) -> Option<()> {
        let (mut before, mut tip) = (0, 0);
        for (nth, item) in needles.items().enumerate() {
            if nth == needles.tip() {
                tip = before;
            }
            before += match item {
                Item::Stitches(_, _, n) => usize::from(n),
                Item::Double(_) | Item::Wrapped(..) => 1,
                Item::Marker(_) | Item::End | Item::Edge { .. } | Item::Gap => 0,
            };
        }
        if needles.tip() >= needles.items().count() {
            tip = before;
        }
        if before != self.loops.count() {
            return None;
        }
        self.loops.set_tip(tip);
        let ring: Vec<StitchId> = self.loops.ring().collect();
        let places = places(needles, self.region);
        for (id, place) in ring.iter().zip(&places) {
            let (region, step) = (self.region, self.at.step);
            let stitch = self.get_mut(*id)?;
            if stitch.region == region && stitch.made.step == step {
                stitch.place = *place;
            }
        }
        self.note_row_ends(&ring, &places)
    }

    /// Where a row covers only a part of its zone: how much of the zone lies outside.
    fn note_row_ends(&mut self, ring: &[StitchId], places: &[PlaceInRound]) -> Option<()> {
        sort(&mut self.worked, |a, b| a < b);
        let backs: Vec<(StitchId, PlaceInRound)> = ring
            .iter()
            .copied()
            .zip(places.iter().copied())
            .filter(|(_, place)| place.zone == Zone::Back)
            .collect();
        let worked = |id: &StitchId| self.worked.binary_search(id).is_ok();
        let before = backs.iter().take_while(|(id, _)| !worked(id)).count();
        let after = backs.iter().rev().take_while(|(id, _)| !worked(id)).count();
        let outside = (narrow(before), narrow(after));
        for (id, _) in backs
            .iter()
            .filter(|(id, _)| worked(id))
            .copied()
            .collect::<Vec<_>>()
        {
            let step = self.at.step;
            let stitch = self.get_mut(id)?;
            if stitch.made.step == step {
                stitch.place.outside = outside;
            }
        }
        Some(())
    }
}

#[cfg(test)]
#[allow(clippy::expect_used, reason = "a test that cannot go on stops")]
mod tests {
    use evenloop_engine::written_ops::read_ops;

    use super::*;

    /// The fabric of operations in their written form, compared with the simulator's needles after each.
    fn knitted(text: &str) -> Hands {
        let (mut hands, mut needles) = (Hands::default(), Needles::new());
        for round in text.split('|') {
            for op in read_ops(round).expect("operations") {
                hands.work(&op).expect("there are loops");
                needles
                    .apply(&op)
                    .unwrap_or_else(|refusal| panic!("{op}: {refusal}"));
                hands.see(&needles).expect("as many as the simulator has");
            }
            if needles.joined() && needles.tip() == needles.items().count() {
                needles.end_round().expect("a whole round");
                hands.see(&needles).expect("the round begins anew");
            }
        }
        hands
    }

    fn kinds(hands: &Hands, from: usize) -> Vec<StitchKind> {
        hands.stitches[from..].iter().map(|s| s.kind).collect()
    }
    #[test]
    fn the_operations_of_written_patterns_make_their_stitches() {
        use StitchKind::{Decrease, Knit, MakeOne, Purl, PurlDecrease, Twisted};
        let (left, right) = (Decrease(Lean::Left), Decrease(Lean::Right));
        let made = MakeOne(Lean::Left);
        for (ops, from, expected) in [
            ("co9 join | k3tog sk2p sssk", 9, vec![right, left, left]),
            (
                "co8 join | skp ssp k2togt p2togt",
                8,
                vec![left, PurlDecrease, left, PurlDecrease],
            ),
            ("co6 join | s2kp p3tog", 6, vec![Knit, PurlDecrease]),
            (
                "co4 join | kfb pfb m1p k2",
                4,
                vec![Knit, made, Purl, made, made, Knit, Knit],
            ),
            (
                "co6 join | as4-2 as2-4",
                6,
                vec![Knit, Knit, Knit, Knit, made, made],
            ),
            // turned by the slip, the first comes out open
            ("co2 join | sk1 sb1 | kt1 kt1", 2, vec![Knit, Twisted]),
            ("co2 join | sk1 k1 | pt1 pt1", 3, vec![Purl, Purl]),
        ] {
            assert_eq!(kinds(&knitted(ops), from), expected, "{ops}");
        }
        let decreased = knitted("co6 join | k3tog s2kp");
        assert_eq!(decreased.stitches[6].below, [Some(2), Some(0)]);
        assert_eq!(decreased.stitches[7].below, [Some(4), Some(3)]);
    }

    #[test]
    fn wraps_and_a_flap_behind_the_tip_keep_the_loops_in_order() {
        let wrapped = knitted("co8 join | k3 tw p2 tw k2 kw1 k4");
        assert_eq!(wrapped.loops.count(), 8);
        let flap = knitted("co8 join | k4 flat-2");
        let ring: Vec<StitchId> = flap.loops.ring().collect();
        assert_eq!(ring, [10, 11, 4, 5, 6, 7, 8, 9]);
        let picked = knitted("co8 join | k2 flat-4 t s1 p3 t k4 pua3 k4 bor pua1 k4");
        assert_eq!(picked.loops.count(), 12);
    }
}
