//! What words may be abbreviated, for the key that explains it.

use crate::stitch::{Cross, Decrease, Increase, Lean};

/// Something that words stand for in few letters or signs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Abbreviation {
    /// Knit.
    Knit,
    /// Purl.
    Purl,
    /// Slip.
    Slip,
    /// As if to knit.
    Knitwise,
    /// As if to purl.
    Purlwise,
    /// Through the back loop.
    ThroughBackLoop,
    /// With the yarn in front.
    YarnInFront,
    /// With the yarn in back.
    YarnInBack,
    /// Yarn over.
    YarnOver,
    /// Knit two together.
    K2tog,
    /// Slip, slip, knit.
    Ssk,
    /// Purl two together.
    P2tog,
    /// A decrease of a written pattern.
    Decrease(Decrease),
    /// An increase of a written pattern.
    Increase(Increase),
    /// Make one that leans so in the fabric.
    Make(Lean),
    /// A cable cross.
    Cross(Cross),
    /// The double stitch of a German short row.
    Double,
    /// Wrap and turn.
    WrapAndTurn,
    /// A marker.
    Marker,
    /// Place a marker.
    PlaceMarker,
    /// Slip the marker.
    SlipMarker,
    /// Cast on.
    CastOn,
    /// Bind off.
    BindOff,
    /// A crocheted chain.
    Chain,
    /// One stitch.
    Stitch,
    /// Several of them.
    Stitches,
    /// A round.
    Round,
    /// What is repeated stands between stars.
    Repeat,
}
