//! A line's operations as they are worked on other needles: where those end and where their markers hang.
//!
//! The stitches of the ring are the same; only what lies between them differs.

use crate::knit::Refusal;
use crate::needles::{Facing, Item, Needles};
use crate::stitch::{Count, Marker, Op};

/// A line that these needles do not allow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stuck(pub Refusal);

/// What is done to stitches, whatever lies between them: repeats written out, without the needle ends
/// and markers of the pattern's own needles.
pub(super) fn bare(ops: &[Op]) -> Vec<Op> {
    let mut out = Vec::with_capacity(ops.len());
    for op in ops {
        match op {
            Op::Repeat(group, times) => {
                let group = bare(group);
                for _ in 0..times.get() {
                    out.extend(group.iter().cloned());
                }
            }
            Op::Next
            | Op::LoopOut(_)
            | Op::LoopIn(_)
            | Op::SlipMarker(_)
            | Op::MotifRow(_)
            | Op::Join => {}
            other => out.push(other.clone()),
        }
    }
    out
}

/// Operations of a bare line on these needles.
///
/// # Errors
/// What the needles refuse: an end or a marker within a decrease, say.
pub(super) fn reseated(needles: &Needles, bare: &[Op], round: bool) -> Result<Vec<Op>, Stuck> {
    let mut seat = Seat {
        sizes: needles.per_needle(),
        needles: needles.clone(),
        ops: Vec::with_capacity(bare.len() + 4),
    };
    for op in bare {
        seat.one(op).map_err(Stuck)?;
    }
    if round {
        seat.settle().map_err(Stuck)?;
    }
    Ok(seat.ops)
}

struct Seat {
    /// Stitches of each needle before the line.
    sizes: Vec<u16>,
    needles: Needles,
    ops: Vec<Op>,
}

impl Seat {
    fn push(&mut self, op: Op) -> Result<(), Refusal> {
        self.needles.apply(&op)?;
        self.ops.push(op);
        Ok(())
    }

    /// On over needle ends and markers.
    fn settle(&mut self) -> Result<(), Refusal> {
        loop {
            match self.needles.next() {
                Some(Item::End) if self.needles.facing() == Facing::RightSide => {
                    self.push(Op::Next)?;
                }
                Some(Item::Marker(marker)) => self.push(Op::SlipMarker(marker))?,
                _ => return Ok(()),
            }
        }
    }

    fn one(&mut self, op: &Op) -> Result<(), Refusal> {
        match op {
            Op::Knit(n) => self.run(Op::Knit, *n),
            Op::Purl(n) => self.run(Op::Purl, *n),
            Op::KnitThroughBackLoop(n) => self.run(Op::KnitThroughBackLoop, *n),
            Op::Slip(n) => self.run(Op::Slip, *n),
            Op::SlipYarnInFront(n) => self.run(Op::SlipYarnInFront, *n),
            Op::FoldJoin(n) => self.run(Op::FoldJoin, *n),
            Op::Rare(stitch, n) => {
                let stitch = *stitch;
                self.run(move |n| Op::Rare(stitch, n), *n)
            }
            Op::AsWritten(from, to) => self.as_written(from.get(), to.get()),
            Op::Remove(marker) | Op::Place(marker) if ours(*marker) => Ok(()),
            // a marker at a needle's tip would fall off; the needle's end says the same
            Op::Place(_) if self.is_at_a_tip() => Ok(()),
            Op::Remove(marker) if !self.needles.has_marker(*marker) => Ok(()),
            Op::BeginHere => {
                // the needle before ends before the round begins
                while self.needles.next() == Some(Item::End)
                    && self.needles.facing() == Facing::RightSide
                {
                    self.push(Op::Next)?;
                }
                self.push(Op::BeginHere)
            }
            Op::YarnOver if self.is_full() => {
                self.settle()?;
                self.push(op.clone())
            }
            Op::PickUpCorner | Op::YarnOver => {
                let here = self.needles.clone();
                self.push(op.clone()).or_else(|_| {
                    // it lies at the next needle's beginning
                    self.needles = here;
                    self.settle()?;
                    self.push(op.clone())
                })
            }
            Op::K2tog
            | Op::Ssk
            | Op::P2tog
            | Op::Decrease(_)
            | Op::Cross(_)
            | Op::KnitCorner
            | Op::Waste(_)
            | Op::KnitToSnip(_)
            | Op::PickUp(_)
            | Op::PickUpAlong(_) => {
                self.settle()?;
                self.push(op.clone())
            }
            // a marker may hang between two of them, and a needle end there
            Op::KnitDouble(n) => self.one_by_one(Op::KnitDouble, *n),
            Op::PurlDouble(n) => self.one_by_one(Op::PurlDouble, *n),
            Op::KnitWrapped(n) => self.one_by_one(Op::KnitWrapped, *n),
            Op::PurlWrapped(n) => self.one_by_one(Op::PurlWrapped, *n),
            Op::Increase(increase) if increase.takes() > 0 => {
                self.settle()?;
                self.push(op.clone())
            }
            other => self.push(other.clone()),
        }
    }

    /// Whether a needle begins or ends here.
    fn is_at_a_tip(&self) -> bool {
        let end = |item: Option<Item>| item.is_none_or(|item| item == Item::End);
        self.needles.items().any(|item| item == Item::End)
            && (end(self.needles.next()) || end(self.needles.last()))
    }

    /// Whether a needle ends here that has as many stitches again as before: what is made at its end belongs to the
    /// next one then.
    fn is_full(&self) -> bool {
        let at = self.needles.needle_at_tip();
        let (before, now) = (self.sizes.get(at), self.needles.per_needle());
        self.needles.next() == Some(Item::End)
            && self.needles.facing() == Facing::RightSide
            && at + 1 < now.len()
            && now.get(at) >= before
    }

    fn run(&mut self, make: impl Fn(Count) -> Op, n: Count) -> Result<(), Refusal> {
        let mut left = n.get();
        while left > 0 {
            self.settle()?;
            let here = self.here().min(left);
            let Some(count) = Count::new(here) else {
                // what cannot be worked is refused by its own name
                return self.push(make(Count::MIN));
            };
            self.push(make(count))?;
            left -= here;
        }
        Ok(())
    }

    /// Stitches that lie each by itself; those with nothing between them are written as one run.
    fn one_by_one(&mut self, make: fn(Count) -> Op, n: Count) -> Result<(), Refusal> {
        let mut together = 0;
        for _ in 0..n.get() {
            let before = self.ops.len();
            self.settle()?;
            if self.ops.len() > before {
                together = 0;
            }
            self.needles.apply(&make(Count::MIN))?;
            together += 1;
            if together > 1 {
                self.ops.pop();
            }
            self.ops.extend(Count::new(together).map(make));
        }
        Ok(())
    }

    /// Stitches that lie next without anything between them.
    fn here(&self) -> u16 {
        self.needles
            .upcoming()
            .take_while(|item| matches!(item, Item::Stitches(..) | Item::Wrapped(..)))
            .fold(0, |sum, item| sum.saturating_add(item.width()))
    }

    /// A line in the pattern's own words, needle by needle: what is more or less then is shared among them.
    fn as_written(&mut self, from: u16, to: u16) -> Result<(), Refusal> {
        let (mut left, mut still) = (from, to);
        while left > 0 {
            self.settle()?;
            let here = stitches_ahead(&self.needles).min(left);
            let share = u32::from(here) * u32::from(still) + u32::from(left) / 2;
            let share = u16::try_from(share / u32::from(left.max(1))).unwrap_or(here);
            let becomes = if here == left {
                still
            } else {
                share.clamp(1, still.max(1))
            };
            match (Count::new(here), Count::new(becomes)) {
                (Some(a), Some(b)) => self.push(Op::AsWritten(a, b))?,
                _ => return Err(Refusal::OutOfStitches),
            }
            left -= here;
            still = still.saturating_sub(becomes);
        }
        Ok(())
    }
}

/// Stitches on the needle in hand before its next marker or an edge, across gaps and double stitches.
fn stitches_ahead(needles: &Needles) -> u16 {
    needles
        .upcoming()
        .take_while(|item| !matches!(item, Item::End | Item::Marker(_) | Item::Edge { .. }))
        .fold(0, |sum, item| sum.saturating_add(item.width()))
}

/// Markers that say where parts of the sock meet; a pattern's own have numbers.
const fn ours(marker: Marker) -> bool {
    !matches!(marker, Marker::Numbered(_))
}

/// Places before which, and after which, a needle may end without cutting anything: as stitches from the
/// beginning of the round before the line is worked, and after it.
pub(super) fn cuts(bare: &[Op]) -> Vec<(u16, u16)> {
    let (mut before, mut after) = (0_u16, 0_u16);
    let mut out = vec![(0, 0)];
    for op in bare {
        let (takes, makes, whole) = extent(op);
        if whole {
            before = before.saturating_add(takes);
            after = after.saturating_add(makes);
            out.push((before, after));
        } else {
            for _ in 0..takes {
                before = before.saturating_add(1);
                after = after.saturating_add(1);
                out.push((before, after));
            }
        }
    }
    out
}

/// Stitches that an operation takes and makes, and whether it cannot be divided.
pub(super) fn extent(op: &Op) -> (u16, u16, bool) {
    match op {
        Op::Knit(n)
        | Op::Purl(n)
        | Op::KnitThroughBackLoop(n)
        | Op::Slip(n)
        | Op::SlipYarnInFront(n)
        | Op::FoldJoin(n)
        | Op::Rare(_, n) => (n.get(), n.get(), false),
        Op::Waste(n) | Op::KnitToSnip(n) => (n.get(), n.get(), true),
        Op::AsWritten(from, to) if from == to => (from.get(), to.get(), false),
        Op::AsWritten(from, to) => (from.get(), to.get(), true),
        Op::K2tog | Op::Ssk | Op::P2tog => (2, 1, true),
        Op::Decrease(decrease) => (decrease.takes(), 1, true),
        Op::Increase(increase) => (increase.takes(), increase.takes() + 1, true),
        Op::YarnOver | Op::YarnOverBehind | Op::MakeLeft | Op::MakeRight => (0, 1, true),
        Op::Cross(cross) => (cross.width(), cross.width(), true),
        Op::KnitCorner => (1, 1, true),
        Op::KnitDouble(n) | Op::PurlDouble(n) | Op::KnitWrapped(n) | Op::PurlWrapped(n) => {
            (n.get(), n.get(), false)
        }
        _ => (0, 0, true),
    }
}
