//! The pieces of a needle's line.

use crate::stitch::{Cross, Decrease, Increase, RareStitch, Yarn};

/// One thing to do, as a line names it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum LinePiece {
    /// Plain knitting to the end, whatever hangs on the way.
    KnitToEnd {
        /// Whether that is a needle's end; else the round's.
        of_needle: bool,
        /// Whether several markers are slipped; else one.
        markers: bool,
    },
    /// Knitting.
    Knit(Run),
    /// Purling.
    Purl(Run),
    /// Knitting through the back loop.
    KnitThroughBackLoop(u16),
    /// A yarn over.
    YarnOver,
    /// Knitting a hem's stitches together with the cast-on loops.
    FoldJoin(u16),
    /// Slipping.
    Slip(u16),
    /// Slipping with the yarn in front.
    SlipYarnInFront(u16),
    /// Knit two together.
    K2tog,
    /// Slip, slip, knit.
    Ssk,
    /// Purl two together.
    P2tog,
    /// Picking up and knitting along an edge.
    PickUp(u16),
    /// The same in the corner.
    PickUpCorner,
    /// Knitting a stitch together with a loop out of the corner.
    KnitCorner {
        /// Whether it is a double stitch.
        double: bool,
    },
    /// Turning.
    Turn,
    /// Turning with a double stitch.
    TurnDouble,
    /// Knitting double stitches.
    KnitDouble(u16),
    /// Purling double stitches.
    PurlDouble(u16),
    /// Making one, leaning left.
    MakeLeft,
    /// Making one, leaning right.
    MakeRight,
    /// Wrapping so many loops round each of two needles.
    CastOnWrapped(u16),
    /// Laying so many loops round each of two needles, by turns.
    CastOnMagic(u16),
    /// Casting on knit and purl loops by turns.
    CastOnTubular(u16),
    /// Crocheting so many loops of a chain over the needle.
    CastOnProvisional(u16),
    /// Binding off.
    BindOff(u16),
    /// Sewing live stitches down.
    SewDown(u16),
    /// Knitting with waste yarn.
    Waste(u16),
    /// Knitting stitches of the row that is snipped later.
    KnitToSnip(u16),
    /// Placing a marker.
    PlaceMarker,
    /// Slipping a marker.
    SlipMarker,
    /// Casting on.
    CastOn(u16),
    /// A cable cross.
    Cross(Cross),
    /// A decrease of a written pattern.
    Decrease(Decrease),
    /// An increase of a written pattern.
    Increase(Increase),
    /// Stitches that only written patterns have.
    Rare(RareStitch, u16),
    /// Wrapping a stitch and turning.
    TurnWrapped,
    /// Knitting wrapped stitches with their wraps.
    KnitWrapped(u16),
    /// Purling wrapped stitches with their wraps.
    PurlWrapped(u16),
    /// So many stitches as the pattern says, and what they become.
    AsWritten(u16, u16),
    /// Names the motif's round that follows.
    MotifRound(u16),
    /// Names the yarn.
    WithYarn(Yarn),
    /// The sewing needle through a stitch of a graft.
    Graft(GraftPass),
    /// The chart's round, so many times.
    Chart(u16),
    /// So many first stitches of the chart once more, after its last repeat.
    ChartBegun(u16),
    /// Pieces again and again.
    Repeat(Vec<Self>, LineRepeat),
}

/// One pass of the sewing needle through a stitch of a graft. Each stitch is met twice: it stays on its needle the first
/// time and comes off the second.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct GraftPass {
    /// Which of the two needles holds the stitch.
    pub(crate) needle: GraftNeedle,
    /// Whether the sewing needle enters as if to knit; else as if to purl.
    pub(crate) knitwise: bool,
    /// Whether the stitch comes off; then it is met for the second time.
    pub(crate) off: bool,
    /// Whether another stitch of this needle was met just before.
    pub(crate) next: bool,
}

/// The needles of a graft, held parallel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum GraftNeedle {
    /// The one nearer the knitter.
    Front,
    /// The one behind it.
    Back,
}

/// How far a run goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Run {
    /// So many stitches.
    Counted(u16),
    /// To something that stops it.
    To(Stop),
    /// To so many stitches before it.
    Before(u16, Stop),
}

/// How often pieces are repeated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum LineRepeat {
    /// So many times.
    Counted(u16),
    /// To something that ends them.
    To(Stop),
}

/// Something that is worked up to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Stop {
    /// The marker at the round's beginning.
    RoundMarker,
    /// Any other marker.
    Marker,
    /// The needle's end.
    NeedleEnd,
    /// The row's end.
    RowEnd,
    /// The gap of a turned row.
    Gap,
    /// A double stitch.
    Double,
    /// A wrapped stitch.
    Wrapped,
    /// The middle of the leg's back, where nothing hangs.
    MiddleOfBack,
}
