//! Everything that a note can say.

use crate::recipe::{BindOff, CastOn, Direction, FlapTexture, LeftRight, Method, ToeCastOn};
use crate::stitch::Yarn;
use crate::units::Length;

/// A note with its arguments. `counts` are the stitches on each needle when the move is done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Note {
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
    },
    /// The cast-on at the cuff, and the tail it takes.
    CastOn(CastOn, Length),
    /// The beginning of a closed cast-on, and the tail it takes.
    CastOnClosedBegin(ToeCastOn, Length),
    /// The loops of a closed cast-on.
    CastOnClosed(ToeCastOn),
    /// Turning both needles round after a closed cast-on.
    CastOnClosedTurn(ToeCastOn),
    /// Leaving the needle that waits to its cable.
    CastOnClosedPart {
        /// What the stitches are on.
        method: Method,
        /// How the work is turned for it; `None` where it waits for short rows.
        then: Option<ToeCastOn>,
    },
    /// The first round over a closed cast-on.
    FirstRound(ToeCastOn),
    /// A yarn over lies at a needle's end, where it may slide off.
    YarnOverAtEnd,
    /// Stitches that are mounted the other way are knitted for the first time.
    MountedTheOtherWay,
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
    ShapedLeg,
    /// The heel flap of so many stitches.
    Flap(Direction, FlapTexture, u16),
    /// A heel turned until so many stitches are left.
    TurnDown(u16),
    /// A heel turned in short rows over so many stitches.
    TurnUp(u16),
    /// A short-row heel over so many stitches.
    ShortRowHeel(u16),
    /// A gusset that narrows until so many stitches are left.
    GussetDown(u16),
    /// A gusset that widens until there are so many stitches.
    GussetUp(u16),
    /// A short-row toe over so many stitches.
    ShortRowToe(Direction, u16),
    /// A toe for one foot of a pair.
    ShapedToe(Direction, LeftRight),
    /// A toe that widens until there are so many stitches.
    ToeUp(u16),
    /// A toe that narrows until each half has so many stitches.
    WedgeToe(u16),
    /// A toe that narrows all round until so many stitches are left.
    RoundToe(u16),
    /// An afterthought heel begins.
    AfterthoughtHeel,
    /// Knitting to where the heel is worked.
    ReachHeel,
    /// Putting the heel on a needle of its own.
    SeatHeel(Method, Vec<u16>),
    /// The heel on one short circular, by its markers.
    SeatHeelByMarkers {
        /// Whether the round's marker is hung anew.
        placed: bool,
        /// Whether others are taken off.
        others_off: bool,
        /// After how many stitches another one is hung.
        far_end: Option<u16>,
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
    OpenWaste(u16),
    /// The first half of the turned heel.
    CrossFirstHalf,
    /// The round begins in the middle of the heel.
    CrossBegin(Method),
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
        /// Whether markers are taken off.
        markers_off: bool,
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
        /// Whether markers are taken off.
        markers_off: bool,
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
    /// Binding the cuff off.
    BindOff {
        /// How.
        how: BindOff,
        /// The tail a sewn one takes.
        tail: Length,
        /// Whether a hem is sewn down then.
        hem: bool,
    },
    /// Fastening the yarn off.
    FastenOff,
}
