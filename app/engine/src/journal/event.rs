//! What can happen to a sock on the needles, and what is noted of it.

use super::device::Device;
use super::digest::Digest;
use crate::stitch::Yarn;
use crate::trace::Position;

/// Seconds since 1970, as the phone's clock has it. Only differences are ever used, and a clock
/// that goes back does no harm.
pub type Seconds = u64;

/// Tenths of a gram, as kitchen and letter scales show them.
pub type Decigrams = u32;

/// Longest note that is kept, in characters.
pub const NOTE_LIMIT: usize = 280;

/// Something that happened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Event {
    /// The sock was begun.
    Begin(Seconds),
    /// The round, row or move at hand was done.
    Done(Seconds),
    /// The last thing that changed the place was taken back.
    Undo(Seconds),
    /// The knitter said where they are.
    GoTo(Seconds, Position),
    /// How many needles of the round at this place are worked, in the order in which they are worked. The count
    /// of rounds stays: that the last needle is done is said by [`Event::Done`]. An older Evenloop reads past it.
    Needles(Seconds, Position, u8),
    /// The last [`Event::Needles`] of the round at this place was taken back. No [`Event::Undo`]: an older
    /// Evenloop would take back a round.
    NeedlesTakenBack(Seconds, Position),
    /// The knitter wrote something at a place; it replaces what was written there before, and nothing
    /// takes it away.
    Note(Seconds, Position, String),
    /// The yarn that is left was weighed at a place; it replaces an earlier weighing there, and `None`
    /// takes it away.
    Weighed(Seconds, Position, Option<Decigrams>),
    /// The same for one of several yarns.
    WeighedYarn(Seconds, Position, Yarn, Option<Decigrams>),
    /// From here on both socks are knitted two at a time, or one after the other. Stands in the log of
    /// the first sock.
    Together(Seconds, bool),
    /// From here on the sock is knitted by the plan with this digest, at this place: stands where the sock is
    /// begun, and where a log of an older Evenloop is gone on with. The knitter did nothing.
    Planned(Seconds, Position, Digest),
    /// The knitter had the rest replanned at this place; the digest is the new plan's.
    Replanned(Seconds, Position, Digest),
    /// The last [`Event::Replanned`] was taken back; the digest is that of the plan before it.
    PlanTakenBack(Seconds, Position, Digest),
    /// The log came from a backup, at this place and with the plan of this digest.
    Restored(Seconds, Position, Digest),
    /// Stands first in a chunk: the digest of the chunk before it.
    Chained(Seconds, Digest),
    /// From here on the sock is knitted on this device. A log of an older Evenloop does not say.
    OnDevice(Seconds, Device),
    /// Something that a newer Evenloop wrote: its letter and its fields. It changes nothing here and is
    /// kept as it is.
    Unknown(Seconds, String),
}

impl Event {
    /// When it happened.
    pub const fn at(&self) -> Seconds {
        match self {
            Self::Begin(at)
            | Self::Done(at)
            | Self::Undo(at)
            | Self::GoTo(at, _)
            | Self::Needles(at, ..)
            | Self::NeedlesTakenBack(at, _)
            | Self::Note(at, ..)
            | Self::Weighed(at, ..)
            | Self::WeighedYarn(at, ..)
            | Self::Together(at, _)
            | Self::Planned(at, ..)
            | Self::Replanned(at, ..)
            | Self::PlanTakenBack(at, ..)
            | Self::Restored(at, ..)
            | Self::Chained(at, _)
            | Self::OnDevice(at, _)
            | Self::Unknown(at, _) => *at,
        }
    }

    /// Whether it is noted or weighed at a place, and neither moves the place nor changes the plan.
    pub const fn is_remark(&self) -> bool {
        matches!(
            self,
            Self::Note(..) | Self::Weighed(..) | Self::WeighedYarn(..)
        )
    }

    /// Whether it only says what the log belongs to. It comes with the touch after it and takes no time.
    pub const fn is_bond(&self) -> bool {
        matches!(
            self,
            Self::Planned(..) | Self::Restored(..) | Self::Chained(..) | Self::OnDevice(..)
        )
    }
}

/// A note as it is kept: as it was typed, with its lines and gaps, but for white space round it and what is too
/// long. So a note of nothing else than white space is none.
pub fn tidy_note(text: &str) -> String {
    let text: String = text.trim().chars().take(NOTE_LIMIT).collect();
    text.trim_end().to_owned()
}

/// What the knitter wrote or weighed at a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// Before which move.
    pub place: Position,
    /// What was written; empty when nothing was.
    pub note: String,
    /// What the yarn weighed.
    pub weighed: Option<Decigrams>,
    /// What each of several yarns weighed, in the order of [`Yarn::ALL`].
    pub yarns: [Option<Decigrams>; Yarn::ALL.len()],
}

impl Remark {
    /// Everything weighed: of the one yarn, and of each of several.
    pub fn weights(&self) -> impl Iterator<Item = (Option<Yarn>, Decigrams)> {
        let one = self.weighed.map(|grams| (None, grams));
        let each = Yarn::ALL.into_iter().zip(self.yarns);
        one.into_iter()
            .chain(each.filter_map(|(yarn, grams)| Some((Some(yarn), grams?))))
    }
}

/// A change of place that is not the next round done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Jump {
    /// Where it left.
    pub from: Position,
    /// Where it arrived.
    pub to: Position,
}
