//! One needle's operations as a sequence of things to do.

use super::language;
use super::messages::{GraftNeedle, GraftPass, LinePiece, LineRepeat, Run, Stop};
use super::wording::{RunStyle, Wording};
use crate::needles::{Item, Needles, Origin};
use crate::recipe::Row;
use crate::stitch::{Marker, Op};

/// What is shown beside the lines, so that they need not say it.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Beside<'a> {
    /// The rounds of the motif's chart: "the chart 5 times" is the same in every round.
    pub chart: Option<&'a [Row]>,
    /// The motif's balancing stitches.
    pub balance: u16,
    /// Which yarn each round is worked with.
    pub yarns: bool,
    /// What abbreviations stand for.
    pub key: bool,
    /// In which rounds the back of the leg is shaped: that is told from its middle, so that the words stay
    /// the same however many stitches it has.
    pub shaped_back: bool,
}

/// The line for operations that begin on these needles; empty when nothing is worked.
pub(super) fn text(
    ops: &[Op],
    before: &Needles,
    wording: Wording,
    beside: Beside<'_>,
) -> (String, Vec<usize>) {
    language::line(&pieces(ops, before, wording.reach, beside), wording)
}

/// What the sewing needle does on one of the two needles of a graft; nothing where these operations graft nothing.
/// Kitchener stitch, common practice: in front each stitch is entered as if to purl and later as if to knit, behind
/// the other way round.
pub(super) fn grafted(ops: &[Op], needle: GraftNeedle) -> Vec<LinePiece> {
    let front = needle == GraftNeedle::Front;
    let pass = |off, next| {
        LinePiece::Graft(GraftPass {
            needle,
            knitwise: front == off,
            off,
            next,
        })
    };
    let mut pieces = Vec::with_capacity(2);
    for op in ops {
        match op {
            Op::GraftStart => pieces.push(pass(false, false)),
            Op::Graft(_) => pieces.extend([pass(true, false), pass(false, true)]),
            Op::GraftEnd => pieces.push(pass(true, false)),
            _ => {}
        }
    }
    pieces
}

/// Operations that lie on no needle: a chart's.
pub(super) fn alone(ops: &[Op]) -> Vec<LinePiece> {
    let none = Needles::new();
    ops.iter()
        .filter_map(|op| piece(op, &none, RunStyle::Counted))
        .collect()
}

/// The same, before it is said.
pub(super) fn pieces(
    ops: &[Op],
    before: &Needles,
    reach: RunStyle,
    beside: Beside<'_>,
) -> Vec<LinePiece> {
    if let Some(plain) = plain_knitting(ops, before, reach, beside.yarns) {
        return vec![plain];
    }
    let mut needles = before.clone();
    let mut pieces = Vec::with_capacity(ops.len());
    let mut told = 0;
    for (at, op) in ops.iter().enumerate() {
        if beside.yarns && matches!(op, Op::Yarn(_)) {
            // its letter stands beside the round
        } else if let (Op::MotifRow(number), Some(rows)) = (op, beside.chart)
            && let Some(row) = rows.get(usize::from(number.get()).saturating_sub(1))
        {
            let (times, length) = repeats(row.ops(), &ops[at + 1..]);
            pieces.push(LinePiece::Chart(times));
            told = at + 1 + length;
            if let Some(length) = balancing(row, beside.balance, &ops[told..]) {
                pieces.push(LinePiece::ChartBegun(beside.balance));
                told += length;
            }
        } else if at >= told
            && let (true, Op::Knit(n)) = (beside.shaped_back, op)
            && let Some(rest) = before_the_middle_of_the_back(n.get(), &needles)
        {
            pieces.push(LinePiece::Knit(Run::Before(rest, Stop::MiddleOfBack)));
        } else if at >= told {
            pieces.extend(piece(op, &needles, reach));
        }
        // A trace's operations have been done once already; what is refused is just not followed.
        if needles.apply(op).is_err() {
            break;
        }
    }
    joined(pieces)
}

/// Runs of one kind after each other, such as a motif's and those of plain knitting beside it, as one.
fn joined(pieces: Vec<LinePiece>) -> Vec<LinePiece> {
    let mut out: Vec<LinePiece> = Vec::with_capacity(pieces.len());
    for piece in pieces {
        let both = match (out.last(), &piece) {
            (Some(LinePiece::Knit(one)), LinePiece::Knit(more)) => {
                one.and(*more).map(LinePiece::Knit)
            }
            (Some(LinePiece::Purl(one)), LinePiece::Purl(more)) => {
                one.and(*more).map(LinePiece::Purl)
            }
            _ => None,
        };
        if both.is_some() {
            out.pop();
        }
        out.push(both.unwrap_or(piece));
    }
    out
}

/// How often a chart's round is worked, and over how many of the operations that follow its name.
fn repeats(row: &[Op], ops: &[Op]) -> (u16, usize) {
    let single = match row {
        [Op::Knit(n) | Op::Purl(n) | Op::KnitThroughBackLoop(n) | Op::Slip(n)] => Some(n.get()),
        _ => None,
    };
    match (ops.first(), single) {
        (Some(Op::Repeat(_, times)), _) => (times.get(), 1),
        // one kind of stitch is one run
        (
            Some(Op::Knit(n) | Op::Purl(n) | Op::KnitThroughBackLoop(n) | Op::Slip(n)),
            Some(width),
        ) => (n.get() / width, 1),
        _ => (1, row.len()),
    }
}

impl Run {
    /// This run and more of the same; `None` where it has gone past what it is measured by.
    fn and(self, more: Self) -> Option<Self> {
        Some(match (self, more) {
            (Self::Counted(n), Self::Counted(more)) => Self::Counted(n.saturating_add(more)),
            (Self::Before(n, stop), Self::Counted(more)) if more == n => Self::To(stop),
            (Self::Before(n, stop), Self::Counted(more)) => {
                Self::Before(n.checked_sub(more)?, stop)
            }
            (Self::To(_), _) => return None,
            // where it ends, it ends whatever is knitted before
            (Self::Counted(_) | Self::Before(..), Self::To(_) | Self::Before(..)) => more,
        })
    }
}

/// Over how many operations the first stitches of a chart's round are worked once more; `None` where that
/// is not what follows.
fn balancing(row: &Row, balance: u16, ops: &[Op]) -> Option<usize> {
    let (first, _) = row.split(balance).filter(|_| balance > 0)?;
    let alike = |(one, other): (&Op, &Op)| {
        // which stitch a yarn over belongs to is not said
        one == other || (*one == Op::YarnOver && *other == Op::YarnOverBehind)
    };
    let follow = ops.get(..first.len())?;
    first.iter().zip(follow).all(alike).then_some(first.len())
}

/// How many stitches before the middle of the leg's back a run ends, where its shaping begins there and no
/// needle ends in the middle.
fn before_the_middle_of_the_back(n: u16, needles: &Needles) -> Option<u16> {
    let Some(Item::Stitches(Origin::Back, ..)) = needles.next() else {
        return None;
    };
    let middle = needles.stitches_of(Origin::Back) / 2;
    let ahead = middle.checked_sub(needles.worked_of(Origin::Back))?;
    let rest = ahead.checked_sub(n)?;
    let ends_there = next_stop(needles).is_some_and(|(distance, _)| distance == ahead);
    (matches!(rest, 1 | 3) && n > 4 && !ends_there).then_some(rest)
}

/// Plain knitting over markers is one thing to do, whatever hangs on the way.
fn plain_knitting(
    ops: &[Op],
    before: &Needles,
    reach: RunStyle,
    yarns_beside: bool,
) -> Option<LinePiece> {
    let markers = ops
        .iter()
        .filter(|op| matches!(op, Op::SlipMarker(_)))
        .count();
    let plain = ops.iter().all(|op| match op {
        Op::Knit(_) | Op::SlipMarker(_) | Op::Next => true,
        Op::Yarn(_) => yarns_beside,
        _ => false,
    });
    if reach == RunStyle::Counted || markers == 0 || !plain {
        return None;
    }
    Some(LinePiece::KnitToEnd {
        of_needle: before.items().any(|i| i == Item::End),
        markers: markers > 1,
    })
}

fn piece(op: &Op, needles: &Needles, reach: RunStyle) -> Option<LinePiece> {
    Some(match op {
        Op::Knit(n) => LinePiece::Knit(run(n.get(), needles, reach)),
        Op::Purl(n) => LinePiece::Purl(run(n.get(), needles, reach)),
        Op::KnitThroughBackLoop(n) => LinePiece::KnitThroughBackLoop(n.get()),
        Op::YarnOver | Op::YarnOverBehind => LinePiece::YarnOver,
        Op::FoldJoin(n) => LinePiece::FoldJoin(n.get()),
        Op::Slip(n) => LinePiece::Slip(n.get()),
        Op::SlipYarnInFront(n) => LinePiece::SlipYarnInFront(n.get()),
        Op::K2tog => LinePiece::K2tog,
        Op::Ssk => LinePiece::Ssk,
        Op::P2tog => LinePiece::P2tog,
        Op::PickUp(n) | Op::PickUpAlong(n) => LinePiece::PickUp(n.get()),
        Op::PickUpCorner => LinePiece::PickUpCorner,
        Op::KnitCorner => LinePiece::KnitCorner {
            double: matches!(needles.next(), Some(Item::Double(_))),
        },
        Op::Turn => LinePiece::Turn,
        Op::TurnDouble => LinePiece::TurnDouble,
        Op::KnitDouble(n) => LinePiece::KnitDouble(n.get()),
        Op::PurlDouble(n) => LinePiece::PurlDouble(n.get()),
        Op::MakeLeft => LinePiece::MakeLeft,
        Op::MakeRight => LinePiece::MakeRight,
        Op::CastOnWrapped(n) => LinePiece::CastOnWrapped(n.get()),
        Op::CastOnMagic(n) => LinePiece::CastOnMagic(n.get()),
        Op::CastOnProvisional(n) => LinePiece::CastOnProvisional(n.get()),
        Op::BindOff(n) => LinePiece::BindOff(n.get()),
        Op::SewDown(n) => LinePiece::SewDown(n.get()),
        Op::Waste(n) => LinePiece::Waste(n.get()),
        Op::KnitToSnip(n) => LinePiece::KnitToSnip(n.get()),
        Op::Place(_) => LinePiece::PlaceMarker,
        Op::SlipMarker(_) => LinePiece::SlipMarker,
        Op::CastOn(n) => LinePiece::CastOn(n.get()),
        Op::CastOnTubular(back, front) => {
            LinePiece::CastOnTubular(back.get().saturating_add(front.get()))
        }
        Op::CastOnUneven(back, front) => LinePiece::CastOn(back.get().saturating_add(front.get())),
        Op::Cross(cross) => LinePiece::Cross(*cross),
        Op::Decrease(decrease) => LinePiece::Decrease(*decrease),
        Op::Increase(increase) => LinePiece::Increase(*increase),
        Op::Rare(stitch, n) => LinePiece::Rare(*stitch, n.get()),
        Op::TurnWrapped => LinePiece::TurnWrapped,
        Op::KnitWrapped(n) => LinePiece::KnitWrapped(n.get()),
        Op::PurlWrapped(n) => LinePiece::PurlWrapped(n.get()),
        Op::AsWritten(from, to) => LinePiece::AsWritten(from.get(), to.get()),
        Op::MotifRow(n) => LinePiece::MotifRound(n.get()),
        Op::Yarn(yarn) => LinePiece::WithYarn(*yarn),
        Op::Repeat(ops, times) => repeat(ops, times.get(), needles, reach),
        // Shifting and joining are described in a move's note, grafting needle by needle.
        Op::Next
        | Op::Join
        | Op::Remove(_)
        | Op::WorkFlat(_)
        | Op::WorkFlatBehind(_)
        | Op::NameHeel
        | Op::PatternLine(_)
        | Op::LoopOut(_)
        | Op::LoopIn(_)
        | Op::BeginHere
        | Op::Hang(..)
        | Op::OpenWaste(_)
        | Op::SnipRow(_)
        | Op::OpenProvisional(_)
        | Op::GraftStart
        | Op::Graft(_)
        | Op::GraftEnd
        | Op::DrawClosed(_)
        | Op::FastenOff => return None,
    })
}

/// A run, counted or up to the place where it stops.
fn run(n: u16, needles: &Needles, reach: RunStyle) -> Run {
    if reach == RunStyle::ToMarker
        && let Some((distance, stop)) = next_stop(needles)
        && let Some(rest) = distance.checked_sub(n)
        && rest <= 4
        && n > 4
    {
        match rest {
            0 => Run::To(stop),
            rest => Run::Before(rest, stop),
        }
    } else {
        Run::Counted(n)
    }
}

fn repeat(ops: &[Op], times: u16, needles: &Needles, reach: RunStyle) -> LinePiece {
    let inner = ops
        .iter()
        .filter_map(|op| piece(op, needles, RunStyle::Counted))
        .collect();
    let one: u16 = ops.iter().map(width).sum();
    let times = match next_stop(needles) {
        Some((distance, stop))
            if reach == RunStyle::ToMarker
                && u32::from(distance) == u32::from(one) * u32::from(times) =>
        {
            LineRepeat::To(stop)
        }
        _ => LineRepeat::Counted(times),
    };
    LinePiece::Repeat(inner, times)
}

/// Stitches that an operation takes off the left needle.
fn width(op: &Op) -> u16 {
    match op {
        Op::Knit(n)
        | Op::Purl(n)
        | Op::KnitThroughBackLoop(n)
        | Op::FoldJoin(n)
        | Op::Slip(n)
        | Op::SlipYarnInFront(n)
        | Op::Rare(_, n)
        | Op::KnitWrapped(n)
        | Op::PurlWrapped(n) => n.get(),
        Op::K2tog | Op::Ssk | Op::P2tog => 2,
        Op::Cross(cross) => cross.width(),
        Op::Decrease(decrease) => decrease.takes(),
        Op::Increase(increase) => increase.takes(),
        _ => 0,
    }
}

/// How many stitches lie before the next thing that stops a run, and what it is.
fn next_stop(needles: &Needles) -> Option<(u16, Stop)> {
    let mut distance = 0;
    for item in needles.upcoming() {
        let stop = match item {
            Item::Stitches(_, _, n) => {
                distance += n;
                continue;
            }
            Item::Double(_) => Stop::Double,
            Item::Wrapped(..) => Stop::Wrapped,
            Item::Marker(Marker::Round) => Stop::RoundMarker,
            Item::Marker(_) => Stop::Marker,
            Item::End => Stop::NeedleEnd,
            Item::Edge { .. } => Stop::RowEnd,
            Item::Gap => Stop::Gap,
        };
        return Some((distance, stop));
    }
    None
}
