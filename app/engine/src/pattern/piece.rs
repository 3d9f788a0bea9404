//! What a line of a pattern says, as data, before it meets any needles: a run may go "to the marker"
//! however far that is.
//!
//! Knows operations by name; must not know how a line is written nor what lies on the needles.

use std::sync::Arc;

use crate::stitch::{Cross, Decrease, Increase, RareStitch, Yarn};

/// A place in the pattern's text, both counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Spot {
    /// Line of the text.
    pub line: u32,
    /// Character of the line.
    pub column: u32,
}

impl Spot {
    /// So many lines further down.
    pub(super) fn moved(self, by: i64) -> Self {
        // what stands nowhere does not move
        if self == Self::default() {
            return self;
        }
        let line = i64::from(self.line).saturating_add(by);
        Self {
            line: u32::try_from(line).unwrap_or(self.line),
            ..self
        }
    }
}

/// A piece and where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Placed {
    /// Where it begins.
    pub spot: Spot,
    /// What it says.
    pub piece: Piece,
}

/// What a line says, to be worked again and again.
pub(super) type Pieces = Arc<[Placed]>;

/// One thing to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Piece {
    /// Stitches of one kind.
    Run(Stitch, Extent),
    /// Two become one, as our own plans have it.
    Together(Together),
    /// A decrease that only written patterns have.
    Decrease(Decrease),
    /// An increase that only written patterns have.
    Increase(Increase),
    /// A yarn over.
    YarnOver,
    /// Make one from the strand, leaning left.
    MakeLeft,
    /// Make one from the strand, leaning right.
    MakeRight,
    /// A cable cross.
    Cross(Cross),
    /// Turn the work.
    Turn,
    /// Turn and make a double stitch of the first one.
    TurnDouble,
    /// Make a double stitch of the first one after a turn.
    MakeDouble,
    /// Wrap the next stitch and turn.
    TurnWrapped,
    /// Pick up and knit so many along an edge.
    PickUp(u16),
    /// Pick up and knit one in the corner beside an edge.
    PickUpCorner,
    /// Knit a stitch or a double stitch together with a loop lifted from the corner.
    KnitCorner,
    /// Bind off.
    BindOff(Extent),
    /// Sew so many live stitches down.
    SewDown(u16),
    /// Knit so many with waste yarn and again with the working yarn.
    Waste(u16),
    /// Knit so many of a row that is snipped later.
    KnitToSnip(u16),
    /// Place a marker.
    PlaceMarker,
    /// Slip the marker that lies next.
    SlipMarker,
    /// Take the marker off that lies next.
    RemoveMarker,
    /// Cast on.
    CastOn(u16),
    /// Wind the yarn so many times round two needles.
    CastOnWrapped(u16),
    /// Lay so many loops on each of two needles, by turns.
    CastOnMagic(u16),
    /// Cast on so many knit and purl loops by turns.
    CastOnTubular(u16),
    /// Chain so many loops over a needle.
    CastOnProvisional(u16),
    /// Undo the chain of a provisional cast-on, so many loops of it.
    UndoChain(u16),
    /// Take out the waste yarn that keeps the place of so many stitches.
    OpenWaste(u16),
    /// Snip the row over so many stitches and draw it out.
    SnipRow(u16),
    /// Knit a hem's stitches together with the cast-on loops.
    FoldJoin(u16),
    /// Here the motif's round of that number is worked.
    MotifRound(u16),
    /// From here with that yarn.
    WithYarn(Yarn),
    /// What follows is worked on the needle of that number.
    Needle(u16),
    /// So many stitches by a chart or by words of the pattern's own: not read here.
    AsWritten(u16, u16),
    /// All that is left of the round by a chart.
    Charted,
    /// Pieces again and again.
    Repeat(Vec<Placed>, Times),
    /// The count that the pattern gives for what is on the needles now.
    Count(Counted),
}

/// The decreases that our own plans have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Together {
    /// Knit two together.
    K2tog,
    /// Slip, slip, knit.
    Ssk,
    /// Purl two together.
    P2tog,
}

/// What is done to each stitch of a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Stitch {
    /// Knitted.
    Knit,
    /// Purled.
    Purl,
    /// Knitted through the back loop.
    KnitThroughBackLoop,
    /// Slipped purlwise.
    Slip,
    /// Slipped purlwise with the yarn in front.
    SlipYarnInFront,
    /// Double stitches, knitted.
    KnitDouble,
    /// Double stitches, purled.
    PurlDouble,
    /// Wrapped stitches, knitted with their wraps.
    KnitWrapped,
    /// Wrapped stitches, purled with their wraps.
    PurlWrapped,
    /// One of those that only written patterns have.
    Rare(RareStitch),
}

/// How far a run goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Extent {
    /// So many stitches.
    Counted(u16),
    /// To so many stitches before a place.
    To(u16, Stop),
}

/// The same pieces so many lines further down.
pub(super) fn moved(pieces: &[Placed], by: i64) -> Vec<Placed> {
    let move_one = |placed: &Placed| Placed {
        spot: placed.spot.moved(by),
        piece: match &placed.piece {
            Piece::Repeat(inner, times) => Piece::Repeat(moved(inner, by), *times),
            other => other.clone(),
        },
    };
    pieces.iter().map(move_one).collect()
}

/// How often pieces are repeated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Times {
    /// So many times.
    Counted(u16),
    /// Until so many stitches are left before a place.
    To(u16, Stop),
}

/// Something that is worked up to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Stop {
    /// The end of the round or row.
    End,
    /// The end of the needle.
    NeedleEnd,
    /// The next marker.
    Marker,
    /// The marker at the round's beginning.
    RoundMarker,
    /// The gap of a turned row.
    Gap,
    /// The next double stitch.
    Double,
    /// The next wrapped stitch.
    Wrapped,
}

/// A count as the pattern gives it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Counted {
    /// Stitches in all, where that is said.
    pub all: Option<u16>,
    /// Stitches on each needle, where that is said.
    pub needles: Vec<u16>,
}
