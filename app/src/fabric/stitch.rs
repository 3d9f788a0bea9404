//! One stitch of the fabric: what was worked, with which yarn, out of which stitches, and where it lies.
//! Plain data, seen from the right side; knows no millimetres.

use evenloop_engine::stitch::{Lean, Yarn};
use evenloop_engine::trace::Position;

use super::loops::StitchId;

/// What a stitch looks like from the right side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum StitchKind {
    /// A loop of the cast-on edge.
    CastOn,
    /// A loop that the waste yarn held: no stitch of its own.
    Opened,
    /// A knit stitch: a V.
    Knit,
    /// A purl stitch: a bump.
    Purl,
    /// A knit stitch through the back loop: its legs cross.
    Twisted,
    /// Two stitches in one; the one on top comes from the left of it or from the right.
    Decrease(Lean),
    /// Two stitches purled together.
    PurlDecrease,
    /// A yarn over: a hole with a thread above it.
    YarnOver,
    /// Made from the strand between stitches.
    MakeOne(Lean),
    /// Picked up from an edge.
    PickedUp,
    /// A stitch of the bind-off edge.
    BoundOff,
    /// A stitch made with the tapestry needle.
    Grafted,
}

/// How a stitch of a cable lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum CableLayer {
    /// In front of the others.
    Front,
    /// Behind them.
    Behind,
}

/// The parts of the sock that lie on the table in ways of their own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Region {
    /// The cuff and its edge.
    Cuff,
    /// The leg.
    Leg,
    /// The heel flap.
    Flap,
    /// The turn of the heel.
    Turn,
    /// The gusset with the round that picks it up.
    Gusset,
    /// A heel in short rows.
    ShortHeel,
    /// A heel knitted last.
    LateHeel,
    /// The foot.
    Foot,
    /// The toe with its closing.
    Toe,
    /// A toe in short rows.
    ShortToe,
}

/// Which part of the round a stitch belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Zone {
    /// The front of the leg, the top of the foot.
    Front,
    /// Picked up where the back goes over into the front, in knitting order.
    AfterBack,
    /// Picked up where the front goes over into the back.
    AfterFront,
    /// The back of the leg, heel and sole.
    Back,
}

/// Where a stitch lies in its round, counted in stitches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct PlaceInRound {
    /// Which part of the round.
    pub(crate) zone: Zone,
    /// Its place in the zone in knitting order, from 0.
    pub(crate) at: u16,
    /// How many stitches the zone has.
    pub(crate) of: u16,
    /// Stitches between the back and the front, before and after the front.
    pub(crate) gussets: (u16, u16),
    /// Stitches of the zone that lie outside a row worked back and forth: before it, after it.
    pub(crate) outside: (u16, u16),
}

/// One stitch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct FabricStitch {
    /// What it looks like.
    pub(crate) kind: StitchKind,
    /// Its yarn.
    pub(crate) yarn: Yarn,
    /// The move that makes it.
    pub(crate) made: Position,
    /// The stitches it is worked into, the one on top first; none at an edge and for a new stitch.
    pub(crate) below: [Option<StitchId>; 2],
    /// How many rows it was slipped over, the yarn behind it.
    pub(crate) slipped: u16,
    /// Whether a turn pulled it up to a double stitch.
    pub(crate) double: bool,
    /// How it lies, in a cable.
    pub(crate) cable: Option<CableLayer>,
    /// Which part of the sock.
    pub(crate) region: Region,
    /// Its row in its own column of the region, from 1; 0 on an edge that is cast on.
    pub(crate) row: u16,
    /// How many rows that column has.
    pub(crate) rows: u16,
    /// Where it lies in its round when that is done.
    pub(crate) place: PlaceInRound,
}
