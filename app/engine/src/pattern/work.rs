//! Pieces on the needles they meet: how far "to the marker" is, how often a repeat goes in, and the
//! operations that come of it.
//!
//! Knows pieces, operations and needles; must not know how a line is written or what a pattern is.

use super::piece::{Counted, Extent, Piece, Placed, Spot, Stitch, Stop, Times, Together};
use crate::knit::Refusal;
use crate::needles::{Facing, Item, Mount, Needles};
use crate::stitch::{Count, Marker, Op, RareStitch};

/// Most single operations of one line: a bound against repeats of repeats.
const MOST_OPS: u32 = 4_000;

/// By so many stitches a row may pass the beginning of the round because of a misprint.
const MISPRINTED: u16 = 2;

/// Why a piece cannot be worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trouble {
    /// Too few stitches are left of the round or row, or before what stops the run.
    TooFew {
        /// So many are asked for.
        wanted: u16,
        /// So many are there.
        left: u16,
    },
    /// No marker hangs here, or none ahead.
    NoMarker,
    /// What is worked up to does not lie ahead.
    NoSuchPlace(Stop),
    /// A repeat does not come out even.
    RepeatUneven {
        /// Stitches it is to fill.
        over: u16,
        /// Stitches that remain when it has been worked as often as it goes in.
        rest: u16,
    },
    /// There is no edge to pick up from.
    NothingToPickUp,
    /// Stitches are left on the needle before the one that is named.
    NeedleLeft(u16),
    /// Repeats of repeats come to more than any round has.
    TooLong,
    /// The simulator refuses it.
    Refused(Refusal),
}

/// A piece that cannot be worked, and where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stopped {
    pub spot: Spot,
    pub trouble: Trouble,
}

/// A count of the pattern that is not what the needles carry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Differing {
    pub spot: Spot,
    pub said: u16,
    pub found: u16,
}

/// Where needles end while a line is worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum NeedleEnds {
    /// Where they do: the pattern says what is worked on which needle.
    #[default]
    AsTheyAre,
    /// Wherever it suits: the pattern speaks of no needle, and where they end comes of how it is cast on.
    Anywhere,
}

/// Works pieces and keeps what comes of it.
pub(super) struct Worker {
    pub needles: Needles,
    pub ops: Vec<Op>,
    pub differing: Vec<Differing>,
    /// Whether the work may pass the end of the round and go on.
    walks: bool,
    /// Whether it is known where halves meet in a corner. In a whole pattern it is not: what its parts are is
    /// known by their names only.
    pub knows_corners: bool,
    /// Where needles end.
    pub ends: NeedleEnds,
    /// A needle is named: "to the end" is the end of it.
    on_needle: bool,
    /// Stitches before the beginning of the round that wrong-side rows went back over; the needles have it there since.
    pub went_back: u16,
    /// Stitches after the beginning of the needles that the pattern's own beginning of the round lies: short rows went
    /// back over them before.
    pub begins_after: u16,
    done: u32,
}

impl Worker {
    pub(super) fn new(needles: Needles, walks: bool) -> Self {
        Self {
            needles,
            ops: Vec::with_capacity(8),
            differing: Vec::new(),
            walks,
            knows_corners: true,
            ends: NeedleEnds::AsTheyAre,
            on_needle: false,
            went_back: 0,
            begins_after: 0,
            done: 0,
        }
    }

    /// Works pieces one after another.
    ///
    /// # Errors
    /// The first that cannot be worked; the needles stay as they were before it.
    pub(super) fn work(&mut self, pieces: &[Placed]) -> Result<(), Stopped> {
        for placed in pieces {
            self.piece(placed)?;
        }
        Ok(())
    }

    fn piece(&mut self, placed: &Placed) -> Result<(), Stopped> {
        let at = |trouble| Stopped {
            spot: placed.spot,
            trouble,
        };
        match &placed.piece {
            Piece::Run(stitch, extent) => self.stretch(*stitch, *extent).map_err(at),
            Piece::Together(together) => self
                .shape(
                    match together {
                        Together::K2tog => Op::K2tog,
                        Together::Ssk => Op::Ssk,
                        Together::P2tog => Op::P2tog,
                    },
                    2,
                )
                .map_err(at),
            Piece::Decrease(decrease) => self
                .shape(Op::Decrease(*decrease), decrease.takes())
                .map_err(at),
            Piece::Increase(increase) => self
                .shape(Op::Increase(*increase), increase.takes())
                .map_err(at),
            Piece::YarnOver => {
                let here = self.push(Op::YarnOver);
                // at a needle's beginning it belongs to what follows
                here.or_else(|trouble| match self.needles.next() {
                    Some(Item::End) if self.needles.facing() == Facing::RightSide => {
                        self.next_past_ends();
                        self.push(Op::YarnOver)
                    }
                    _ => Err(trouble),
                })
                .map_err(at)
            }
            Piece::MakeLeft => self.push(Op::MakeLeft).map_err(at),
            Piece::MakeRight => self.push(Op::MakeRight).map_err(at),
            Piece::Cross(cross) => self.shape(Op::Cross(*cross), cross.width()).map_err(at),
            Piece::Turn => self.push(Op::Turn).map_err(at),
            Piece::TurnDouble => self.push(Op::TurnDouble).map_err(at),
            Piece::MakeDouble => self.make_double().map_err(at),
            Piece::TurnWrapped => {
                self.go_back_over(1);
                self.push(Op::TurnWrapped).map_err(at)
            }
            Piece::PickUp(n) => self.pick_up(*n).map_err(at),
            Piece::PickUpCorner => self.push(Op::PickUpCorner).map_err(at),
            Piece::KnitCorner => self.knit_corner().map_err(at),
            Piece::BindOff(extent) => {
                let n = self.length(*extent).map_err(at)?;
                self.counted(Op::BindOff, n).map_err(at)
            }
            Piece::SewDown(n) => self.counted(Op::SewDown, *n).map_err(at),
            Piece::KnitToSnip(n) => self.on_one_needle(Op::KnitToSnip, *n).map_err(at),
            Piece::Waste(n) => self.on_one_needle(Op::Waste, *n).map_err(at),
            Piece::PlaceMarker => {
                let free = (1..=u8::MAX).find(|n| !self.needles.has_marker(Marker::Numbered(*n)));
                let marker = Marker::Numbered(free.unwrap_or(u8::MAX));
                self.push(Op::Place(marker)).map_err(at)
            }
            Piece::SlipMarker => self.slip_marker().map_err(at),
            Piece::RemoveMarker => match self.next_past_ends() {
                Some(Item::Marker(marker)) => self.push(Op::Remove(marker)).map_err(at),
                _ => Err(at(Trouble::NoMarker)),
            },
            Piece::CastOn(n) => self.counted(Op::CastOn, *n).map_err(at),
            Piece::CastOnWrapped(n) => self.counted(Op::CastOnWrapped, *n).map_err(at),
            Piece::CastOnMagic(n) => self.counted(Op::CastOnMagic, *n).map_err(at),
            Piece::CastOnTubular(n) => match (Count::new(n.div_ceil(2)), Count::new(n / 2)) {
                (Some(back), Some(front)) => self.push(Op::CastOnTubular(back, front)).map_err(at),
                _ => Ok(()),
            },
            Piece::CastOnProvisional(n) => self.counted(Op::CastOnProvisional, *n).map_err(at),
            Piece::UndoChain(n) => self.counted(Op::OpenProvisional, *n).map_err(at),
            Piece::OpenWaste(n) => self.counted(Op::OpenWaste, *n).map_err(at),
            Piece::SnipRow(n) => self.counted(Op::SnipRow, *n).map_err(at),
            Piece::FoldJoin(n) => self.on_one_needle(Op::FoldJoin, *n).map_err(at),
            Piece::MotifRound(n) => self.counted(Op::MotifRow, *n).map_err(at),
            Piece::WithYarn(yarn) if self.needles.yarn() == *yarn => Ok(()),
            Piece::WithYarn(yarn) => self.push(Op::Yarn(*yarn)).map_err(at),
            Piece::Needle(n) => self.needle(*n).map_err(at),
            Piece::AsWritten(from, to) => match (Count::new(*from), Count::new(*to)) {
                (Some(a), Some(b)) => self.shape(Op::AsWritten(a, b), *from).map_err(at),
                _ => Ok(()),
            },
            Piece::Charted => self.charted().map_err(at),
            Piece::Repeat(inner, times) => self.repeat(placed.spot, inner, *times),
            Piece::Count(counted) => {
                self.check(placed.spot, counted);
                Ok(())
            }
        }
    }

    fn push(&mut self, op: Op) -> Result<(), Trouble> {
        self.done += 1;
        if self.done > MOST_OPS {
            return Err(Trouble::TooLong);
        }
        // A refused operation spoils what it was tried on.
        let before = self.needles.clone();
        if let Err(refusal) = self.needles.apply(&op) {
            self.needles = before;
            return Err(Trouble::Refused(refusal));
        }
        self.ops.push(op);
        Ok(())
    }

    fn counted(&mut self, make: fn(Count) -> Op, n: u16) -> Result<(), Trouble> {
        Count::new(n).map_or(Ok(()), |n| self.push(make(n)))
    }

    /// A wrong-side row in the round goes on over stitches before its beginning: so many, where there are none else.
    /// The tube is a ring, and only the place that is called its beginning moves. By a stitch or two none goes back
    /// over it at first: that is a misprint rather.
    fn go_back_over(&mut self, stitches: u16) {
        let short_rows = self.needles.joined()
            && self.needles.facing() == Facing::WrongSide
            && self.needles.next().is_none();
        let before = self.went_back > 0 || self.begins_after > 0;
        let meant = before || stitches > MISPRINTED;
        if short_rows && meant && self.needles.begin_behind(stitches) {
            self.went_back = self.went_back.saturating_add(stitches);
        }
    }

    /// The double stitch that a turn before it makes; or, where one lies next, that one.
    fn make_double(&mut self) -> Result<(), Trouble> {
        if self.ops.last() == Some(&Op::Turn) {
            self.needles.double_first().map_err(Trouble::Refused)?;
            self.ops.pop();
            self.ops.push(Op::TurnDouble);
            return Ok(());
        }
        self.settle()?;
        let as_one = match self.needles.facing() {
            Facing::RightSide => Op::KnitDouble,
            Facing::WrongSide => Op::PurlDouble,
        };
        self.counted(as_one, 1)
    }

    fn knit_corner(&mut self) -> Result<(), Trouble> {
        match self.shape(Op::KnitCorner, 1) {
            Err(Trouble::Refused(Refusal::NothingToPickUp)) if !self.knows_corners => {
                let double = matches!(self.needles.next(), Some(Item::Double(_)));
                let as_one: fn(Count) -> Op = if double { Op::KnitDouble } else { Op::Knit };
                self.counted(as_one, 1)?;
                self.ops.pop();
                self.ops.push(Op::KnitCorner);
                Ok(())
            }
            other => other,
        }
    }

    /// All that is left by a chart: as many stitches as there are, on each needle by itself.
    fn charted(&mut self) -> Result<(), Trouble> {
        self.settle()?;
        while let Some(here) = Count::new(self.run_length()) {
            self.push(Op::AsWritten(here, here))?;
            self.settle()?;
        }
        Ok(())
    }

    /// What is knitted in one go lies on one needle.
    fn on_one_needle(&mut self, make: fn(Count) -> Op, n: u16) -> Result<(), Trouble> {
        self.settle()?;
        while let Some(distance) = self.ahead(Stop::NeedleEnd).filter(|d| *d > 0 && *d < n) {
            self.push(Op::LoopIn(distance))?;
        }
        self.counted(make, n)
    }

    /// Goes on over what lies between stitches and is not named: needle ends, markers, the end of the
    /// round where the work may pass it.
    fn settle(&mut self) -> Result<(), Trouble> {
        loop {
            match self.needles.next() {
                Some(Item::End) if self.needles.facing() == Facing::RightSide => {
                    self.push(Op::Next)?;
                }
                Some(Item::Marker(marker)) => self.push(Op::SlipMarker(marker))?,
                None if self.may_pass() => self.push(Op::BeginHere)?,
                _ => return Ok(()),
            }
        }
    }

    fn may_pass(&self) -> bool {
        (self.walks || self.begins_after > 0)
            && self.needles.joined()
            && self.needles.facing() == Facing::RightSide
            && self.needles.tip() > 0
    }

    fn next_past_ends(&mut self) -> Option<Item> {
        if self.needles.next() == Some(Item::End) {
            // an end with nothing behind it stays
            self.push(Op::Next).ok()?;
        }
        self.needles.next()
    }

    fn slip_marker(&mut self) -> Result<(), Trouble> {
        match self.next_past_ends() {
            Some(Item::Marker(marker)) => self.push(Op::SlipMarker(marker)),
            // the round's beginning may have a marker that nobody told us of
            None => Ok(()),
            Some(_) => Err(Trouble::NoMarker),
        }
    }

    /// An operation that takes so many stitches at once.
    fn shape(&mut self, op: Op, takes: u16) -> Result<(), Trouble> {
        self.settle()?;
        self.go_back_over(takes);
        let mut worked = self.push(op.clone());
        if self.ends == NeedleEnds::Anywhere && worked == Err(Trouble::Refused(Refusal::NeedleEnds))
        {
            if let Some(distance) = self.ahead(Stop::NeedleEnd) {
                self.push(Op::LoopIn(distance))?;
            }
            worked = self.push(op);
        }
        match worked {
            Err(Trouble::Refused(Refusal::OutOfStitches)) => Err(Trouble::TooFew {
                wanted: takes,
                left: self.ahead(Stop::End).unwrap_or(0),
            }),
            other => other,
        }
    }

    fn pick_up(&mut self, n: u16) -> Result<(), Trouble> {
        if self.needles.next().is_none() && self.may_pass() {
            self.push(Op::BeginHere)?;
        }
        match self.next_past_ends() {
            Some(Item::Edge { loops, .. }) if loops == n => self.counted(Op::PickUp, n),
            Some(Item::Edge { .. }) => self.counted(Op::PickUpAlong, n),
            _ => Err(Trouble::NothingToPickUp),
        }
    }

    fn needle(&mut self, n: u16) -> Result<(), Trouble> {
        if !self.needles.items().any(|item| item == Item::End) {
            return Ok(());
        }
        self.on_needle = true;
        let wanted = usize::from(n.max(1)) - 1;
        if self.needles.next() == Some(Item::End) && self.needles.needle_at_tip() < wanted {
            self.push(Op::Next)?;
        }
        if self.needles.needle_at_tip() == wanted {
            return Ok(());
        }
        Err(Trouble::NeedleLeft(
            self.ahead(Stop::NeedleEnd).unwrap_or(0),
        ))
    }

    // ------------------------------------------------------------ runs

    fn length(&self, extent: Extent) -> Result<u16, Trouble> {
        match extent {
            Extent::Counted(n) => Ok(n),
            Extent::To(before, stop) => {
                let left = self.reach(stop)?;
                left.checked_sub(before).ok_or(Trouble::TooFew {
                    wanted: before,
                    left,
                })
            }
        }
    }

    fn reach(&self, stop: Stop) -> Result<u16, Trouble> {
        self.ahead(stop).ok_or(match stop {
            Stop::Marker | Stop::RoundMarker => Trouble::NoMarker,
            other => Trouble::NoSuchPlace(other),
        })
    }

    /// Stitches that are left to work to the pattern's own beginning of the round.
    pub(super) fn left_of_round(&self) -> u16 {
        let ahead: u16 = self.needles.upcoming().map(Item::width).sum();
        if self.begins_after == 0 {
            return ahead;
        }
        let worked = self.needles.stitches() - ahead;
        match self.begins_after.checked_sub(worked) {
            Some(left) => left,
            None => ahead.saturating_add(self.begins_after),
        }
    }

    /// Stitches before a place; `None` where it does not lie ahead.
    fn ahead(&self, stop: Stop) -> Option<u16> {
        let stop = match stop {
            Stop::End if self.on_needle => Stop::NeedleEnd,
            other => other,
        };
        if stop == Stop::End && self.needles.facing() == Facing::RightSide && self.begins_after > 0
        {
            return Some(self.left_of_round());
        }
        let mut distance: u16 = 0;
        for item in self.needles.upcoming() {
            let here = match item {
                Item::Edge { .. } => {
                    return matches!(stop, Stop::End | Stop::NeedleEnd).then_some(distance);
                }
                Item::End => stop == Stop::NeedleEnd,
                Item::Marker(Marker::Round) => matches!(stop, Stop::RoundMarker | Stop::Marker),
                Item::Marker(_) => stop == Stop::Marker,
                Item::Gap => stop == Stop::Gap,
                Item::Double(_) => stop == Stop::Double,
                Item::Wrapped(..) => stop == Stop::Wrapped,
                Item::Stitches(..) => false,
            };
            if here {
                return Some(distance);
            }
            distance = distance.saturating_add(item.width());
        }
        matches!(stop, Stop::End | Stop::NeedleEnd).then_some(distance)
    }

    fn stretch(&mut self, stitch: Stitch, extent: Extent) -> Result<(), Trouble> {
        let make: fn(Count) -> Op = match stitch {
            Stitch::Knit => Op::Knit,
            Stitch::Purl => Op::Purl,
            Stitch::KnitThroughBackLoop => Op::KnitThroughBackLoop,
            Stitch::Slip => Op::Slip,
            Stitch::SlipYarnInFront => Op::SlipYarnInFront,
            Stitch::KnitDouble => Op::KnitDouble,
            Stitch::PurlDouble => Op::PurlDouble,
            Stitch::KnitWrapped => Op::KnitWrapped,
            Stitch::PurlWrapped => Op::PurlWrapped,
            Stitch::Rare(rare) => {
                let n = self.length(extent)?;
                self.settle()?;
                return Count::new(n).map_or(Ok(()), |n| self.push(Op::Rare(rare, n)));
            }
        };
        let n = self.length(extent)?;
        if matches!(stitch, Stitch::KnitWrapped | Stitch::PurlWrapped)
            && matches!(extent, Extent::To(..))
        {
            return self.with_wraps(stitch, n);
        }
        if matches!(
            stitch,
            Stitch::KnitDouble | Stitch::PurlDouble | Stitch::KnitWrapped | Stitch::PurlWrapped
        ) {
            self.settle()?;
            return self.counted(make, n);
        }
        let mut left = n;
        while left > 0 {
            let here = self.run_length().min(left);
            if here == 0 {
                self.settle()?;
                self.go_back_over(left);
                let here = self.run_length().min(left);
                if here > 0 {
                    continue;
                }
                // both legs of a double stitch are one, whether that is said or not
                let as_one: fn(Count) -> Op = match stitch {
                    Stitch::Knit => Op::KnitDouble,
                    Stitch::Purl => Op::PurlDouble,
                    _ => return Err(self.short_of(n, left, make)),
                };
                let doubles = self.doubles().min(left);
                if doubles == 0 {
                    return Err(self.short_of(n, left, make));
                }
                self.counted(as_one, doubles)?;
                left -= doubles;
                continue;
            }
            let (mount, alike) = self.mounted_alike();
            let (make, here): (fn(Count) -> Op, u16) = match (stitch, mount) {
                (Stitch::Knit, Mount::LeadingLegBehind) => (Op::KnitThroughBackLoop, alike),
                (Stitch::Purl, Mount::LeadingLegBehind) => {
                    (|n| Op::Rare(RareStitch::PurlThroughBackLoop, n), alike)
                }
                (Stitch::Knit | Stitch::Purl, Mount::LeadingLegInFront) => (make, alike),
                _ => (make, here),
            };
            let here = here.min(left);
            self.counted(make, here)?;
            left -= here;
        }
        let to_the_end = matches!(extent, Extent::To(0, Stop::End | Stop::NeedleEnd));
        while let (true, Some(Item::Marker(marker))) = (to_the_end, self.needles.next()) {
            self.push(Op::SlipMarker(marker))?;
        }
        Ok(())
    }

    /// So many stitches, each wrapped one with its wrap.
    fn with_wraps(&mut self, stitch: Stitch, n: u16) -> Result<(), Trouble> {
        let plain = match stitch {
            Stitch::PurlWrapped => Stitch::Purl,
            _ => Stitch::Knit,
        };
        let mut left = n;
        while left > 0 {
            self.settle()?;
            let wrapped = |item: &Item| matches!(item, Item::Wrapped(..));
            let next = self.needles.upcoming().take(1).filter(wrapped).count();
            if next > 0 {
                self.stretch(stitch, Extent::Counted(1))?;
                left -= 1;
                continue;
            }
            let to_wrapped = self.needles.upcoming().take_while(|item| !wrapped(item));
            let here: u16 = to_wrapped.map(Item::width).sum();
            let here = here.clamp(1, left);
            self.stretch(plain, Extent::Counted(here))?;
            left -= here;
        }
        Ok(())
    }

    /// Stitches that lie next without anything between them.
    fn run_length(&self) -> u16 {
        self.needles
            .upcoming()
            .take_while(|item| matches!(item, Item::Stitches(..) | Item::Wrapped(..)))
            .fold(0, |sum, item| sum.saturating_add(item.width()))
    }

    /// Double stitches that lie next.
    fn doubles(&self) -> u16 {
        let doubles = self.needles.upcoming();
        let doubles = doubles.take_while(|item| matches!(item, Item::Double(_)));
        u16::try_from(doubles.count()).unwrap_or(u16::MAX)
    }

    /// How the next stitches are mounted, and how many lie next alike without anything between them. "Knit"
    /// names no leg: a stitch that was turned on the needle is worked through the leg that leads, so that
    /// it comes out open (common practice, no source).
    fn mounted_alike(&self) -> (Mount, u16) {
        let mut run = self.needles.upcoming().map_while(|item| match item {
            Item::Stitches(_, mount, n) => Some((mount, n)),
            Item::Wrapped(_, mount) => Some((mount, 1)),
            _ => None,
        });
        let (mount, first) = run.next().unwrap_or((Mount::LeadingLegInFront, 0));
        let alike = run
            .take_while(|(other, _)| *other == mount)
            .fold(first, |sum, (_, n)| sum.saturating_add(n));
        (mount, alike)
    }

    fn short_of(&mut self, wanted: u16, left: u16, make: fn(Count) -> Op) -> Trouble {
        match self.push(make(Count::MIN)) {
            Err(Trouble::Refused(refusal)) if refusal != Refusal::OutOfStitches => {
                Trouble::Refused(refusal)
            }
            _ => Trouble::TooFew {
                wanted,
                left: wanted - left,
            },
        }
    }

    // ------------------------------------------------------------ repeats

    fn repeat(&mut self, spot: Spot, inner: &[Placed], times: Times) -> Result<(), Stopped> {
        let stopped = |trouble| Stopped { spot, trouble };
        let begin = self.ops.len();
        let mut first = 0;
        let mut done: u16 = 0;
        let over = match times {
            Times::Counted(_) => 0,
            Times::To(_, stop) => self.reach(stop).map_err(stopped)?,
        };
        loop {
            let before = match times {
                Times::Counted(n) if done >= n => break,
                Times::Counted(_) => None,
                Times::To(rest, stop) => {
                    let left = self.ahead(stop).unwrap_or(0);
                    if left == rest {
                        break;
                    }
                    let uneven = Trouble::RepeatUneven {
                        over: over.saturating_sub(rest),
                        rest: left.saturating_sub(rest),
                    };
                    if left < rest {
                        return Err(stopped(uneven));
                    }
                    Some((left, rest, stop, uneven))
                }
            };
            let start = (self.needles.clone(), self.ops.len());
            let worked = self.work(inner);
            if let Some((left, rest, stop, uneven)) = before {
                let now = self.ahead(stop).unwrap_or(0);
                // more than is there, or nothing at all: it does not go in once more
                if worked.is_err() || now < rest || now >= left {
                    self.needles = start.0;
                    self.ops.truncate(start.1);
                    return Err(stopped(uneven));
                }
            } else {
                worked?;
                if self.ops.len() == start.1 {
                    break;
                }
            }
            done += 1;
            if done == 1 {
                first = self.ops.len() - begin;
            }
        }
        self.fold(begin, first, done);
        if let Times::To(0, Stop::End | Stop::NeedleEnd) = times {
            while let Some(Item::Marker(marker)) = self.needles.next() {
                self.push(Op::SlipMarker(marker)).map_err(stopped)?;
            }
        }
        Ok(())
    }

    /// The same operations again and again are written once, with a number of times.
    fn fold(&mut self, begin: usize, first: usize, done: u16) {
        let Some(times) = Count::new(done).filter(|n| n.get() > 1) else {
            return;
        };
        let done = &self.ops[begin..];
        let single = |op: &Op| {
            !matches!(
                op,
                Op::Repeat(..) | Op::Next | Op::SlipMarker(_) | Op::Place(_) | Op::BeginHere
            )
        };
        let even = first > 1
            && done.len() == first * usize::from(times.get())
            && done.iter().all(single)
            && done.chunks(first).all(|chunk| chunk == &done[..first]);
        if even {
            let group = done[..first].to_vec();
            self.ops.truncate(begin);
            self.ops.push(Op::Repeat(group, times));
        }
    }

    // ------------------------------------------------------------ counts

    fn check(&mut self, spot: Spot, counted: &Counted) {
        let found = self.needles.stitches();
        let needles = self.needles.per_needle();
        let ends = self.needles.items().any(|item| item == Item::End);
        let differs = |said, found| Differing { spot, said, found };
        if let Some(said) = counted.all {
            let tip = self.needles.needle_at_tip();
            let here = needles.get(tip).copied().filter(|_| ends);
            let before = tip.checked_sub(1).and_then(|n| needles.get(n)).copied();
            let flat = flat_stitches(&self.needles);
            if said != found && ![here, before, flat].contains(&Some(said)) {
                self.differing.push(differs(said, flat.unwrap_or(found)));
            }
        }
        if counted.needles.len() > 1 {
            let said = counted
                .needles
                .iter()
                .fold(0_u16, |a, b| a.saturating_add(*b));
            if said != found {
                self.differing.push(differs(said, found));
            } else if ends && needles.len() == counted.needles.len() {
                let wrong = needles.iter().zip(&counted.needles).find(|(a, b)| a != b);
                if let Some((found, said)) = wrong {
                    self.differing.push(differs(*said, *found));
                }
            }
        }
    }
}

/// Stitches of a part that is worked back and forth, where there is one.
pub(super) fn flat_stitches(needles: &Needles) -> Option<u16> {
    let items: Vec<Item> = needles.items().collect();
    let edges: Vec<usize> = (0..items.len())
        .filter(|i| matches!(items[*i], Item::Edge { .. }))
        .collect();
    match edges.as_slice() {
        [right, left] => Some(items[*right..*left].iter().map(|i| i.width()).sum()),
        _ => None,
    }
}
