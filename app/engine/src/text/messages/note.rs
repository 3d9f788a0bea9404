//! Everything that a note can say.

use crate::reach::ReachFrom;
use crate::recipe::{BindOff, CastOn, Direction, FlapTexture, HeelOpening, LeftRight, Method};
use crate::stitch::{Cross, Yarn};
use crate::units::Length;

/// Where a marker hangs, as a knitter sees it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum MarkerPlace {
    /// In the middle of the sole.
    MiddleOfSole,
    /// Where the instep begins.
    InstepBegins,
    /// Where the instep ends.
    InstepEnds,
    /// Where the heel ends, when its stitches are worked or called so.
    HeelEnds,
    /// Where the back of the leg ends.
    BackEnds,
    /// Where the front of the leg ends.
    FrontEnds,
}

/// Markers taken off and placed in a move, in that order.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct MarkerChanges {
    /// Taken off.
    pub off: Vec<MarkerPlace>,
    /// Whether that leaves none of several.
    pub none_left: bool,
    /// Whether one is placed at the working tip.
    pub here: bool,
    /// Placed so many stitches ahead of the beginning of the round.
    pub ahead: Vec<(u16, MarkerPlace)>,
}

/// How the loops of a closed cast-on are laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum ClosedCastOn {
    /// By turns round two needles, with a strand for each.
    Magic,
    /// Round both like a spring.
    Wrapped,
}

/// A part that has a yarn of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum ContrastPart {
    /// The cuff.
    Cuff,
    /// The heel.
    Heel,
    /// The toe.
    Toe,
}

/// A note with its arguments. `counts` are the stitches on each needle when the move is done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Note {
    /// Which of several yarns is cast on with.
    FirstYarn(Yarn),
    /// Another yarn is taken up.
    YarnChange {
        /// Which.
        taken: Yarn,
        /// Whether it was carried along; else it is joined.
        again: bool,
        /// The one that is left.
        left: Yarn,
        /// Whether that is carried along; else it is cut.
        carried: bool,
        /// The part that is knitted in it, where no stripe is.
        contrast: Option<ContrastPart>,
    },
    /// The cast-on at the cuff, and the tail it takes.
    CastOn(CastOn, Length),
    /// The beginning of a closed cast-on, and the tail it takes.
    CastOnClosedBegin(ClosedCastOn, Length),
    /// Where the tail goes, and the first loop.
    CastOnClosedFirst(ClosedCastOn),
    /// The loops of a closed cast-on.
    CastOnClosed(ClosedCastOn),
    /// Turning both needles round after a closed cast-on.
    CastOnClosedTurn(ClosedCastOn),
    /// Leaving the needle that waits to its cable.
    CastOnClosedPart {
        /// What the stitches are on.
        method: Method,
        /// How the work is turned for it; `None` where it waits for short rows.
        then: Option<ClosedCastOn>,
    },
    /// The first round over a closed cast-on.
    FirstRound(ClosedCastOn),
    /// A yarn over lies at a needle's end, where it may slide off.
    YarnOverAtEnd,
    /// Stitches that are mounted the other way are knitted for the first time.
    MountedTheOtherWay,
    /// Hook and waste yarn of a provisional cast-on.
    ChainBegin,
    /// The loops of its chain.
    Chain,
    /// The end of its chain, and the length of the working yarn that is woven in.
    ChainEnd(Length),
    /// Undoing the chain of so many loops onto another needle.
    UndoChain(Method, u16),
    /// A round that knits one kind of stitches of a tubular edge by itself.
    Tubular {
        /// Whether the knit stitches; else the purl stitches.
        knits: bool,
        /// Whether their loops are mounted as they were cast on.
        cast_on: bool,
    },
    /// The round between a tubular edge and a rib of two and two.
    TubularCross {
        /// Whether the edge was cast on; else it comes next.
        cast_on: bool,
    },
    /// Sharing the stitches out.
    Divide(Method, Vec<u16>),
    /// Joining into the round.
    Join,
    /// The round along which a hem folds.
    TurnHem,
    /// Folding a hem and closing it.
    JoinHem,
    /// The inside of a hem.
    HemInside,
    /// The outside of a hem, where it comes first.
    HemOutside,
    /// An edge that rolls.
    RolledEdge,
    /// The leg is shaped.
    ShapedLeg {
        /// Whether it was measured; else it has more room than the ankle.
        measured: bool,
    },
    /// The heel flap.
    Flap {
        /// Which way the sock is knitted.
        direction: Direction,
        /// How it is knitted.
        texture: FlapTexture,
        /// Stitches it begins on.
        stitches: u16,
        /// Rows it has.
        rows: usize,
        /// The row from which it narrows, for a band turn.
        narrows_from: Option<usize>,
    },
    /// A panel that is odd on an even half, or even on an odd one, lies half a stitch off the middle.
    PanelOffMiddle {
        /// Stitches of the panel.
        panel: u16,
        /// Plain stitches before it.
        before: u16,
        /// Plain stitches after it.
        after: u16,
        /// Whether one balancing stitch would put it in the middle.
        one_balances: bool,
    },
    /// Loose strands where needles end.
    Ladders,
    /// Trying on, where the sock should be so long. From the cuff down the toe that is still missing takes so
    /// much of the foot.
    TryOn(Direction, Length, Option<Length>),
    /// The leg ends with this round and should be so long, measured from there.
    MeasureLeg(Length, ReachFrom),
    /// The gauge was a guess, and so much is knitted that it can be measured.
    MeasureGuess {
        /// Which way the sock is knitted.
        direction: Direction,
        /// So many rounds of the leg, or of the foot from the toe up.
        rounds: u16,
        /// How tall they should be.
        tall: Length,
        /// How wide the sock should be, laid flat.
        flat: Length,
    },
    /// How long the foot should be from where its heel will be, where the toe begins.
    FromTheLateHeel(HeelOpening, Length),
    /// The jog of stripes, and what hides it where a stripe has a second round.
    Stripes {
        /// Whether any stripe has.
        second_round: bool,
    },
    /// Carrying a yarn up inside.
    Carry,
    /// A thread that makes a heel last.
    Reinforce,
    /// Washing and drying.
    Care,
    /// A heel turned until so many stitches are left.
    TurnDown(u16),
    /// A heel turned in short rows over so many stitches.
    TurnUp(u16),
    /// A short-row heel over so many stitches.
    ShortRowHeel(u16),
    /// The rounds between the halves of a short-row heel.
    ShortRowHeelHalfDone,
    /// A gusset that narrows.
    GussetDown {
        /// How many stitches are left all round.
        left: u16,
        /// Whether the stitches just picked up are knitted through the back loop.
        drawn_close: bool,
    },
    /// A gusset that widens until there are so many stitches.
    GussetUp(u16),
    /// A short-row toe over so many stitches.
    ShortRowToe(Direction, u16),
    /// The same while the other half waits in a chain.
    ShortRowToeOverChain(u16),
    /// A toe for one foot of a pair, and what it comes to: so many stitches all round from the toe up, on
    /// each half from the cuff down.
    ShapedToe(Direction, LeftRight, u16),
    /// A toe that widens until there are so many stitches.
    ToeUp(u16),
    /// A toe that narrows until each half has so many stitches.
    WedgeToe(u16),
    /// A toe that narrows all round until so many stitches are left.
    RoundToe(u16),
    /// An afterthought heel begins; it narrows until each needle has so many stitches.
    AfterthoughtHeel(u16),
    /// Knitting to where the heel is worked.
    ReachHeel,
    /// Putting the heel on a needle of its own.
    SeatHeel(Method, Vec<u16>),
    /// The heel on one short circular.
    SeatHeelByMarkers {
        /// Whether the round already has a marker where it is going to begin.
        at_marker: bool,
    },
    /// Knitting to the middle of the sole.
    ReachMiddle,
    /// Seating the stitches round the middle of the sole.
    SeatMiddle(Method, Vec<u16>),
    /// Seating the stitches of the leg.
    SeatLeg(Method, Vec<u16>),
    /// Waste yarn for a heel.
    Waste,
    /// Taking so many stitches up on both sides of waste yarn.
    OpenWaste(Direction, u16),
    /// The row that is snipped later.
    RowToSnip,
    /// Taking so many stitches up on both sides of that row.
    OpenRow(Direction, u16),
    /// Snipping it.
    SnipRow,
    /// The first half of the turned heel.
    CrossFirstHalf,
    /// The round begins in the middle of the heel.
    CrossBegin(Method),
    /// So many heel stitches wait on another needle than the round will have them on.
    Waiting(Method, u16),
    /// What the abbreviations of crosses stand for.
    Crosses(Vec<Cross>),
    /// What becomes of the markers.
    Markers(MarkerChanges),
    /// The second half of the turned heel.
    CrossSecondHalf,
    /// Across the turned heel.
    CrossHeel,
    /// Picking up along the near edge.
    PickUpLeft {
        /// Whether the corner is picked up too.
        corner: bool,
        /// Whether a marker is hung.
        marker: bool,
    },
    /// The instep, or its first half.
    CrossInstepFirst(Method),
    /// The rest of the instep, on needle 2 or on a needle of its own.
    CrossInstepSecond {
        /// Whether on needle 2.
        needle_two: bool,
    },
    /// Picking up along the other edge.
    PickUpRight {
        /// Whether the corner is picked up too.
        corner: bool,
    },
    /// Closing the round.
    CrossClose {
        /// Whether onto needle 2.
        needle_two: bool,
        /// Stitches on each needle.
        counts: Vec<u16>,
    },
    /// Across heel and gusset onto the sole's needle.
    CrossSole,
    /// Moving stitches as a motif wants it.
    SeatMotif(Direction, Vec<u16>),
    /// Knitting to where the toe is worked.
    ReachSide,
    /// Putting instep and sole on a needle each.
    SeatApart {
        /// What the stitches are on.
        method: Method,
        /// Stitches on each needle.
        counts: Vec<u16>,
    },
    /// Leaving the short circular.
    ChangeNeedles(Vec<u16>),
    /// Back to the short circular.
    ToShortCircular,
    /// Knitting to where the yarn has to hang.
    ReachInstep,
    /// Putting instep and sole on a needle each, for the graft.
    SeatForGraft {
        /// What the stitches are on.
        method: Method,
        /// Stitches on each needle.
        counts: Vec<u16>,
    },
    /// Beginning to graft.
    GraftStart {
        /// The tail it takes.
        tail: Length,
        /// Whether the instep lies in front; else the sole.
        instep_in_front: bool,
    },
    /// A pair of stitches grafted.
    GraftPair,
    /// The last pair.
    GraftEnd,
    /// Drawing the last stitches closed.
    DrawClosed {
        /// The tail it takes.
        tail: Length,
        /// So many stitches.
        stitches: u16,
    },
    /// Threading up for a tubular bind-off, with the tail it takes.
    BindOffBegin(Length),
    /// Sewing a hem's live stitches down, with the tail it takes.
    SewHem {
        /// The tail.
        tail: Length,
        /// So many stitches.
        stitches: u16,
    },
    /// Binding the cuff off.
    BindOff {
        /// How.
        how: BindOff,
        /// The tail a sewn one takes.
        tail: Length,
        /// Whether a hem is sewn down then.
        hem: bool,
        /// Whether any stitch of the edge is a purl one.
        purls: bool,
    },
    /// Fastening the yarn off.
    FastenOff,
}

impl Note {
    /// Whether it asks to lay the sock beside a tape measure or to try it on.
    pub(in crate::text) const fn asks_to_measure(&self) -> bool {
        matches!(
            self,
            Self::TryOn(..)
                | Self::MeasureLeg(..)
                | Self::MeasureGuess { .. }
                | Self::FromTheLateHeel(..)
        )
    }
}
