//! The log as it is stored: in chunks of at most [`CHUNK_EVENTS`] events, each one line of text with
//! its own checksum, so that a touch rewrites one small chunk and damage stays where it is.
//!
//! Form 1 knows `b d u g`. Form 2 adds `n` (a note), `w` (a weighing), `y` (one of several yarns
//! weighed), `t` (two at a time, or not), what binds a log together (`p` its plan, `r` replanned, `q` that
//! taken back, `s` brought back from a backup, `h` the chunk before), `v` (the device), `m` (needles of a round
//! worked), `l` (that taken back) and a rule for whatever comes
//! later: an event of another letter is kept as it is and changes nothing, so that a log goes on to be
//! read by an older Evenloop. What an older one must not pass over raises the form instead. A chunk is
//! written in the lowest form that can say it.

use std::fmt;

use super::device::{Device, DeviceId};
use super::digest::Digest;
use super::event::{Event, Seconds};
use crate::stitch::Yarn;
use crate::trace::Position;

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

/// The newest form that this engine reads.
const NEWEST: u32 = 2;

/// Writes events as chunk number `index`: `form index checksum events`.
pub fn write_chunk(index: u32, events: &[Event]) -> String {
    let body = write_events(events);
    let form = form(events);
    format!("{form} {index} {:08x} {body}", checksum(index, &body))
}

/// The lowest form that can say these events.
fn form(events: &[Event]) -> u32 {
    let later = |event: &Event| {
        matches!(
            event,
            Event::Needles(..)
                | Event::NeedlesTakenBack(..)
                | Event::Note(..)
                | Event::Weighed(..)
                | Event::WeighedYarn(..)
                | Event::Together(..)
                | Event::Planned(..)
                | Event::Replanned(..)
                | Event::PlanTakenBack(..)
                | Event::Restored(..)
                | Event::Chained(..)
                | Event::OnDevice(..)
                | Event::Unknown(..)
        )
    };
    if events.iter().any(later) { 2 } else { 1 }
}

/// Whether a newer Evenloop had a hand in these events.
fn strange(events: &[Event]) -> bool {
    events
        .iter()
        .any(|event| matches!(event, Event::Unknown(..)))
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
        0 => return Err(ChunkError::Damaged),
        1..=NEWEST => {}
        // The checksum does not cover the form. One that nothing in the chunk needs was never written.
        _ if read_events(body).is_some_and(|events| !strange(&events)) => {
            return Err(ChunkError::Damaged);
        }
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
/// back), and for a place its step and move, then what was written or weighed there.
fn write_events(events: &[Event]) -> String {
    let mut out = String::with_capacity(events.len() * 6);
    let mut before: Seconds = 0;
    for event in events {
        if !out.is_empty() {
            out.push(',');
        }
        let (letter, fields) = parts(event);
        out.push(letter);
        let at = event.at();
        if at < before {
            out.push('-');
        }
        push_base36(&mut out, at.abs_diff(before));
        before = at;
        out.push_str(&fields);
    }
    out
}

/// An event's letter, and its fields with a colon before each.
fn parts(event: &Event) -> (char, String) {
    let place = |at: &Position| format!(":{}:{}", at.step, at.mv);
    match event {
        Event::Begin(_) => ('b', String::new()),
        Event::Done(_) => ('d', String::new()),
        Event::Undo(_) => ('u', String::new()),
        Event::GoTo(_, to) => ('g', place(to)),
        Event::Needles(_, at, worked) => ('m', format!("{}:{worked}", place(at))),
        Event::NeedlesTakenBack(_, at) => ('l', place(at)),
        Event::Note(_, at, text) => ('n', format!("{}:{}", place(at), escaped(text))),
        Event::Weighed(_, at, grams) => {
            let grams = grams.map(|grams| grams.to_string()).unwrap_or_default();
            ('w', format!("{}:{grams}", place(at)))
        }
        Event::WeighedYarn(_, at, yarn, grams) => {
            let grams = grams.map(|grams| grams.to_string()).unwrap_or_default();
            ('y', format!("{}:{}{grams}", place(at), yarn.letter()))
        }
        Event::Together(_, together) => ('t', format!(":{}", u8::from(*together))),
        Event::Planned(_, at, plan) => ('p', format!("{}:{plan}", place(at))),
        Event::Replanned(_, at, plan) => ('r', format!("{}:{plan}", place(at))),
        Event::PlanTakenBack(_, at, plan) => ('q', format!("{}:{plan}", place(at))),
        Event::Restored(_, at, plan) => ('s', format!("{}:{plan}", place(at))),
        Event::Chained(_, before) => ('h', format!(":{before}")),
        Event::OnDevice(_, device) => ('v', format!(":{}:{}", device.id, escaped(&device.name))),
        Event::Unknown(_, raw) => {
            let mut letters = raw.chars();
            (letters.next().unwrap_or('?'), letters.collect())
        }
    }
}

fn read_events(body: &str) -> Option<Vec<Event>> {
    if body.is_empty() {
        return Some(Vec::new());
    }
    let mut before: Seconds = 0;
    let mut events = Vec::new();
    for text in body.split(',') {
        let (head, fields) = text.split_at(text.find(':').unwrap_or(text.len()));
        let letter = head.chars().next().filter(char::is_ascii_lowercase)?;
        let number = head.get(1..)?;
        let at = match number.strip_prefix('-') {
            Some(back) => before.checked_sub(u64::from_str_radix(back, 36).ok()?)?,
            None => before.checked_add(u64::from_str_radix(number, 36).ok()?)?,
        };
        before = at;
        events.push(read_event(letter, at, fields)?);
    }
    Some(events)
}

/// Reads one event; `fields` has a colon before each.
fn read_event(letter: char, at: Seconds, fields: &str) -> Option<Event> {
    let parts: Vec<&str> = fields.splitn(4, ':').skip(1).collect();
    let place = |step: &str, mv: &str| {
        Some(Position {
            step: step.parse().ok()?,
            mv: mv.parse().ok()?,
        })
    };
    Some(match (letter, parts.as_slice()) {
        ('b', []) => Event::Begin(at),
        ('d', []) => Event::Done(at),
        ('u', []) => Event::Undo(at),
        ('g', [step, mv]) => Event::GoTo(at, place(step, mv)?),
        ('m', [step, mv, worked]) => Event::Needles(at, place(step, mv)?, worked.parse().ok()?),
        ('l', [step, mv]) => Event::NeedlesTakenBack(at, place(step, mv)?),
        ('n', [step, mv, text]) => Event::Note(at, place(step, mv)?, unescaped(text)?),
        ('w', [step, mv, ""]) => Event::Weighed(at, place(step, mv)?, None),
        ('w', [step, mv, grams]) => Event::Weighed(at, place(step, mv)?, Some(grams.parse().ok()?)),
        ('y', [step, mv, weighed]) => {
            let (letter, grams) = weighed.split_at_checked(1)?;
            let yarn = Yarn::ALL
                .into_iter()
                .find(|y| letter.starts_with(y.letter()))?;
            let grams = match grams {
                "" => None,
                grams => Some(grams.parse().ok()?),
            };
            Event::WeighedYarn(at, place(step, mv)?, yarn, grams)
        }
        ('t', ["0"]) => Event::Together(at, false),
        ('t', ["1"]) => Event::Together(at, true),
        ('p', [step, mv, plan]) => Event::Planned(at, place(step, mv)?, Digest::read(plan)?),
        ('r', [step, mv, plan]) => Event::Replanned(at, place(step, mv)?, Digest::read(plan)?),
        ('q', [step, mv, plan]) => Event::PlanTakenBack(at, place(step, mv)?, Digest::read(plan)?),
        ('s', [step, mv, plan]) => Event::Restored(at, place(step, mv)?, Digest::read(plan)?),
        ('h', [before]) => Event::Chained(at, Digest::read(before)?),
        ('v', [id, name @ ..]) if !name.is_empty() => {
            let (id, name) = (DeviceId::read(id)?, unescaped(&name.join(":"))?);
            Event::OnDevice(at, Device { id, name })
        }
        (
            'b' | 'd' | 'u' | 'g' | 'm' | 'l' | 'n' | 'w' | 't' | 'y' | 'p' | 'r' | 'q' | 's' | 'h'
            | 'v',
            _,
        ) => {
            return None;
        }
        _ => Event::Unknown(at, format!("{letter}{fields}")),
    })
}

/// A text without the comma that parts events and without anything that does not print.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match u8::try_from(letter) {
            Ok(byte) if byte == b',' || byte == b'%' || byte.is_ascii_control() => {
                out.push('%');
                for half in [byte >> 4, byte & 15] {
                    out.push(char::from(b"0123456789abcdef"[usize::from(half)]));
                }
            }
            _ => out.push(letter),
        }
    }
    out
}

fn unescaped(text: &str) -> Option<String> {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('%') {
        out.push_str(before);
        out.push(char::from(u8::from_str_radix(after.get(..2)?, 16).ok()?));
        rest = after.get(2..)?;
    }
    out.push_str(rest);
    Some(out)
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

    const AT: Position = Position { step: 7, mv: 2 };

    #[test]
    fn what_the_first_form_can_say_is_written_in_it() {
        let events = [
            Event::Begin(1_000),
            Event::Done(1_036),
            Event::GoTo(1_040, AT),
        ];
        let text = "1 0 ";
        assert!(write_chunk(0, &events).starts_with(text));
        let old = format!("1 0 {:08x} brs,d10,g4:7:2", checksum(0, "brs,d10,g4:7:2"));
        assert_eq!(read_chunk(0, &old), Ok(events.to_vec()));
        assert_eq!(write_chunk(0, &events), old);
    }

    #[test]
    fn notes_hold_any_text() {
        for text in ["", "a, b: 100 % – ßΩ: c:", "line\nbreak\u{7f}", "%2c,,%%"] {
            let events = [
                Event::Note(5, AT, text.to_owned()),
                Event::Weighed(6, AT, Some(1_234)),
                Event::Weighed(7, AT, None),
                Event::Together(8, true),
                Event::Together(9, false),
                Event::WeighedYarn(10, AT, Yarn::C, Some(412)),
                Event::WeighedYarn(11, AT, Yarn::D, None),
                Event::Planned(12, AT, Digest::of("a")),
                Event::Replanned(13, AT, Digest::of("b")),
                Event::PlanTakenBack(14, AT, Digest::of("a")),
                Event::Restored(15, AT, Digest::of("a")),
                Event::Chained(16, Digest::of("c")),
                Event::OnDevice(
                    17,
                    Device {
                        id: DeviceId::new(0xE0),
                        name: text.to_owned(),
                    },
                ),
                Event::Needles(18, AT, 1),
                Event::NeedlesTakenBack(19, AT),
            ];
            let chunk = write_chunk(3, &events);
            assert!(
                chunk.starts_with("2 3 ") && !chunk.contains('\n'),
                "{chunk}"
            );
            assert_eq!(read_chunk(3, &chunk), Ok(events.to_vec()));
        }
    }

    #[test]
    fn what_a_newer_evenloop_wrote_is_kept_as_it_is() {
        let body = "brs,x2:7:some thing:else,d1";
        let text = format!("2 0 {:08x} {body}", checksum(0, body));
        let events = read_chunk(0, &text).expect("it can be read");
        assert_eq!(
            events[1],
            Event::Unknown(1_002, "x:7:some thing:else".to_owned())
        );
        assert_eq!(events[2], Event::Done(1_003));
        assert_eq!(write_chunk(0, &events), text);
        // the first form had no such rule, and a third one is not ours to guess at
        let first = text.replacen('2', "1", 1);
        assert_eq!(read_chunk(0, &first), Err(ChunkError::Damaged));
        let third = text.replacen('2', "3", 1);
        assert_eq!(read_chunk(0, &third), Err(ChunkError::Newer));
        let odd = format!("2 0 {:08x} n1:7", checksum(0, "n1:7"));
        assert_eq!(read_chunk(0, &odd), Err(ChunkError::Damaged));
    }

    #[test]
    fn a_chunk_reads_back_and_notices_every_changed_byte() {
        let events = [
            Event::Begin(1_790_000_000),
            Event::Done(1_790_000_300),
            Event::Done(1_790_000_200),
            Event::Undo(1_790_000_201),
            Event::GoTo(1_790_000_900, Position { step: 140, mv: 3 }),
            Event::Note(1_790_000_901, AT, "snug, 2 % more".to_owned()),
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
