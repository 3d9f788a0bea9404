//! The operation vocabulary: everything hands do, as values.
//!
//! One representation of a plan is a list of these; text, pictures, counts, yarn and print are
//! derived from it. Runs are compressed (`Knit(14)`). This module says what an operation is and
//! how it is written down; [`crate::knit`] says what it does to the needles.
//!
//! The written form is compact and stable, because pinned plans are stored in it:
//!
//! | text | operation | text | operation |
//! |---|---|---|---|
//! | `k14` `p3` | knit, purl | `co64` | cast on |
//! | `s1` `sf1` | slip purlwise; with the yarn in front | `join` | join into a round |
//! | `k2tog` `ssk` `p2tog` | decreases | `flat32` | work back and forth on the next 32 |
//! | `pu16` | pick up and knit from the edge | `lo@16` `lc@0` | loop out / loop in, so many stitches ahead |
//! | `puc` `kc` | pick up one in the corner; knit together with a loop lifted from it | `bor` | the round begins here |
//! | `t` | turn | `m+L` `m>L` `m-L` | place, slip, remove a marker |
//! | `/` | next needle | `g0` `g7` `gx` | graft: set up, so many pairs, last pair |
//! | `[k2 p2]8` | repeat | `off` | cut the yarn and fasten off |
//! | `kt3` | knit through the back loop | `yo` `yo-` | yarn over, before its neighbour or behind it |
//! | `td` | turn, make a double stitch | `kd3` `pd3` | knit, purl double stitches together |
//! | `cc8` | wrapped closed cast-on of so many pairs | `m1l` `m1r` | make one, leaning left, right |
//! | `cm8` | magic closed cast-on of so many pairs | | |
//! | `bo64` | bind off | `m+L@16` | hang a marker so many stitches ahead |
//! | `w32` `ow32` | knit so many with waste yarn; take it out again | `cp20` `op20` | chain so many over one needle; undo the chain onto another |
//! | `ks32` `snip32` | knit so many of a row that is snipped later; snip it | `ct32+32` | tubular cast-on for a back and a front |
//! | `sew64` | sew so many down inside | | |
//! | `cr2/2` `cl2/2` | two stitches cross over two to the right, to the left | `crp2/1` `clp2/1` | the same, the ones behind purled |
//! | `row3` | here round 3 of the motif is worked | `yB` | from here with yarn B |
//! | `co44+32` | cast on for a back and a front of different width | | |
//! | `fold8` | knit each together with its cast-on loop | `draw8` | draw the yarn through so many and close |
//! | `tw` | wrap the next stitch and turn | `kw3` `pw3` | knit, purl stitches together with their wraps |
//! | `skp` `k3tog` ... | [`Decrease`] | `kfb` `pfb` `m1p` | [`Increase`] |
//! | `pt3` `sk3` `sb3` | [`RareStitch`] | `flat-32` | the last 32 stitches are worked back and forth from here |
//! | `ln12` | here line 12 of the pattern is worked | `heel` | what is worked back and forth is the heel |
//! | `as8-6` | work 8 stitches as the pattern's own words say, so that 6 are left | `pua18` | pick up and knit along the edge, whatever chains it has |

use std::fmt;
use std::num::NonZeroU16;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use crate::document_shape::Document;
/// A run of at least one stitch. Nothing can be knitted zero times.
pub type Count = NonZeroU16;

/// The markers a sock needs, named by where they sit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Marker {
    /// Where the instep begins, after the left gusset. Written `L`.
    Left,
    /// Where the instep ends, before the right gusset. Written `R`.
    Right,
    /// Where the round begins, where no needle's end shows it. Written `B`.
    Round,
    /// Any other one, by its number; a written pattern may hang some. Written as the number.
    Numbered(u8),
}

impl fmt::Display for Marker {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Left => f.write_str("L"),
            Self::Right => f.write_str("R"),
            Self::Round => f.write_str("B"),
            Self::Numbered(n) => write!(f, "{n}"),
        }
    }
}

/// The yarns of a sock in several colours. Written `A` to `D`.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    Hash,
    PartialOrd,
    Ord,
    Default,
    Serialize,
    Deserialize,
    Document,
)]
#[cfg_attr(feature = "schemars", derive(schemars::JsonSchema))]
pub enum Yarn {
    /// The first.
    #[default]
    A,
    /// The second.
    B,
    /// The third.
    C,
    /// The fourth.
    D,
}

impl Yarn {
    /// Every yarn.
    pub const ALL: [Self; 4] = [Self::A, Self::B, Self::C, Self::D];

    /// Its letter.
    pub const fn letter(self) -> char {
        match self {
            Self::A => 'A',
            Self::B => 'B',
            Self::C => 'C',
            Self::D => 'D',
        }
    }
}

/// Which way the stitches on top of a cross lean.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Lean {
    /// To the left: the cable needle with the first stitches is held in front.
    Left,
    /// To the right: the cable needle with the first stitches is held behind.
    Right,
}

/// Stitches that change places: a cable cross.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Cross {
    /// Which way the upper ones go.
    pub lean: Lean,
    /// How many lie on top; always knitted.
    pub over: Count,
    /// How many lie behind.
    pub under: Count,
    /// Whether the ones behind are purled.
    pub purl: bool,
}

impl Cross {
    /// Most stitches of a cross.
    pub const MOST: u16 = 6;

    /// Stitches it takes, and makes.
    pub const fn width(self) -> u16 {
        self.over.get().saturating_add(self.under.get())
    }
}

impl fmt::Display for Cross {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let lean = match self.lean {
            Lean::Left => 'l',
            Lean::Right => 'r',
        };
        let purl = if self.purl { "p" } else { "" };
        write!(f, "c{lean}{purl}{}/{}", self.over, self.under)
    }
}

impl FromStr for Cross {
    type Err = ();

    fn from_str(s: &str) -> Result<Self, ()> {
        let (lean, rest) = match (s.strip_prefix("cl"), s.strip_prefix("cr")) {
            (Some(rest), _) => (Lean::Left, rest),
            (_, Some(rest)) => (Lean::Right, rest),
            _ => return Err(()),
        };
        let (purl, rest) = rest.strip_prefix('p').map_or((false, rest), |r| (true, r));
        let (over, under) = rest.split_once('/').ok_or(())?;
        let cross = Self {
            lean,
            over: over.parse().map_err(drop)?,
            under: under.parse().map_err(drop)?,
            purl,
        };
        if cross.width() <= Self::MOST {
            Ok(cross)
        } else {
            Err(())
        }
    }
}

/// Decreases that a written pattern may ask for beside the three of our own plans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Decrease {
    /// Slip 1, knit 1, pass the slipped stitch over: leans left.
    Skp,
    /// Slip, slip, purl the two together through the back.
    Ssp,
    /// Knit two together through the back loops.
    K2togThroughBackLoops,
    /// Purl two together through the back loops.
    P2togThroughBackLoops,
    /// Knit three together: leans right.
    K3tog,
    /// Slip three, knit them together through the back: leans left.
    Sssk,
    /// Slip 1, knit 2 together, pass the slipped stitch over: leans left.
    Sk2p,
    /// Slip 2 together, knit 1, pass both over: upright.
    S2kp,
    /// Purl three together.
    P3tog,
}

impl Decrease {
    /// Every one of them.
    pub const ALL: [Self; 9] = [
        Self::Skp,
        Self::Ssp,
        Self::K2togThroughBackLoops,
        Self::P2togThroughBackLoops,
        Self::K3tog,
        Self::Sssk,
        Self::Sk2p,
        Self::S2kp,
        Self::P3tog,
    ];

    /// Stitches it takes; it makes one of them.
    pub const fn takes(self) -> u16 {
        match self {
            Self::Skp | Self::Ssp | Self::K2togThroughBackLoops | Self::P2togThroughBackLoops => 2,
            Self::K3tog | Self::Sssk | Self::Sk2p | Self::S2kp | Self::P3tog => 3,
        }
    }

    /// Whether it is worked through the back loops, whichever way they are mounted.
    pub(crate) const fn through_back_loops(self) -> bool {
        matches!(
            self,
            Self::K2togThroughBackLoops | Self::P2togThroughBackLoops
        )
    }

    /// Its written form.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Skp => "skp",
            Self::Ssp => "ssp",
            Self::K2togThroughBackLoops => "k2togt",
            Self::P2togThroughBackLoops => "p2togt",
            Self::K3tog => "k3tog",
            Self::Sssk => "sssk",
            Self::Sk2p => "sk2p",
            Self::S2kp => "s2kp",
            Self::P3tog => "p3tog",
        }
    }
}

/// Increases that a written pattern may ask for beside those of our own plans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Increase {
    /// Knit into the front and the back of a stitch: one becomes two.
    Kfb,
    /// Purl into the front and the back of a stitch: one becomes two.
    Pfb,
    /// Make one purlwise from the strand between stitches.
    MakePurl,
}

impl Increase {
    /// Every one of them.
    pub const ALL: [Self; 3] = [Self::Kfb, Self::Pfb, Self::MakePurl];

    /// Stitches it takes; it makes one more.
    pub const fn takes(self) -> u16 {
        match self {
            Self::Kfb | Self::Pfb => 1,
            Self::MakePurl => 0,
        }
    }

    /// Its written form.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Kfb => "kfb",
            Self::Pfb => "pfb",
            Self::MakePurl => "m1p",
        }
    }
}

/// Stitches, one for one, that a written pattern may ask for beside those of our own plans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum RareStitch {
    /// Purled through the back loop.
    PurlThroughBackLoop,
    /// Slipped as if to knit: its other leg leads then.
    SlipKnitwise,
    /// Slipped purlwise, the yarn behind the needles, away from the knitter.
    SlipYarnInBack,
}

impl RareStitch {
    /// Every one of them.
    pub const ALL: [Self; 3] = [
        Self::PurlThroughBackLoop,
        Self::SlipKnitwise,
        Self::SlipYarnInBack,
    ];

    /// Whether it is slipped, not worked.
    pub const fn slipped(self) -> bool {
        !matches!(self, Self::PurlThroughBackLoop)
    }

    /// Its written form, without the count.
    pub const fn key(self) -> &'static str {
        match self {
            Self::PurlThroughBackLoop => "pt",
            Self::SlipKnitwise => "sk",
            Self::SlipYarnInBack => "sb",
        }
    }
}

/// One thing that hands do.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Op {
    /// Cast on so many stitches.
    CastOn(Count),
    /// Cast on so many stitches for the back of a leg and so many for its front.
    CastOnUneven(Count, Count),
    /// Wind the yarn so many times round two needles held together: the wrapped closed cast-on of a
    /// toe. The loops of both needles are mounted the usual way.
    CastOnWrapped(Count),
    /// The magic closed cast-on of a toe: so many loops on each of two needles held together, one
    /// strand round the lower needle, the other round the upper. The lower needle's are knitted
    /// first; the upper one's are mounted the other way.
    CastOnMagic(Count),
    /// The tubular cast-on for the back of a leg and for its front: knit and purl loops by turns, the
    /// knit loops mounted the other way.
    CastOnTubular(Count, Count),
    /// Crochet so many loops of a waste yarn's chain over one needle: the provisional cast-on of a
    /// toe's sole. They are mounted the usual way.
    CastOnProvisional(Count),
    /// Undo that chain and put its so many loops onto a second needle, each with its right leg in front:
    /// the instep, and the ring is closed.
    OpenProvisional(Count),
    /// Bind off so many stitches.
    BindOff(Count),
    /// Sew so many live stitches down inside a folded hem.
    SewDown(Count),
    /// Knit so many stitches with a waste yarn, put them back and knit them again with the working
    /// yarn: the place of a later heel.
    Waste(Count),
    /// Take so many stitches above and below the waste yarn onto two needles and pull it out.
    OpenWaste(Count),
    /// Knit so many stitches of the row that is snipped for a later heel.
    KnitToSnip(Count),
    /// Take so many stitches above and below that row onto two needles, snip its strand and draw it
    /// out.
    SnipRow(Count),
    /// Join into a round: the next stitch is the first one cast on.
    Join,
    /// Knit so many stitches.
    Knit(Count),
    /// Purl so many stitches.
    Purl(Count),
    /// Knit so many stitches through the back loop. Those mounted the usual way twist; those mounted
    /// the other way come out open.
    KnitThroughBackLoop(Count),
    /// Yarn over: a new stitch with a hole under it. It belongs to what comes next.
    YarnOver,
    /// Yarn over at the end of a motif's repeat: it belongs to the stitch before it.
    YarnOverBehind,
    /// Knit so many stitches, each together with the cast-on loop below it: a hem is folded.
    FoldJoin(Count),
    /// Slip so many stitches purlwise, the yarn carried on the wrong side of the fabric.
    Slip(Count),
    /// Slip so many stitches purlwise with the yarn before the needles, towards the knitter, and take it
    /// back between them if a knit stitch follows.
    SlipYarnInFront(Count),
    /// Knit two together: leans right; two stitches become one.
    K2tog,
    /// Slip, slip, knit the two together through the back: leans left; two become one.
    Ssk,
    /// Purl two together; two become one.
    P2tog,
    /// Pick up and knit so many stitches from the slipped-stitch edge at the working tip.
    PickUp(Count),
    /// Pick up and knit so many stitches along the edge at the working tip, however many chains it has.
    PickUpAlong(Count),
    /// Pick up and knit one stitch in a corner: beside a flap's edge, or where a heel meets the instep.
    PickUpCorner,
    /// Lift a loop in the corner between heel and instep and knit the stitch beside it (or both legs of
    /// a double stitch) together with it. The count stays.
    KnitCorner,
    /// Turn the work.
    Turn,
    /// Turn the work, slip the first stitch with the yarn in front and pull it over the needle: a
    /// double stitch (German short rows).
    TurnDouble,
    /// Knit so many double stitches, both legs of each together.
    KnitDouble(Count),
    /// Purl so many double stitches, both legs of each together.
    PurlDouble(Count),
    /// Make one from the strand between stitches, leaning left.
    MakeLeft,
    /// Make one from the strand between stitches, leaning right.
    MakeRight,
    /// The needle is worked: go on to the next one.
    Next,
    /// Place a marker at the working tip.
    Place(Marker),
    /// Hang a marker so many stitches ahead, without working up to it.
    Hang(Marker, u16),
    /// Slip a marker that lies next.
    SlipMarker(Marker),
    /// Take a marker off, wherever it hangs.
    Remove(Marker),
    /// From here the next so many stitches are worked back and forth; the rest waits.
    WorkFlat(Count),
    /// A needle ends so many stitches ahead: pull the cable's loop out there (magic loop), or
    /// begin another needle there.
    LoopOut(u16),
    /// The needle's end so many stitches ahead goes: slide the two groups together on one needle.
    LoopIn(u16),
    /// The round begins at the working tip from now on.
    BeginHere,
    /// Set up the grafting of two needles held parallel.
    GraftStart,
    /// Graft so many pairs of stitches, one from each needle.
    Graft(Count),
    /// Graft the last pair.
    GraftEnd,
    /// Cut the yarn, draw it through all stitches, so many of them, and close the hole.
    DrawClosed(Count),
    /// Cut the yarn and fasten off; no stitch is live any more.
    FastenOff,
    /// Cross stitches over one another.
    Cross(Cross),
    /// From here the motif's round of that number, from 1, is worked. No stitch is.
    MotifRow(Count),
    /// From here with that yarn.
    Yarn(Yarn),
    /// A decrease of a written pattern.
    Decrease(Decrease),
    /// An increase of a written pattern.
    Increase(Increase),
    /// So many stitches of a kind that only written patterns have.
    Rare(RareStitch, Count),
    /// Wrap the next stitch and turn (wrapped short rows).
    TurnWrapped,
    /// Knit so many wrapped stitches, each together with its wrap.
    KnitWrapped(Count),
    /// Purl so many wrapped stitches, each together with its wrap.
    PurlWrapped(Count),
    /// From here the last so many stitches that were worked are worked back and forth; the rest waits.
    /// The round begins with them from now on.
    WorkFlatBehind(Count),
    /// Work so many stitches as the pattern's own words say; so many are there then.
    AsWritten(Count, Count),
    /// Here the line of that number of a written pattern is worked. No stitch is.
    PatternLine(Count),
    /// What is worked back and forth is the heel from here on, all the other stitches are the instep; in the
    /// round the first half is the heel. No stitch is worked.
    NameHeel,
    /// Work a group of operations so many times.
    Repeat(Vec<Op>, Count),
}

impl Op {
    /// Whether it casts on the first loops, closed into a round or not.
    pub(crate) const fn casts_on(&self) -> bool {
        matches!(
            self,
            Self::CastOn(_)
                | Self::CastOnUneven(..)
                | Self::CastOnTubular(..)
                | Self::CastOnWrapped(_)
                | Self::CastOnMagic(_)
                | Self::CastOnProvisional(_)
        )
    }

    /// Whether it works no stitch, but only moves needle ends, markers or the beginning of the round.
    pub(crate) const fn only_shifts(&self) -> bool {
        matches!(
            self,
            Self::Next
                | Self::Place(_)
                | Self::Hang(..)
                | Self::Remove(_)
                | Self::LoopOut(_)
                | Self::LoopIn(_)
                | Self::BeginHere
        )
    }

    /// Stitches it takes and stitches it makes, where it can stand in a motif; else `None`.
    pub const fn chart_width(&self) -> Option<(u16, u16)> {
        Some(match self {
            Self::Knit(n) | Self::Purl(n) | Self::KnitThroughBackLoop(n) | Self::Slip(n) => {
                (n.get(), n.get())
            }
            Self::YarnOver => (0, 1),
            Self::K2tog | Self::Ssk => (2, 1),
            Self::Cross(cross) => (cross.width(), cross.width()),
            _ => return None,
        })
    }
}

/// What makes a run of so many.
pub(crate) type MakeRun = fn(Count) -> Op;

impl Op {
    /// What makes it and how often, where it is a run of single stitches of a motif.
    pub(crate) const fn in_run(&self) -> Option<(MakeRun, Count)> {
        match self {
            Self::Knit(n) => Some((Self::Knit, *n)),
            Self::Purl(n) => Some((Self::Purl, *n)),
            Self::KnitThroughBackLoop(n) => Some((Self::KnitThroughBackLoop, *n)),
            Self::Slip(n) => Some((Self::Slip, *n)),
            _ => None,
        }
    }
}

/// Pushes a run made by `make` unless it is empty: `run(&mut ops, Op::Knit, n)`.
pub fn run(ops: &mut Vec<Op>, make: fn(Count) -> Op, n: u16) {
    if let Some(n) = Count::new(n) {
        ops.push(make(n));
    }
}

impl fmt::Display for Op {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::CastOn(n) => write!(f, "co{n}"),
            Self::Join => f.write_str("join"),
            Self::Knit(n) => write!(f, "k{n}"),
            Self::Purl(n) => write!(f, "p{n}"),
            Self::KnitThroughBackLoop(n) => write!(f, "kt{n}"),
            Self::YarnOver => f.write_str("yo"),
            Self::YarnOverBehind => f.write_str("yo-"),
            Self::FoldJoin(n) => write!(f, "fold{n}"),
            Self::DrawClosed(n) => write!(f, "draw{n}"),
            Self::Slip(n) => write!(f, "s{n}"),
            Self::SlipYarnInFront(n) => write!(f, "sf{n}"),
            Self::K2tog => f.write_str("k2tog"),
            Self::Ssk => f.write_str("ssk"),
            Self::P2tog => f.write_str("p2tog"),
            Self::PickUp(n) => write!(f, "pu{n}"),
            Self::PickUpAlong(n) => write!(f, "pua{n}"),
            Self::PickUpCorner => f.write_str("puc"),
            Self::KnitCorner => f.write_str("kc"),
            Self::Turn => f.write_str("t"),
            Self::TurnDouble => f.write_str("td"),
            Self::KnitDouble(n) => write!(f, "kd{n}"),
            Self::PurlDouble(n) => write!(f, "pd{n}"),
            Self::MakeLeft => f.write_str("m1l"),
            Self::MakeRight => f.write_str("m1r"),
            Self::CastOnWrapped(n) => write!(f, "cc{n}"),
            Self::CastOnMagic(n) => write!(f, "cm{n}"),
            Self::BindOff(n) => write!(f, "bo{n}"),
            Self::Waste(n) => write!(f, "w{n}"),
            Self::OpenWaste(n) => write!(f, "ow{n}"),
            Self::KnitToSnip(n) => write!(f, "ks{n}"),
            Self::SnipRow(n) => write!(f, "snip{n}"),
            Self::CastOnTubular(back, front) => write!(f, "ct{back}+{front}"),
            Self::CastOnProvisional(n) => write!(f, "cp{n}"),
            Self::OpenProvisional(n) => write!(f, "op{n}"),
            Self::SewDown(n) => write!(f, "sew{n}"),
            Self::Hang(m, n) => write!(f, "m+{m}@{n}"),
            Self::Next => f.write_str("/"),
            Self::Place(m) => write!(f, "m+{m}"),
            Self::SlipMarker(m) => write!(f, "m>{m}"),
            Self::Remove(m) => write!(f, "m-{m}"),
            Self::WorkFlat(n) => write!(f, "flat{n}"),
            Self::LoopOut(n) => write!(f, "lo@{n}"),
            Self::LoopIn(n) => write!(f, "lc@{n}"),
            Self::BeginHere => f.write_str("bor"),
            Self::GraftStart => f.write_str("g0"),
            Self::Graft(n) => write!(f, "g{n}"),
            Self::GraftEnd => f.write_str("gx"),
            Self::FastenOff => f.write_str("off"),
            Self::CastOnUneven(back, front) => write!(f, "co{back}+{front}"),
            Self::Cross(cross) => cross.fmt(f),
            Self::MotifRow(n) => write!(f, "row{n}"),
            Self::Yarn(yarn) => write!(f, "y{}", yarn.letter()),
            Self::Decrease(decrease) => f.write_str(decrease.key()),
            Self::Increase(increase) => f.write_str(increase.key()),
            Self::Rare(stitch, n) => write!(f, "{}{n}", stitch.key()),
            Self::TurnWrapped => f.write_str("tw"),
            Self::KnitWrapped(n) => write!(f, "kw{n}"),
            Self::PurlWrapped(n) => write!(f, "pw{n}"),
            Self::WorkFlatBehind(n) => write!(f, "flat-{n}"),
            Self::AsWritten(from, to) => write!(f, "as{from}-{to}"),
            Self::PatternLine(n) => write!(f, "ln{n}"),
            Self::NameHeel => f.write_str("heel"),
            Self::Repeat(ops, n) => write!(f, "[{}]{n}", write_ops(ops)),
        }
    }
}

/// The written form of a list of operations, single spaces between them.
pub fn write_ops(ops: &[Op]) -> String {
    let mut out = String::with_capacity(ops.len() * 4);
    for (i, op) in ops.iter().enumerate() {
        if i > 0 {
            out.push(' ');
        }
        out.push_str(&op.to_string());
    }
    out
}

/// A text that is not an operation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotAnOp(
    /// The part that could not be read, cut to a readable length.
    pub String,
);

impl fmt::Display for NotAnOp {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "“{}” is not an operation", self.0)
    }
}

impl std::error::Error for NotAnOp {}

impl FromStr for Op {
    type Err = NotAnOp;

    #[allow(clippy::too_many_lines)] // one arm for each operation
    fn from_str(s: &str) -> Result<Self, NotAnOp> {
        let bad = || NotAnOp(s.chars().take(24).collect());
        let marker = |s: &str| match s {
            "L" => Ok(Marker::Left),
            "R" => Ok(Marker::Right),
            "B" => Ok(Marker::Round),
            number => number.parse().map(Marker::Numbered).map_err(|_| bad()),
        };
        let place = |s: &str| s.parse::<u16>().map_err(|_| bad());
        Ok(match s {
            "join" => Self::Join,
            "k2tog" => Self::K2tog,
            "ssk" => Self::Ssk,
            "p2tog" => Self::P2tog,
            "puc" => Self::PickUpCorner,
            "kc" => Self::KnitCorner,
            "yo" => Self::YarnOver,
            "yo-" => Self::YarnOverBehind,
            "t" => Self::Turn,
            "td" => Self::TurnDouble,
            "tw" => Self::TurnWrapped,
            "m1l" => Self::MakeLeft,
            "m1r" => Self::MakeRight,
            "/" => Self::Next,
            "bor" => Self::BeginHere,
            "heel" => Self::NameHeel,
            "g0" => Self::GraftStart,
            "gx" => Self::GraftEnd,
            "off" => Self::FastenOff,
            _ => {
                if let Some(m) = s.strip_prefix("m+") {
                    if let Some((m, n)) = m.split_once('@') {
                        return Ok(Self::Hang(marker(m)?, place(n)?));
                    }
                    return Ok(Self::Place(marker(m)?));
                }
                if let Some(m) = s.strip_prefix("m>") {
                    return Ok(Self::SlipMarker(marker(m)?));
                }
                if let Some(m) = s.strip_prefix("m-") {
                    return Ok(Self::Remove(marker(m)?));
                }
                if let Some(n) = s.strip_prefix("lo@") {
                    return Ok(Self::LoopOut(place(n)?));
                }
                if let Some(n) = s.strip_prefix("lc@") {
                    return Ok(Self::LoopIn(place(n)?));
                }
                if let Some(letter) = s.strip_prefix('y') {
                    let named = |y: &Yarn| letter.chars().eq([y.letter()]);
                    return Yarn::ALL
                        .into_iter()
                        .find(named)
                        .map(Self::Yarn)
                        .ok_or_else(bad);
                }
                if let Some(decrease) = Decrease::ALL.into_iter().find(|d| d.key() == s) {
                    return Ok(Self::Decrease(decrease));
                }
                if let Some(increase) = Increase::ALL.into_iter().find(|i| i.key() == s) {
                    return Ok(Self::Increase(increase));
                }
                let part = |s: &str| s.parse::<Count>().map_err(|_| bad());
                if let Some(n) = s.strip_prefix("flat-") {
                    return Ok(Self::WorkFlatBehind(part(n)?));
                }
                if let Some((from, to)) = s.strip_prefix("as").and_then(|s| s.split_once('-')) {
                    return Ok(Self::AsWritten(part(from)?, part(to)?));
                }
                if let Ok(cross) = s.parse() {
                    return Ok(Self::Cross(cross));
                }
                if let Some((back, front)) = s.strip_prefix("co").and_then(|s| s.split_once('+')) {
                    return Ok(Self::CastOnUneven(part(back)?, part(front)?));
                }
                if let Some((back, front)) = s.strip_prefix("ct").and_then(|s| s.split_once('+')) {
                    return Ok(Self::CastOnTubular(part(back)?, part(front)?));
                }
                let digits = s.find(|c: char| c.is_ascii_digit()).ok_or_else(bad)?;
                let (head, number) = s.split_at(digits);
                let n: Count = number.parse().map_err(|_| bad())?;
                match head {
                    "co" => Self::CastOn(n),
                    "k" => Self::Knit(n),
                    "p" => Self::Purl(n),
                    "kd" => Self::KnitDouble(n),
                    "pd" => Self::PurlDouble(n),
                    "cc" => Self::CastOnWrapped(n),
                    "cm" => Self::CastOnMagic(n),
                    "bo" => Self::BindOff(n),
                    "w" => Self::Waste(n),
                    "ow" => Self::OpenWaste(n),
                    "ks" => Self::KnitToSnip(n),
                    "snip" => Self::SnipRow(n),
                    "cp" => Self::CastOnProvisional(n),
                    "op" => Self::OpenProvisional(n),
                    "sew" => Self::SewDown(n),
                    "kt" => Self::KnitThroughBackLoop(n),
                    "fold" => Self::FoldJoin(n),
                    "draw" => Self::DrawClosed(n),
                    "s" => Self::Slip(n),
                    "sf" => Self::SlipYarnInFront(n),
                    "pu" => Self::PickUp(n),
                    "pua" => Self::PickUpAlong(n),
                    "flat" => Self::WorkFlat(n),
                    "g" => Self::Graft(n),
                    "row" => Self::MotifRow(n),
                    "ln" => Self::PatternLine(n),
                    "kw" => Self::KnitWrapped(n),
                    "pw" => Self::PurlWrapped(n),
                    _ => {
                        let mut rare = RareStitch::ALL.into_iter();
                        let stitch = rare.find(|r| r.key() == head).ok_or_else(bad)?;
                        Self::Rare(stitch, n)
                    }
                }
            }
        })
    }
}

/// Reads the written form of a list of operations. Repeats do not nest.
///
/// # Errors
/// The first part that is not an operation.
pub fn read_ops(text: &str) -> Result<Vec<Op>, NotAnOp> {
    let mut out = Vec::new();
    let mut rest = text.trim();
    while !rest.is_empty() {
        if let Some(inner) = rest.strip_prefix('[') {
            let bad = || NotAnOp(rest.chars().take(24).collect());
            let (group, tail) = inner.split_once(']').ok_or_else(bad)?;
            let end = tail.find(' ').unwrap_or(tail.len());
            let (times, tail) = tail.split_at(end);
            let times: Count = times.parse().map_err(|_| bad())?;
            let ops = group
                .split_whitespace()
                .map(str::parse)
                .collect::<Result<Vec<_>, _>>()?;
            if ops.is_empty() {
                return Err(bad());
            }
            out.push(Op::Repeat(ops, times));
            rest = tail.trim_start();
        } else {
            let end = rest.find(' ').unwrap_or(rest.len());
            let (one, tail) = rest.split_at(end);
            out.push(one.parse()?);
            rest = tail.trim_start();
        }
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_written_form_reads_back() {
        let text = "co64 join k14 p3 s1 sf1 k2tog ssk p2tog pu16 puc kc t / m+L m>R m-B flat32 lo@16 lc@0 \
                    bor g0 g7 gx off kt1 yo yo- fold64 draw8 td kd3 pd3 m1l m1r cc8 cm8 bo64 w32 ow32 m+L@16 co44+32 cr2/2 cl1/3 crp2/1 clp1/1 row12 yB [k2 p2]8 [s1 k1]16 k1 tw kw2 pw1 skp ssp \
                    k2togt p2togt k3tog sssk sk2p s2kp p3tog kfb pfb m1p pt2 sk1 sb1 flat-32 as8-6 ln12 heel pua18 m+7 m>7 m-7 m+9@3 ct32+30 cp20 op20 ks32 snip32 sew64";
        let ops = read_ops(text).expect("all of these are operations");
        assert_eq!(write_ops(&ops), text);
    }

    #[test]
    fn what_is_not_an_operation_is_named() {
        for bad in [
            "k0", "kk", "k70000", "[k1", "[]3", "m+X", "m+L@", "lo@", "7", "[k1]0", "cr0/2",
            "cl4/3", "crp/1", "cr2", "yE", "yAB", "co4+", "row0", "flat-", "as4", "as0-1", "m+300",
            "pt0", "k3togt", "ct32", "ct0+4", "cp", "sew0",
        ] {
            assert!(read_ops(bad).is_err(), "{bad} was read");
        }
    }
}
