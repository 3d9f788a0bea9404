//! The operation vocabulary: everything hands do, as values.
//!
//! One representation of a plan is a list of these; text, pictures, counts, yarn and print are
//! derived from it. Runs are compressed (`Knit(14)`). This module says what an operation is;
//! [`crate::written_ops`] says how it is written down, [`crate::knit`] what it does to the needles.
//!
//! Must not know needles, a plan or a pattern.

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
