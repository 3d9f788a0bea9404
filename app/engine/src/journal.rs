//! What has been knitted: an append-only log of events, and its replay to a place in the plan.
//!
//! Nothing is ever taken out of the log: undoing is an event too. Time enters as an argument.
//! Stored in chunks of at most [`CHUNK_EVENTS`] events, each one line of text with its own
//! checksum, so that a touch rewrites one small chunk and damage stays where it is.

use std::fmt;

use crate::trace::{Position, Trace};

/// Seconds since 1970, as the phone's clock has it. Only differences are ever used, and a clock
/// that goes back does no harm.
pub type Seconds = u64;

/// Something that happened.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Event {
    /// The sock was begun.
    Begin(Seconds),
    /// The round, row or move at hand was done.
    Done(Seconds),
    /// The last thing that changed the place was taken back.
    Undo(Seconds),
    /// The knitter said where they are.
    GoTo(Seconds, Position),
}

impl Event {
    /// When it happened.
    pub const fn at(self) -> Seconds {
        match self {
            Self::Begin(at) | Self::Done(at) | Self::Undo(at) | Self::GoTo(at, _) => at,
        }
    }
}

/// The log of one sock, with its replay kept at hand so that a touch costs the same however long
/// the log is.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Journal {
    events: Vec<Event>,
    /// Every place so far that was not undone, oldest first; the last one is now.
    places: Vec<Position>,
}

impl Journal {
    /// An empty log: nothing knitted.
    pub const fn new() -> Self {
        Self {
            events: Vec::new(),
            places: Vec::new(),
        }
    }

    /// Replays a log on a plan.
    pub fn replay(events: &[Event], trace: &Trace) -> Self {
        let mut journal = Self::new();
        for event in events {
            journal.push(*event, trace);
        }
        journal
    }

    /// Adds an event. One that cannot be (done past the end, a place that is not in the plan,
    /// nothing to undo) is kept in the log and changes nothing else.
    pub fn push(&mut self, event: Event, trace: &Trace) {
        self.events.push(event);
        let here = self.position();
        match event {
            Event::Done(_) if here < trace.end() => self.places.push(trace.advance(here)),
            Event::GoTo(_, to) if to != here && trace.contains(to) => self.places.push(to),
            Event::Begin(_) | Event::Done(_) | Event::GoTo(..) => {}
            Event::Undo(_) => {
                self.places.pop();
            }
        }
    }

    /// The move to be done next.
    pub fn position(&self) -> Position {
        self.places.last().copied().unwrap_or_default()
    }

    /// Whether there is anything to undo.
    pub fn can_undo(&self) -> bool {
        !self.places.is_empty()
    }

    /// Whether anything was ever written.
    pub fn is_empty(&self) -> bool {
        self.events.is_empty()
    }

    /// Everything that happened, oldest first.
    pub fn events(&self) -> &[Event] {
        &self.events
    }
}

/// Most events in a chunk.
pub const CHUNK_EVENTS: usize = 64;

/// Why a chunk cannot be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChunkError {
    /// Not a chunk, or its checksum does not fit.
    Damaged,
    /// A chunk, but not the one that belongs here.
    WrongPlace,
    /// Written by a newer Evenloop.
    Newer,
}

impl fmt::Display for ChunkError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Damaged => "this part of the log is damaged",
            Self::WrongPlace => "this part of the log belongs elsewhere",
            Self::Newer => "this part of the log was written by a newer Evenloop",
        })
    }
}

impl std::error::Error for ChunkError {}

/// Writes events as chunk number `index`: `1 index checksum events`.
pub fn write_chunk(index: u32, events: &[Event]) -> String {
    let body = write_events(events);
    format!("1 {index} {:08x} {body}", checksum(index, &body))
}

/// Reads chunk number `index`.
///
/// # Errors
/// See [`ChunkError`].
pub fn read_chunk(index: u32, text: &str) -> Result<Vec<Event>, ChunkError> {
    let mut parts = text.splitn(4, ' ');
    let mut part = || parts.next().ok_or(ChunkError::Damaged);
    let version: u32 = part()?.parse().map_err(|_| ChunkError::Damaged)?;
    let (number, sum, body) = (part()?, part()?, part()?);
    let sum_given = u32::from_str_radix(sum, 16).map_err(|_| ChunkError::Damaged)?;
    let number: u32 = number.parse().map_err(|_| ChunkError::Damaged)?;
    // The checksum covers the number as well; the version is looked at once the rest is whole.
    if checksum(number, body) != sum_given || sum.len() != 8 {
        return Err(ChunkError::Damaged);
    }
    match version {
        1 => {}
        0 => return Err(ChunkError::Damaged),
        _ => return Err(ChunkError::Newer),
    }
    if number != index {
        return Err(ChunkError::WrongPlace);
    }
    let events = read_events(body).ok_or(ChunkError::Damaged)?;
    // One way of writing only: what reads differently than it would be written was tampered with.
    if write_chunk(index, &events) == text {
        Ok(events)
    } else {
        Err(ChunkError::Damaged)
    }
}

/// Events as text: a letter, the seconds since the event before (base 36, `-` when the clock went
/// back), and for a place its step and move.
fn write_events(events: &[Event]) -> String {
    let mut out = String::with_capacity(events.len() * 6);
    let mut before: Seconds = 0;
    for event in events {
        if !out.is_empty() {
            out.push(',');
        }
        let letter = match event {
            Event::Begin(_) => 'b',
            Event::Done(_) => 'd',
            Event::Undo(_) => 'u',
            Event::GoTo(..) => 'g',
        };
        out.push(letter);
        let at = event.at();
        if at < before {
            out.push('-');
        }
        push_base36(&mut out, at.abs_diff(before));
        before = at;
        if let Event::GoTo(_, to) = event {
            out.push(':');
            out.push_str(&to.step.to_string());
            out.push(':');
            out.push_str(&to.mv.to_string());
        }
    }
    out
}

fn read_events(body: &str) -> Option<Vec<Event>> {
    if body.is_empty() {
        return Some(Vec::new());
    }
    let mut before: Seconds = 0;
    let mut events = Vec::new();
    for text in body.split(',') {
        let mut parts = text.splitn(3, ':');
        let head = parts.next()?;
        let (letter, number) = (head.chars().next()?, head.get(1..)?);
        let at = match number.strip_prefix('-') {
            Some(back) => before.checked_sub(u64::from_str_radix(back, 36).ok()?)?,
            None => before.checked_add(u64::from_str_radix(number, 36).ok()?)?,
        };
        before = at;
        events.push(match (letter, parts.next(), parts.next()) {
            ('b', None, None) => Event::Begin(at),
            ('d', None, None) => Event::Done(at),
            ('u', None, None) => Event::Undo(at),
            ('g', Some(step), Some(mv)) => Event::GoTo(
                at,
                Position {
                    step: step.parse().ok()?,
                    mv: mv.parse().ok()?,
                },
            ),
            _ => return None,
        });
    }
    Some(events)
}

fn push_base36(out: &mut String, mut n: u64) {
    let mut digits = [0_u8; 13];
    let mut len = 0;
    loop {
        digits[len] = b"0123456789abcdefghijklmnopqrstuvwxyz"[usize::try_from(n % 36).unwrap_or(0)];
        len += 1;
        n /= 36;
        if n == 0 {
            break;
        }
    }
    out.extend(digits[..len].iter().rev().map(|d| char::from(*d)));
}

/// CRC-32 (IEEE 802.3, reflected), over the chunk's number and its events. Bit by bit: chunks are a
/// few hundred bytes, and a table would cost more to ship than it saves.
fn checksum(index: u32, body: &str) -> u32 {
    let mut crc = !0_u32;
    for byte in index.to_le_bytes().into_iter().chain(body.bytes()) {
        crc ^= u32::from(byte);
        for _ in 0..8 {
            crc = (crc >> 1) ^ (0xEDB8_8320 & (!(crc & 1)).wrapping_add(1));
        }
    }
    !crc
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_checksum_is_crc_32() {
        // IEEE 802.3 check value for "123456789" is CBF43926; here four bytes go before it.
        let mut crc = !0_u32;
        for byte in b"123456789" {
            crc ^= u32::from(*byte);
            for _ in 0..8 {
                crc = (crc >> 1) ^ (0xEDB8_8320 & (!(crc & 1)).wrapping_add(1));
            }
        }
        assert_eq!(!crc, 0xCBF4_3926);
        assert_eq!(checksum(u32::from_le_bytes(*b"1234"), "56789"), 0xCBF4_3926);
    }

    #[test]
    fn a_chunk_reads_back_and_notices_every_changed_byte() {
        let events = [
            Event::Begin(1_790_000_000),
            Event::Done(1_790_000_300),
            Event::Done(1_790_000_200),
            Event::Undo(1_790_000_201),
            Event::GoTo(1_790_000_900, Position { step: 140, mv: 3 }),
        ];
        let text = write_chunk(7, &events);
        assert_eq!(read_chunk(7, &text), Ok(events.to_vec()));
        assert_eq!(read_chunk(6, &text), Err(ChunkError::WrongPlace));
        for i in 0..text.len() {
            for bit in 0..7 {
                let mut bytes = text.clone().into_bytes();
                bytes[i] ^= 1 << bit;
                if let Ok(changed) = String::from_utf8(bytes) {
                    assert!(
                        read_chunk(7, &changed).is_err(),
                        "byte {i} bit {bit}: {changed}"
                    );
                }
            }
        }
    }
}
