//! The simulator: applies operations to the needles and refuses the impossible.
//!
//! It checks what hands and yarn would: an operation has the stitches it needs; a marker lies where
//! it is slipped; no needle's end, open edge or turned gap is worked across unawares; the yarn is
//! where the next stitch is (the working tip is the only place that works, and turning is the only
//! way to go back); the end of the round is its beginning. Every count the app shows comes from
//! here, never from a formula beside it.
//!
//! Pure. May use operations and needles; must not know plans, sections or words.

use crate::needles::{Facing, FlapEdge, Item, Mount, Needles, Origin};
use crate::stitch::{Count, Decrease, Marker, Op, RareStitch, Yarn};

/// Why an operation cannot be done on these needles.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refusal {
    /// Fewer stitches left than the operation needs.
    OutOfStitches,
    /// A needle ends before the operation is done.
    NeedleEnds,
    /// A marker hangs in the way.
    MarkerInTheWay(Marker),
    /// A double stitch lies in the way: both its legs are worked together.
    DoubleInTheWay,
    /// The next stitch is mounted the other way: worked like this it would twist.
    WouldTwist,
    /// There is no double stitch here.
    NoDouble,
    /// There is no wrapped stitch here.
    NoWrapped,
    /// There is no waste yarn, chain of it or row to be snipped, or another one than that.
    NoSuchWaste,
    /// The gap of a turned row lies in the way and nothing closes it.
    GapInTheWay,
    /// An edge worked flat lies open here; it is picked up first.
    EdgeOpen(FlapEdge),
    /// There is no edge here to pick up from, or too few loops along it.
    NothingToPickUp,
    /// The named marker does not hang here.
    NoSuchMarker(Marker),
    /// That marker hangs somewhere already.
    MarkerTwice(Marker),
    /// No needle ends there.
    NoNeedleEnd,
    /// A needle ends there already.
    NeedleEndTwice,
    /// There are fewer stitches in the ring than the place asked for.
    NoSuchPlace,
    /// Works only with the right side facing.
    WrongSideFacing,
    /// Casting on happens once, joining once and before any knitting in the round.
    NotAtTheStart,
    /// Grafting wants two needles with equal counts and the tip at their beginning.
    NotReadyToGraft,
    /// Live stitches remain where none may.
    StitchesLeft,
    /// A round has to end where it began.
    RoundNotWhole,
    /// A needle would end within a repeat of the motif.
    MotifCut,
    /// Too few rounds are left to shape in.
    RoundsMissing,
    /// What was knitted already belongs to another kind of sock.
    NotAsBefore,
    /// That yarn is in use already.
    SameYarn,
    /// More stitches than any needle of ours carries: no plan of a sock, but a damaged one.
    TooMany,
}

impl Refusal {
    /// A name for programs and reports. A code is never changed and never used for anything else.
    pub const fn code(self) -> &'static str {
        match self {
            Self::OutOfStitches => "out-of-stitches",
            Self::NeedleEnds => "needle-ends",
            Self::MarkerInTheWay(_) => "marker-in-the-way",
            Self::DoubleInTheWay => "double-in-the-way",
            Self::WouldTwist => "would-twist",
            Self::NoDouble => "no-double",
            Self::NoWrapped => "no-wrapped",
            Self::NoSuchWaste => "no-such-waste",
            Self::GapInTheWay => "gap-in-the-way",
            Self::EdgeOpen(_) => "edge-open",
            Self::NothingToPickUp => "nothing-to-pick-up",
            Self::NoSuchMarker(_) => "no-such-marker",
            Self::MarkerTwice(_) => "marker-twice",
            Self::NoNeedleEnd => "no-needle-end",
            Self::NeedleEndTwice => "needle-end-twice",
            Self::NoSuchPlace => "no-such-place",
            Self::WrongSideFacing => "wrong-side-facing",
            Self::NotAtTheStart => "not-at-the-start",
            Self::NotReadyToGraft => "not-ready-to-graft",
            Self::StitchesLeft => "stitches-left",
            Self::RoundNotWhole => "round-not-whole",
            Self::MotifCut => "motif-cut",
            Self::RoundsMissing => "rounds-missing",
            Self::NotAsBefore => "not-as-before",
            Self::SameYarn => "same-yarn",
            Self::TooMany => "too-many",
        }
    }
}

impl std::fmt::Display for Refusal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.code())
    }
}

impl std::error::Error for Refusal {}

/// Most live stitches at once; far above any sock, far below what a count can hold.
const MOST_STITCHES: u32 = 1_000;

impl Needles {
    /// Whether so many more stitches may come onto the needles.
    fn room_for(&self, more: u32) -> Result<(), Refusal> {
        if u32::from(self.stitches()) + more <= MOST_STITCHES {
            Ok(())
        } else {
            Err(Refusal::TooMany)
        }
    }

    /// Does one operation.
    ///
    /// # Errors
    /// The reason when the needles do not allow it. The state is then spoiled: clone before trying
    /// what may be refused.
    pub fn apply(&mut self, op: &Op) -> Result<(), Refusal> {
        match op {
            Op::Knit(n) | Op::Purl(n) | Op::FoldJoin(n) => self.work(n.get()),
            Op::KnitThroughBackLoop(n) | Op::Rare(RareStitch::PurlThroughBackLoop, n) => {
                self.work_any(n.get())
            }
            Op::Rare(RareStitch::SlipKnitwise, n) => self.slip_knitwise(n.get()),
            Op::YarnOver | Op::MakeLeft | Op::MakeRight => self.make_one(),
            Op::YarnOverBehind => self.make_one_behind(),
            Op::TurnDouble => self.turn_double(),
            Op::KnitDouble(n) | Op::PurlDouble(n) => self.work_doubles(n.get()),
            Op::CastOnWrapped(n) => self.cast_on_closed(n.get(), Mount::LeadingLegInFront),
            Op::CastOnMagic(n) => self.cast_on_closed(n.get(), Mount::LeadingLegBehind),
            Op::BindOff(n) | Op::SewDown(n) => self.bind_off(n.get()),
            Op::Waste(n) => self.waste_row(n.get()),
            Op::OpenWaste(n) => self.open_waste(n.get()),
            Op::KnitToSnip(n) => self.knit_to_snip(n.get()),
            Op::SnipRow(n) => self.snip_row(n.get()),
            Op::CastOnTubular(back, front) => self.cast_on_tubular(back.get(), front.get()),
            Op::CastOnProvisional(n) => self.cast_on_provisional(n.get()),
            Op::OpenProvisional(n) => self.open_provisional(n.get()),
            Op::Hang(m, n) => self.hang(*m, *n),
            Op::DrawClosed(n) => {
                if self.stitches() != n.get() {
                    return Err(Refusal::StitchesLeft);
                }
                self.clear();
                Ok(())
            }
            Op::Slip(n) | Op::SlipYarnInFront(n) | Op::Rare(RareStitch::SlipYarnInBack, n) => {
                self.slip(n.get())
            }
            Op::K2tog => self.decrease(Top::Second),
            Op::Ssk | Op::P2tog => self.decrease(Top::First),
            Op::PickUp(n) => self.pick_up(n.get()),
            Op::PickUpAlong(n) => self.pick_up_along(n.get()),
            Op::PickUpCorner => self.pick_up_corner(),
            Op::KnitCorner => self.knit_corner(),
            Op::Turn => {
                self.turn();
                Ok(())
            }
            Op::Next => self.next_needle(),
            Op::Place(m) => self.place(*m),
            Op::SlipMarker(m) => self.slip_marker(*m),
            Op::Remove(m) => {
                if self.remove_marker(*m) {
                    Ok(())
                } else {
                    Err(Refusal::NoSuchMarker(*m))
                }
            }
            Op::CastOn(n) => self.cast_on(n.get().div_ceil(2), n.get() / 2),
            Op::CastOnUneven(back, front) => self.cast_on(back.get(), front.get()),
            // they change places; each part of the sock keeps as many as it had
            Op::Cross(cross) => self.work(cross.width()),
            Op::MotifRow(_) | Op::PatternLine(_) => Ok(()),
            Op::NameHeel => self.name_heel(),
            Op::Yarn(yarn) => self.change_yarn(*yarn),
            Op::Join => self.join_round(),
            Op::WorkFlat(n) => self.work_flat(n.get()),
            Op::LoopOut(n) => self.loop_out(*n),
            Op::LoopIn(n) => {
                self.right_side()?;
                if self.remove_end_ahead(*n) {
                    Ok(())
                } else {
                    Err(Refusal::NoNeedleEnd)
                }
            }
            Op::BeginHere => {
                self.right_side()?;
                self.begin_here();
                Ok(())
            }
            Op::GraftStart => self.pairs_to_graft().map(|_| ()),
            Op::Graft(n) => self.graft(*n),
            Op::GraftEnd => self.graft_last(),
            Op::FastenOff => {
                if self.stitches() > 0 {
                    return Err(Refusal::StitchesLeft);
                }
                self.clear();
                Ok(())
            }
            Op::Decrease(decrease) => self.decrease_to_one(*decrease),
            Op::Increase(increase) => self.increase(increase.takes()),
            Op::TurnWrapped => self.turn_wrapped(),
            Op::KnitWrapped(n) | Op::PurlWrapped(n) => self.work_wrapped(n.get()),
            Op::WorkFlatBehind(n) => self.work_flat_behind(n.get()),
            Op::AsWritten(from, to) => self.as_written(from.get(), to.get()),
            Op::Repeat(ops, times) => {
                for _ in 0..times.get() {
                    self.apply_all(ops)?;
                }
                Ok(())
            }
        }
    }

    /// Does operations one after another.
    ///
    /// # Errors
    /// The first refusal.
    pub fn apply_all(&mut self, ops: &[Op]) -> Result<(), Refusal> {
        ops.iter().try_for_each(|op| self.apply(op))
    }

    /// Ends a round: its end must be its beginning.
    ///
    /// # Errors
    /// [`Refusal::RoundNotWhole`] when something of the round is left to work, or it was left on
    /// the wrong side.
    pub fn end_round(&mut self) -> Result<(), Refusal> {
        if self.facing() == Facing::WrongSide || !self.joined() || !self.at_end() {
            return Err(Refusal::RoundNotWhole);
        }
        self.wrap();
        Ok(())
    }

    fn right_side(&self) -> Result<(), Refusal> {
        match self.facing() {
            Facing::RightSide => Ok(()),
            Facing::WrongSide => Err(Refusal::WrongSideFacing),
        }
    }

    /// Why the item that lies next cannot be worked as a stitch.
    fn refusal_of_next(&self) -> Refusal {
        match self.next() {
            None | Some(Item::Stitches(..) | Item::Wrapped(..)) => Refusal::OutOfStitches,
            Some(Item::Marker(m)) => Refusal::MarkerInTheWay(m),
            Some(Item::End) => Refusal::NeedleEnds,
            Some(Item::Edge { side, .. }) => Refusal::EdgeOpen(side),
            Some(Item::Gap) => Refusal::GapInTheWay,
            Some(Item::Double(_)) => Refusal::DoubleInTheWay,
        }
    }

    /// Takes up to `n` stitches that are worked through the front loop.
    fn take_mounted(&mut self, n: u16) -> Result<(Origin, u16), Refusal> {
        match self.take(n) {
            Some((origin, Mount::LeadingLegInFront, taken)) => Ok((origin, taken)),
            Some((_, Mount::LeadingLegBehind, _)) => Err(Refusal::WouldTwist),
            None => Err(self.refusal_of_next()),
        }
    }

    /// Takes up to `n` stitches that are worked whichever way they are mounted.
    fn take_any(&mut self, n: u16) -> Result<(Origin, u16), Refusal> {
        match self.take(n) {
            Some((origin, _, taken)) => Ok((origin, taken)),
            None => Err(self.refusal_of_next()),
        }
    }

    /// A new loop in place of each stitch, drawn through its front loop.
    pub(crate) fn work(&mut self, mut n: u16) -> Result<(), Refusal> {
        while n > 0 {
            let (origin, taken) = self.take_mounted(n)?;
            self.push_loops(origin, taken);
            n -= taken;
        }
        Ok(())
    }

    /// The same whichever way they are mounted.
    fn work_any(&mut self, mut n: u16) -> Result<(), Refusal> {
        while n > 0 {
            let (origin, taken) = self.take_any(n)?;
            self.push_loops(origin, taken);
            n -= taken;
        }
        Ok(())
    }

    /// New loops of yarn lie on the needle the usual way.
    fn push_loops(&mut self, origin: Origin, n: u16) {
        self.push(Item::Stitches(origin, Mount::LeadingLegInFront, n));
    }

    fn change_yarn(&mut self, yarn: Yarn) -> Result<(), Refusal> {
        if self.yarn() == yarn {
            return Err(Refusal::SameYarn);
        }
        self.set_yarn(yarn);
        Ok(())
    }

    /// Slipped as if to purl, a stitch keeps its mount.
    fn slip(&mut self, mut n: u16) -> Result<(), Refusal> {
        self.grow_edge();
        while n > 0 {
            // a slipped stitch keeps its wrap
            if let Some(wrapped @ Item::Wrapped(..)) = self.next() {
                self.pop();
                self.push(wrapped);
                n -= 1;
                continue;
            }
            let Some((origin, mount, taken)) = self.take(n) else {
                return Err(self.refusal_of_next());
            };
            self.push(Item::Stitches(origin, mount, taken));
            n -= taken;
        }
        Ok(())
    }

    /// Slipped as if to knit, a stitch turns: its other leg leads then.
    fn slip_knitwise(&mut self, n: u16) -> Result<(), Refusal> {
        self.grow_edge();
        for _ in 0..n {
            let wrapped = matches!(self.next(), Some(Item::Wrapped(..)));
            let Some((origin, mount, _)) = self.take(1) else {
                return Err(self.refusal_of_next());
            };
            self.push(if wrapped {
                Item::Wrapped(origin, mount.turned())
            } else {
                Item::Stitches(origin, mount.turned(), 1)
            });
        }
        Ok(())
    }

    /// The first stitch of a row, slipped, makes one long loop along the edge it begins at.
    fn grow_edge(&mut self) {
        if self.edges_grow()
            && let Some(Item::Edge { loops, .. }) = self.last_mut()
        {
            *loops = loops.saturating_add(1);
        }
    }

    /// Two stitches become one; the gap of a turned row between them is closed by it.
    fn decrease(&mut self, top: Top) -> Result<(), Refusal> {
        let (first, _) = self.take_mounted(1)?;
        if self.next() == Some(Item::Gap) {
            self.pop();
        }
        let (second, _) = self.take_mounted(1)?;
        self.push_loops(
            match top {
                Top::First => first,
                Top::Second => second,
            },
            1,
        );
        Ok(())
    }

    /// A number of stitches become one, which belongs to the first of them; the gap of a turned row between
    /// them is closed by it.
    fn decrease_to_one(&mut self, decrease: Decrease) -> Result<(), Refusal> {
        let mut first = None;
        for nth in 0..decrease.takes() {
            if nth > 0 && self.next() == Some(Item::Gap) {
                self.pop();
            }
            let (origin, _) = if decrease.through_back_loops() {
                self.take_any(1)?
            } else {
                self.take_mounted(1)?
            };
            first.get_or_insert(origin);
        }
        if let Some(origin) = first {
            self.push_loops(origin, 1);
        }
        Ok(())
    }

    /// One stitch more than it takes.
    fn increase(&mut self, takes: u16) -> Result<(), Refusal> {
        if takes == 0 {
            return self.make_one();
        }
        self.room_for(1)?;
        self.work(takes)?;
        self.make_one_behind()
    }

    /// Turns with the yarn around the next stitch, which stays where it is.
    fn turn_wrapped(&mut self) -> Result<(), Refusal> {
        let Some((origin, mount, _)) = self.take(1) else {
            return Err(self.refusal_of_next());
        };
        self.unpop(Item::Wrapped(origin, mount));
        self.set_edges_grow(false);
        self.flip();
        Ok(())
    }

    fn work_wrapped(&mut self, n: u16) -> Result<(), Refusal> {
        for _ in 0..n {
            if !matches!(self.next(), Some(Item::Wrapped(..))) {
                return Err(Refusal::NoWrapped);
            }
            self.work(1)?;
        }
        Ok(())
    }

    /// The stitches that were just worked are the part worked flat.
    fn work_flat_behind(&mut self, n: u16) -> Result<(), Refusal> {
        self.right_side()?;
        if !self.begin_behind(n) {
            return Err(Refusal::NoSuchPlace);
        }
        // the edge belongs to the needle that ends with the part worked flat
        let end = self.last() == Some(Item::End);
        if end {
            self.pop_behind();
            self.unpop(Item::End);
        }
        self.begin_with(edge(FlapEdge::Right));
        self.unpop(edge(FlapEdge::Left));
        self.set_edges_grow(true);
        Ok(())
    }

    /// Calls what lies between the edges of the part worked flat the heel.
    fn name_heel(&mut self) -> Result<(), Refusal> {
        if self.heel_between_edges() || self.heel_is_first_half() {
            Ok(())
        } else {
            Err(Refusal::NothingToPickUp)
        }
    }

    /// What the pattern's own words do to the next stitches is known by its count alone: what is more
    /// or less then belongs to the last of them.
    fn as_written(&mut self, from: u16, to: u16) -> Result<(), Refusal> {
        self.room_for(u32::from(to.saturating_sub(from)))?;
        let kept = from.min(to);
        let mut left = kept;
        while left > 0 {
            self.leave_short_rows();
            let (origin, taken) = self.take_any(left)?;
            self.push_loops(origin, taken);
            left -= taken;
        }
        for _ in kept..from {
            self.leave_short_rows();
            self.take_any(1)?;
        }
        for _ in kept..to {
            self.make_one_behind()?;
        }
        // nothing else closes a gap where the needle ends
        if self.next() == Some(Item::Gap) && self.upcoming().nth(1) == Some(Item::End) {
            self.pop();
        }
        Ok(())
    }

    /// The gap or the double stitch of a turned row that lies next is worked over.
    fn leave_short_rows(&mut self) {
        while let Some(item @ (Item::Gap | Item::Double(_))) = self.next() {
            self.pop();
            if let Item::Double(origin) = item {
                self.unpop(Item::Stitches(origin, Mount::LeadingLegInFront, 1));
            }
        }
    }

    /// Turns without leaving a gap: the first stitch after the turn becomes a double one.
    fn turn_double(&mut self) -> Result<(), Refusal> {
        self.flip();
        let Some((origin, _, _)) = self.take(1) else {
            return Err(self.refusal_of_next());
        };
        self.push(Item::Double(origin));
        Ok(())
    }

    /// After a turn the first stitch becomes a double one, and no gap is left there.
    ///
    /// # Errors
    /// Where no row was turned here, or no stitch lies next; nothing is changed then.
    pub(crate) fn double_first(&mut self) -> Result<(), Refusal> {
        // before another double stitch a turn leaves no gap
        let gap = match self.last() {
            Some(Item::Gap) => true,
            Some(Item::Double(_)) => false,
            _ => return Err(Refusal::NoDouble),
        };
        let Some((origin, _, _)) = self.take(1) else {
            return Err(self.refusal_of_next());
        };
        if gap {
            self.pop_behind();
        }
        self.push(Item::Double(origin));
        Ok(())
    }

    fn work_doubles(&mut self, n: u16) -> Result<(), Refusal> {
        for _ in 0..n {
            let Some(Item::Double(origin)) = self.next() else {
                return Err(Refusal::NoDouble);
            };
            self.pop();
            self.push_loops(origin, 1);
        }
        Ok(())
    }

    /// Loops on two needles, sole and instep, and already a ring.
    fn cast_on_closed(&mut self, pairs: u16, second: Mount) -> Result<(), Refusal> {
        self.room_for(2 * u32::from(pairs))?;
        if self.stitches() > 0 || self.joined() {
            return Err(Refusal::NotAtTheStart);
        }
        self.lay_two_needles(Origin::Sole, (Origin::Instep, second), pairs);
        self.join();
        Ok(())
    }

    /// Two needles with equal counts, the tip at the beginning of the first.
    fn lay_two_needles(&mut self, first: Origin, second: (Origin, Mount), each: u16) {
        for (origin, mount) in [(first, Mount::LeadingLegInFront), second] {
            self.push(Item::Stitches(origin, mount, each));
            self.push(Item::End);
        }
        self.wrap();
    }

    /// Stitches leave the needle; what hangs between them does too.
    fn bind_off(&mut self, mut n: u16) -> Result<(), Refusal> {
        self.right_side()?;
        while n > 0 {
            match self.next() {
                Some(Item::Marker(_) | Item::End) => {
                    self.pop();
                }
                _ => n -= self.take_mounted(n)?.1,
            }
        }
        Ok(())
    }

    fn waste_row(&mut self, n: u16) -> Result<(), Refusal> {
        self.right_side()?;
        if self.waste() > 0 {
            return Err(Refusal::NoSuchWaste);
        }
        self.work(n)?;
        self.set_waste(n);
        Ok(())
    }

    fn open_waste(&mut self, n: u16) -> Result<(), Refusal> {
        if self.waste() != n {
            return Err(Refusal::NoSuchWaste);
        }
        self.set_waste(0);
        self.take_up_both_sides(n)
    }

    fn knit_to_snip(&mut self, n: u16) -> Result<(), Refusal> {
        self.right_side()?;
        if self.to_snip() > 0 {
            return Err(Refusal::NoSuchWaste);
        }
        self.work(n)?;
        self.set_to_snip(n);
        Ok(())
    }

    fn snip_row(&mut self, n: u16) -> Result<(), Refusal> {
        if self.to_snip() != n {
            return Err(Refusal::NoSuchWaste);
        }
        self.set_to_snip(0);
        self.take_up_both_sides(n)
    }

    /// The stitches below and above a row that is drawn out, on a needle each.
    fn take_up_both_sides(&mut self, n: u16) -> Result<(), Refusal> {
        if self.stitches() > 0 {
            return Err(Refusal::StitchesLeft);
        }
        self.room_for(2 * u32::from(n))?;
        self.clear();
        // a needle put through the right leg of each V leaves them mounted the usual way
        self.lay_two_needles(Origin::Sole, (Origin::Back, Mount::LeadingLegInFront), n);
        Ok(())
    }

    /// Knit and purl loops by turns. Laid with two strands, each knit loop has its leading leg behind.
    fn cast_on_tubular(&mut self, back: u16, front: u16) -> Result<(), Refusal> {
        self.room_for(u32::from(back) + u32::from(front))?;
        if self.stitches() > 0 || self.joined() {
            return Err(Refusal::NotAtTheStart);
        }
        for nth in 0..back + front {
            let origin = if nth < back {
                Origin::Back
            } else {
                Origin::Front
            };
            let mount = if nth.is_multiple_of(2) {
                Mount::LeadingLegBehind
            } else {
                Mount::LeadingLegInFront
            };
            self.push(Item::Stitches(origin, mount, 1));
        }
        Ok(())
    }

    /// One needle; it is no ring before the chain's loops lie on another.
    fn cast_on_provisional(&mut self, n: u16) -> Result<(), Refusal> {
        self.room_for(2 * u32::from(n))?;
        if self.stitches() > 0 || self.joined() || self.provisional() > 0 {
            return Err(Refusal::NotAtTheStart);
        }
        self.push_loops(Origin::Sole, n);
        self.push(Item::End);
        self.wrap();
        self.set_provisional(n);
        Ok(())
    }

    fn open_provisional(&mut self, n: u16) -> Result<(), Refusal> {
        self.right_side()?;
        if self.provisional() != n {
            return Err(Refusal::NoSuchWaste);
        }
        if self.joined() {
            return Err(Refusal::NotAtTheStart);
        }
        self.room_for(n.into())?;
        self.set_provisional(0);
        self.append_needle(Item::Stitches(Origin::Instep, Mount::LeadingLegInFront, n));
        self.join();
        Ok(())
    }

    fn hang(&mut self, marker: Marker, n: u16) -> Result<(), Refusal> {
        self.right_side()?;
        if self.has_marker(marker) {
            return Err(Refusal::MarkerTwice(marker));
        }
        if self.insert_ahead(n, Item::Marker(marker)) {
            Ok(())
        } else {
            Err(Refusal::NoSuchPlace)
        }
    }

    /// A new stitch that belongs to whatever lies beside it: what comes next, else what was worked.
    fn make_one(&mut self) -> Result<(), Refusal> {
        self.room_for(1)?;
        let ((Some(Item::Stitches(origin, ..)), _) | (_, Some(Item::Stitches(origin, ..)))) =
            (self.next(), self.last())
        else {
            return Err(Refusal::OutOfStitches);
        };
        self.push_loops(origin, 1);
        Ok(())
    }

    /// A new stitch that belongs to the one just worked.
    fn make_one_behind(&mut self) -> Result<(), Refusal> {
        self.room_for(1)?;
        let Some(Item::Stitches(origin, ..)) = self.last() else {
            return Err(Refusal::OutOfStitches);
        };
        self.push_loops(origin, 1);
        Ok(())
    }

    fn turn(&mut self) {
        if matches!(self.next(), Some(Item::Stitches(..) | Item::Wrapped(..))) {
            // what was ahead lies behind once the work is turned
            self.unpop(Item::Gap);
            // short rows have begun: the flap's edges are as long as they get
            self.set_edges_grow(false);
        }
        self.flip();
    }

    fn next_needle(&mut self) -> Result<(), Refusal> {
        self.right_side()?;
        match self.pop() {
            Some(Item::End) => {
                self.push(Item::End);
                Ok(())
            }
            Some(other) => {
                self.unpop(other);
                Err(Refusal::NoNeedleEnd)
            }
            None => Err(Refusal::NoNeedleEnd),
        }
    }

    fn place(&mut self, marker: Marker) -> Result<(), Refusal> {
        if self.has_marker(marker) {
            return Err(Refusal::MarkerTwice(marker));
        }
        self.push(Item::Marker(marker));
        Ok(())
    }

    fn slip_marker(&mut self, marker: Marker) -> Result<(), Refusal> {
        if self.next() != Some(Item::Marker(marker)) {
            return Err(Refusal::NoSuchMarker(marker));
        }
        self.pop();
        self.push(Item::Marker(marker));
        Ok(())
    }

    /// The heel is worked later on the stitches of the back.
    fn cast_on(&mut self, back: u16, front: u16) -> Result<(), Refusal> {
        self.room_for(u32::from(back) + u32::from(front))?;
        if self.stitches() > 0 || self.joined() {
            return Err(Refusal::NotAtTheStart);
        }
        self.push_loops(Origin::Back, back);
        self.push_loops(Origin::Front, front);
        Ok(())
    }

    fn join_round(&mut self) -> Result<(), Refusal> {
        let only_ends = self
            .upcoming()
            .all(|i| matches!(i, Item::End | Item::Marker(_)));
        if self.joined() || self.stitches() == 0 || !only_ends {
            return Err(Refusal::NotAtTheStart);
        }
        while let Some(item) = self.pop() {
            self.push(item);
        }
        self.join();
        self.wrap();
        Ok(())
    }

    fn work_flat(&mut self, n: u16) -> Result<(), Refusal> {
        self.right_side()?;
        if !self.insert_ahead(n, edge(FlapEdge::Left)) {
            return Err(Refusal::NoSuchPlace);
        }
        self.push(edge(FlapEdge::Right));
        self.set_edges_grow(true);
        Ok(())
    }

    fn loop_out(&mut self, n: u16) -> Result<(), Refusal> {
        self.right_side()?;
        if !self.insert_ahead(n, Item::End) {
            return Err(Refusal::NoSuchPlace);
        }
        let items: Vec<Item> = self.items().collect();
        if items.windows(2).any(|w| w == [Item::End, Item::End]) {
            return Err(Refusal::NeedleEndTwice);
        }
        Ok(())
    }

    fn pick_up(&mut self, n: u16) -> Result<(), Refusal> {
        self.right_side()?;
        self.room_for(n.into())?;
        let Some(Item::Edge { side, loops, .. }) = self.next_mut() else {
            return Err(Refusal::NothingToPickUp);
        };
        if *loops < n {
            return Err(Refusal::NothingToPickUp);
        }
        *loops -= n;
        let (side, left) = (*side, *loops);
        if left == 0 {
            self.pop();
        }
        self.push_loops(gusset(side), n);
        Ok(())
    }

    /// As many as are wanted, from chains or beside them: the edge is used up.
    fn pick_up_along(&mut self, n: u16) -> Result<(), Refusal> {
        self.right_side()?;
        self.room_for(n.into())?;
        let Some(Item::Edge { side, .. }) = self.next() else {
            return Err(Refusal::NothingToPickUp);
        };
        self.pop();
        self.push_loops(gusset(side), n);
        Ok(())
    }

    /// The corner lies between the flap's edge and the instep: after the left edge's pick-ups,
    /// before the right edge's. Where no flap was picked up it lies where the parts of the sock meet,
    /// and its stitch belongs to the needle at work.
    fn pick_up_corner(&mut self) -> Result<(), Refusal> {
        self.right_side()?;
        self.room_for(1)?;
        let before_right_edge = match self.next_mut() {
            Some(Item::Edge {
                side: FlapEdge::Right,
                corner_used,
                ..
            }) => {
                if std::mem::replace(corner_used, true) {
                    return Err(Refusal::NothingToPickUp);
                }
                true
            }
            _ => false,
        };
        let side = if before_right_edge {
            FlapEdge::Right
        } else if matches!(self.last(), Some(Item::Stitches(Origin::GussetLeft, ..))) {
            FlapEdge::Left
        } else {
            let origin = self.corner_origin().ok_or(Refusal::NothingToPickUp)?;
            self.push_loops(origin, 1);
            return Ok(());
        };
        self.push_loops(gusset(side), 1);
        Ok(())
    }

    fn corner_origin(&self) -> Option<Origin> {
        match (self.corners_beside_next().0, self.last(), self.next()) {
            (true, Some(Item::Stitches(origin, ..)), _)
            | (true, _, Some(Item::Stitches(origin, ..))) => Some(origin),
            _ => None,
        }
    }

    /// The first or the last stitch of a heel, and a loop out of the corner beside it.
    fn knit_corner(&mut self) -> Result<(), Refusal> {
        self.right_side()?;
        let of_the_heel = |origin| !matches!(origin, Origin::Instep | Origin::Front);
        let (before, after) = self.corners_beside_next();
        match self.next() {
            Some(Item::Stitches(origin, ..) | Item::Double(origin) | Item::Wrapped(origin, _))
                if (before || after) && of_the_heel(origin) =>
            {
                match self.next() {
                    Some(Item::Double(_)) => self.work_doubles(1),
                    _ => self.work(1),
                }
            }
            Some(Item::Stitches(..) | Item::Double(_) | Item::Wrapped(..)) => {
                Err(Refusal::NothingToPickUp)
            }
            _ => Err(self.refusal_of_next()),
        }
    }

    /// Pairs still to graft, when two needles lie parallel with equal counts and nothing else
    /// hangs on them.
    fn pairs_to_graft(&self) -> Result<u16, Refusal> {
        let clean = self
            .items()
            .all(|i| matches!(i, Item::Stitches(..) | Item::End));
        match self.per_needle().as_slice() {
            [a, b] if a == b && *a > 0 && clean && self.tip() == 0 => Ok(*a),
            _ => Err(Refusal::NotReadyToGraft),
        }
    }

    fn graft(&mut self, n: Count) -> Result<(), Refusal> {
        let pairs = self.pairs_to_graft()?;
        if n.get() >= pairs {
            return Err(Refusal::OutOfStitches);
        }
        self.drop_pairs(n.get())
    }

    fn graft_last(&mut self) -> Result<(), Refusal> {
        match self.pairs_to_graft()? {
            1 => self.drop_pairs(1),
            _ => Err(Refusal::StitchesLeft),
        }
    }

    /// The front needle gives its first stitches, the back needle its last: they lie tip to tip.
    fn drop_pairs(&mut self, n: u16) -> Result<(), Refusal> {
        let mut front = n;
        while front > 0 {
            front -= self.take_mounted(front)?.1;
        }
        // Walk the rest over, take the back needle's last stitches, and come back.
        while let Some(item) = self.pop() {
            self.push(item);
        }
        let mut back = n;
        self.flip();
        if self.next() == Some(Item::End) {
            self.pop();
        }
        while back > 0 {
            back -= self.take_mounted(back)?.1;
        }
        while let Some(item) = self.pop() {
            self.push(item);
        }
        self.flip();
        self.insert_ahead(self.stitches(), Item::End);
        Ok(())
    }
}

/// Which of two stitches lies on top of a decrease and gives it its origin.
#[derive(Clone, Copy)]
enum Top {
    First,
    Second,
}

/// An edge along which nothing has been slipped yet.
const fn edge(side: FlapEdge) -> Item {
    Item::Edge {
        side,
        loops: 0,
        corner_used: false,
    }
}

const fn gusset(side: FlapEdge) -> Origin {
    match side {
        FlapEdge::Left => Origin::GussetLeft,
        FlapEdge::Right => Origin::GussetRight,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::written_ops::read_ops;

    /// Needles after operations in their written form.
    fn after(text: &str) -> Result<Needles, Refusal> {
        let mut needles = Needles::new();
        for round in text.split('|') {
            needles.apply_all(&read_ops(round).expect("operations"))?;
            if needles.joined() && needles.at_end() && needles.stitches() > 0 {
                needles.end_round()?;
            }
        }
        Ok(needles)
    }

    const LEG: &str = "co8 lo@4 lo@0 join | ";

    #[test]
    fn a_round_ends_where_it_began() {
        let needles = after(&format!("{LEG} k4 / k4 /")).expect("a round");
        assert_eq!((needles.tip(), needles.per_needle()), (0, vec![4, 4]));
        let mut short = after(&format!("{LEG} k4 / k3")).expect("not a refusal yet");
        assert_eq!(short.end_round(), Err(Refusal::RoundNotWhole));
    }

    #[test]
    fn hands_cannot_do_these() {
        for (ops, why) in [
            ("k5", Refusal::NeedleEnds),
            ("k2 /", Refusal::NoNeedleEnd),
            ("k2 m+L k1 m+L", Refusal::MarkerTwice(Marker::Left)),
            ("m>L", Refusal::NoSuchMarker(Marker::Left)),
            ("m-R", Refusal::NoSuchMarker(Marker::Right)),
            ("k2 t k3", Refusal::OutOfStitches),
            ("k2 t p1 t k2", Refusal::GapInTheWay),
            ("k4 k2tog", Refusal::NeedleEnds),
            ("pu2", Refusal::NothingToPickUp),
            ("k1 puc", Refusal::NothingToPickUp),
            ("k1 kc", Refusal::NothingToPickUp),
            ("k4 / kc", Refusal::NothingToPickUp),
            ("lc@3", Refusal::NoNeedleEnd),
            ("lo@4", Refusal::NeedleEndTwice),
            ("lo@9", Refusal::NoSuchPlace),
            ("co8", Refusal::NotAtTheStart),
            ("join", Refusal::NotAtTheStart),
            ("k1 g0", Refusal::NotReadyToGraft),
            ("g4", Refusal::OutOfStitches),
            ("gx", Refusal::StitchesLeft),
            ("off", Refusal::StitchesLeft),
            ("k4 t bor", Refusal::WrongSideFacing),
            // a flap of two rows has one chain along each edge, and the round cannot pass it
            ("flat4 s1 k3 t s1 p3 t k4 pu2", Refusal::NothingToPickUp),
            (
                "flat4 s1 k3 t s1 p3 t k4 k1",
                Refusal::EdgeOpen(FlapEdge::Left),
            ),
            (
                "flat4 s1 k3 t s1 p3 t k4 pu1 / k4 / | k1",
                Refusal::EdgeOpen(FlapEdge::Right),
            ),
        ] {
            assert_eq!(after(&format!("{LEG}{ops}")), Err(why), "{ops}");
        }
    }

    #[test]
    fn a_flap_is_picked_up_on_both_sides() {
        let flap = "flat4 s1 k3 t s1 p3 t s1 k3 t s1 p3 t";
        let needles = after(&format!(
            "{LEG}{flap} k4 pu2 puc / k4 / | puc pu2 k7 / k4 /"
        ))
        .expect("corners lie on the instep's side of both edges");
        assert_eq!(needles.per_needle(), [10, 4]);
        assert_eq!(needles.stitches_of(Origin::GussetLeft), 3);
        assert_eq!(needles.stitches_of(Origin::GussetRight), 3);
    }

    #[test]
    fn a_decrease_closes_the_gap_it_spans() {
        let needles = after(&format!("{LEG} k2 t s1 p1 t s1 ssk k1 /")).expect("one gap, closed");
        assert_eq!(needles.per_needle(), [3, 4]);
        assert!(!needles.items().any(|i| i == Item::Gap));
    }

    /// How the loops of each closed cast-on lie: worked out strand by strand, and with rope round two
    /// sticks (from memory: the upper needle of the magic one is knitted through the back loop).
    #[test]
    fn a_loop_that_lies_the_other_way_is_knitted_through_its_back() {
        assert_eq!(after("cm4 k4 / k4"), Err(Refusal::WouldTwist));
        for spoilt in ["p4", "k2tog", "ssk", "bo4", "w4", "cr1/1"] {
            let ops = format!("cm4 k4 / {spoilt}");
            assert_eq!(after(&ops), Err(Refusal::WouldTwist), "{spoilt}");
        }
        assert_eq!(after("cm4 g0 g1"), Err(Refusal::WouldTwist));
        let open = after("cm4 k4 / kt4 / | k4 / k4 /").expect("they lie the usual way now");
        assert_eq!(open.per_needle(), [4, 4]);
        assert!(after("cc4 k4 / k4 /").is_ok());
        // slipped as if to purl it lies as it lay
        assert_eq!(after("cm4 k4 / s4 / | k4 / k4"), Err(Refusal::WouldTwist));
        // both legs of a double stitch are worked together, however it lay
        assert!(after("cm4 k4 / kt3 td").is_ok());
    }

    /// How the loops of a tubular cast-on lie: worked out strand by strand. The knit loops are laid with
    /// the strand behind, up behind the needle and down in front of it; the purl loops with the
    /// one in front, the other way round (from memory: the knit ones are knitted through the back
    /// loop).
    #[test]
    fn a_tubular_edge_knits_each_kind_of_loop_by_itself() {
        assert_eq!(after("ct4+4 join | k1"), Err(Refusal::WouldTwist));
        assert_eq!(after("ct4+4 join | kt1 sf1 k1"), Err(Refusal::WouldTwist));
        let both = after("ct4+4 join | [kt1 sf1]4 | [s1 p1]4").expect("each loop is worked once");
        assert_eq!(both.per_needle(), [8]);
        let usual = |item| matches!(item, Item::Stitches(_, Mount::LeadingLegInFront, _));
        assert!(both.items().all(usual));
    }

    #[test]
    fn a_chain_waits_until_it_is_undone() {
        let rows = "cp6 k6 td p5 td k4";
        let half = after(rows).expect("rows over one needle");
        assert_eq!((half.stitches(), half.joined()), (6, false));
        // no round is whole before the chain's loops lie on a needle
        assert_eq!(
            after("cp6 k6 /").and_then(|mut n| n.end_round()),
            Err(Refusal::RoundNotWhole)
        );
        let whole = after(&format!("{rows} op6")).expect("a second needle");
        assert_eq!(whole.per_needle(), [6, 6]);
        assert_eq!(whole.stitches_of(Origin::Instep), 6);
        for (ops, why) in [
            ("cp6 op5", Refusal::NoSuchWaste),
            ("cp6 op6 op6", Refusal::NoSuchWaste),
            ("cp6 cp6", Refusal::NotAtTheStart),
            ("cp6 k6 td op6", Refusal::WrongSideFacing),
        ] {
            assert_eq!(after(ops), Err(why), "{ops}");
        }
    }

    #[test]
    fn a_row_is_snipped_where_it_was_knitted_for_that() {
        let sock = format!("{LEG} ks4 / k4 / | k4 / k4 / | bo8 off");
        let open = after(&format!("{sock} snip4")).expect("both sides of the row");
        assert_eq!(open.per_needle(), [4, 4]);
        assert_eq!(after(&format!("{sock} snip3")), Err(Refusal::NoSuchWaste));
        assert_eq!(after(&format!("{sock} ow4")), Err(Refusal::NoSuchWaste));
        assert_eq!(
            after(&format!("{LEG} ks4 / k4 / | snip4")),
            Err(Refusal::StitchesLeft)
        );
    }

    #[test]
    fn the_operations_of_written_patterns_keep_their_counts() {
        let count = |ops: &str| after(&format!("{LEG}{ops}")).map(|n| n.stitches());
        assert_eq!(count("k3tog k1 / sk2p k1 /"), Ok(4));
        assert_eq!(count("skp k2tog / ssp k1 pt1 /"), Ok(5));
        assert_eq!(count("kfb pfb k2 / m1p sk1 sf1 sb2 /"), Ok(11));
        assert_eq!(count("as4-3 / as3-5 k1 /"), Ok(9));
        assert_eq!(count("k3 k3tog"), Err(Refusal::NeedleEnds));
        assert_eq!(count("kw1"), Err(Refusal::NoWrapped));
    }

    #[test]
    fn a_stitch_slipped_knitwise_is_turned() {
        let turned = |ops: &str| after(&format!("{LEG}k4 / sk4 / | k4 / {ops} /"));
        assert_eq!(turned("k4"), Err(Refusal::WouldTwist));
        assert_eq!(turned("k3tog k1"), Err(Refusal::WouldTwist));
        assert_eq!(turned("kfb k3"), Err(Refusal::WouldTwist));
        for open in ["kt4", "pt4", "k2togt p2togt", "as4-4", "sk4", "sb4"] {
            assert!(turned(open).is_ok(), "{open}");
        }
        assert!(after(&format!("{LEG}k4 / sk4 / | k4 / sk4 / | k4 / k4 /")).is_ok());
        assert!(after("co8 join | flat4 sk1").is_ok_and(|needles| {
            needles
                .items()
                .any(|i| matches!(i, Item::Edge { loops: 1, .. }))
        }));
    }

    #[test]
    fn a_wrap_changes_no_mount_and_slipping_takes_no_wrap_off() {
        let behind = after("cm4 k4 / tw").expect("the next loop is wrapped");
        let wrapped = Item::Wrapped(Origin::Instep, Mount::LeadingLegBehind);
        assert!(behind.items().any(|i| i == wrapped));
        assert_eq!(after("cm4 k4 / tw t kw1"), Err(Refusal::WouldTwist));
        assert!(
            after(&format!("{LEG}k3 tw p2 tw s2 s1 /")).is_ok_and(|needles| {
                needles
                    .items()
                    .filter(|i| matches!(i, Item::Wrapped(..)))
                    .count()
                    == 2
            })
        );
    }

    #[test]
    fn a_part_worked_flat_from_behind_keeps_its_mounts() {
        let needles = after("cm4 k4 / kt2 s2 / flat-1").expect("one of two alike");
        let behind: u16 = needles
            .items()
            .map(|item| match item {
                Item::Stitches(_, Mount::LeadingLegBehind, n) => n,
                _ => 0,
            })
            .sum();
        assert_eq!(behind, 2);
    }

    #[test]
    fn a_wrapped_stitch_stays_and_can_be_worked_with_its_wrap_or_without() {
        let wrapped = after(&format!("{LEG} k3 tw p2 tw k2")).expect("two short rows");
        assert_eq!(
            wrapped.next(),
            Some(Item::Wrapped(Origin::Back, Mount::LeadingLegInFront))
        );
        assert_eq!(
            wrapped
                .items()
                .filter(|i| matches!(i, Item::Wrapped(..)))
                .count(),
            2
        );
        let closed = after(&format!("{LEG} k3 tw p2 tw k2 kw1 / k4 / | k4 / k4 /"))
            .expect("one is worked with its wrap, the other without");
        assert_eq!(closed.per_needle(), [4, 4]);
        assert!(!closed.items().any(|i| matches!(i, Item::Wrapped(..))));
    }

    #[test]
    fn a_flap_may_reach_back_over_the_beginning_of_the_round() {
        let flap = after("co8 join | k2 flat-4 t s1 p3 t s1 k3 t s1 p3 t k4").expect("a flap");
        let items: Vec<Item> = flap.items().collect();
        assert!(
            matches!(
                items[0],
                Item::Edge {
                    side: FlapEdge::Right,
                    loops: 1,
                    ..
                }
            ),
            "{items:?}"
        );
        assert!(matches!(
            flap.next(),
            Some(Item::Edge {
                side: FlapEdge::Left,
                loops: 2,
                ..
            })
        ));
        assert_eq!(after("co8 join | k2 flat-9"), Err(Refusal::NoSuchPlace));
        let picked =
            after("co8 join | k2 flat-4 t s1 p3 t k4 pua3 k4 bor pua1 k4").expect("freely");
        assert_eq!(picked.stitches(), 12);
    }

    #[test]
    fn grafting_takes_one_of_each_needle() {
        let needles = after(&format!("{LEG} g0 g1")).expect("pairs");
        assert_eq!(needles.per_needle(), [3, 3]);
        let done = after(&format!("{LEG} g0 g3 gx off")).expect("closed");
        assert_eq!(done.stitches(), 0);
    }
}
