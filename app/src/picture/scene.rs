//! The picture as plain values: what is drawn where, ready to be compared and drawn.

use evenloop_engine::needles::Origin;
use evenloop_engine::stitch::Marker;
use evenloop_engine::together::Sock;

use super::course::{BAND, FALL};
use crate::fabric::Hook;

/// Where a text is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hold {
    /// By its beginning.
    Start,
    /// By its middle.
    Middle,
    /// By its end.
    End,
}

impl Hold {
    /// What SVG calls it.
    pub(super) const fn anchor(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::Middle => "middle",
            Self::End => "end",
        }
    }
}

/// A text on the field.
#[derive(Debug, Clone, PartialEq)]
pub struct PictureText {
    /// What is written.
    pub words: String,
    /// Where it is held.
    pub x: f32,
    /// The middle of its line.
    pub y: f32,
    /// Degrees it is turned by, clockwise.
    pub turn: f32,
    /// Which part of it lies there.
    pub hold: Hold,
}

/// One group of stitches.
#[derive(Debug, Clone, PartialEq)]
pub struct StitchBand {
    /// Where they belong.
    pub origin: Origin,
    /// Whether they wait while the heel is worked.
    pub rests: bool,
    /// Outline of the fabric.
    pub fabric: String,
    /// One loop over the needle for each stitch.
    pub loops: String,
    /// Its count.
    pub count: PictureText,
    /// Whose they are, of two at a time; the first sock's where there is one.
    pub sock: Sock,
    /// The first of them, counted in the ring order of their sock.
    pub first: usize,
    /// Where they hang: the places between them, one more than there are stitches.
    pub hooks: Vec<Hook>,
}

impl StitchBand {
    /// How far its fabric may hang from the needle. From the needle that is nearest it hangs down below the field:
    /// whoever shows the picture cuts it off where the room ends.
    pub fn room(&self) -> f32 {
        let hangs_down = self.hooks.iter().all(|hook| hook.down.1 > 0.95);
        if hangs_down { BAND + FALL } else { BAND }
    }
}

/// An open edge of the flap.
#[derive(Debug, Clone, PartialEq)]
pub struct Opening {
    /// Outline of what is missing.
    pub outline: String,
    /// How many loops wait along it.
    pub count: Option<PictureText>,
}

/// A marker.
#[derive(Debug, Clone, PartialEq)]
pub struct Bead {
    /// Which one.
    pub marker: Marker,
    /// The line across the fabric.
    pub across: String,
    /// Where the bead hangs.
    pub x: f32,
    /// Where the bead hangs.
    pub y: f32,
}

/// A needle's shaft.
#[derive(Debug, Clone, PartialEq)]
pub struct Shaft {
    /// Its line.
    pub line: String,
    /// Whether it is a stiff needle here, not a cable.
    pub stiff: bool,
    /// Whether its stitches are worked next.
    pub works: bool,
}

impl Shaft {
    /// The class by which it is drawn.
    pub(super) const fn class(&self) -> &'static str {
        match (self.stiff, self.works) {
            (true, true) => "shaft works",
            (true, false) => "shaft",
            (false, _) => "cable",
        }
    }
}

/// The working tip with the yarn.
#[derive(Debug, Clone, PartialEq)]
pub struct Working {
    /// Outline of the needle's tip.
    pub needle: String,
    /// The yarn from the last stitch to the ball.
    pub yarn: String,
    /// The ball.
    pub ball: (f32, f32),
}

/// The total of one needle.
#[derive(Debug, Clone, PartialEq)]
pub struct Total {
    /// Its number from 1, where there is more than one.
    pub number: Option<usize>,
    /// Stitches on it.
    pub stitches: u16,
    /// How it is written.
    pub text: String,
    /// Width of the plate it stands on.
    pub wide: f32,
    /// Where.
    pub x: f32,
    /// Where.
    pub y: f32,
    /// Whether it works next.
    pub works: bool,
}

impl Total {
    /// Where its words are held: a needle's number takes room before them.
    pub(super) fn middle_of_text(&self) -> f32 {
        self.x + if self.number.is_some() { 8.0 } else { 0.0 }
    }
}

/// The whole picture.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Picture {
    /// Cables and hanging ends.
    pub cables: Vec<String>,
    /// Needles.
    pub shafts: Vec<Shaft>,
    /// Groups of stitches, in ring order.
    pub bands: Vec<StitchBand>,
    /// Open edges.
    pub openings: Vec<Opening>,
    /// Gaps of turned rows.
    pub gaps: Vec<String>,
    /// Markers.
    pub beads: Vec<Bead>,
    /// What groups, edges and markers are called.
    pub names: Vec<PictureText>,
    /// One total for each needle.
    pub totals: Vec<Total>,
    /// The working tip.
    pub working: Option<Working>,
    /// The yarn of the sock that waits beside the one that is worked; no needle.
    pub waiting: Option<Working>,
    /// Whether the wrong side faces.
    pub wrong_side: bool,
    /// What is said instead where nothing is on the needles.
    pub empty: Option<String>,
    /// Whether its loops are still to be brought onto the needles.
    pub to_come: bool,
    /// Where the round begins, while the tip is elsewhere.
    pub start: Option<String>,
}
