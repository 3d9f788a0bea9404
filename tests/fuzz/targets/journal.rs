//! Any chunk is read or refused; what is read is written the same way and never leaves the plan.
#![no_main]

use std::sync::LazyLock;

use arbitrary::{Arbitrary, Unstructured};
use evenloop_engine::journal::{Event, Journal, read_chunk, write_chunk};
use evenloop_engine::pace::Pace;
use evenloop_engine::plan::{Plan, make};
use evenloop_engine::recipe::Recipe;
use evenloop_engine::trace::{Position, Trace};
use libfuzzer_sys::fuzz_target;

static PLAN: LazyLock<Plan> =
    LazyLock::new(|| make(&Recipe::default()).expect("the default recipe is a sock"));
static TRACE: LazyLock<Trace> = LazyLock::new(|| Trace::of(&PLAN).expect("it can be knitted"));

#[derive(Arbitrary)]
enum Happened {
    Begin(u64),
    Done(u32),
    Undo(u64),
    GoTo(u64, u16, u8),
    Far(u64, usize, usize),
    Note(u64, u16, String),
    Weighed(u64, u16, Option<u32>),
}

impl Happened {
    fn event(self) -> Event {
        match self {
            Self::Begin(at) => Event::Begin(at),
            Self::Done(at) => Event::Done(at.into()),
            Self::Undo(at) => Event::Undo(at),
            Self::GoTo(at, step, mv) => Event::GoTo(
                at,
                Position {
                    step: step.into(),
                    mv: mv.into(),
                },
            ),
            Self::Far(at, step, mv) => Event::GoTo(at, Position { step, mv }),
            Self::Note(at, step, text) => Event::Note(at, first_move(step), text),
            Self::Weighed(at, step, grams) => Event::Weighed(at, first_move(step), grams),
        }
    }
}

fn first_move(step: u16) -> Position {
    Position {
        step: step.into(),
        mv: 0,
    }
}

fuzz_target!(|data: &[u8]| {
    match data {
        // The document, once as it is and once with a checksum that fits.
        [0, raw @ ..] => {
            if let Ok(text) = std::str::from_utf8(raw) {
                look_at(0, text);
                if let Some(body) = text.splitn(4, ' ').nth(3) {
                    for form in 1..=2 {
                        look_at(0, &format!("{form} 0 {:08x} {body}", checksum(0, body)));
                    }
                }
            }
        }
        [number, rest @ ..] => {
            let mut u = Unstructured::new(rest);
            let Ok(happened) = u.arbitrary::<Vec<Happened>>() else {
                return;
            };
            let events: Vec<Event> = happened.into_iter().map(Happened::event).collect();
            let number = u32::from(*number);
            let text = write_chunk(number, &events);
            assert_eq!(read_chunk(number, &text).as_ref(), Ok(&events));
            replay(&events);
        }
        [] => {}
    }
});

fn look_at(number: u32, text: &str) {
    if let Ok(events) = read_chunk(number, text) {
        assert_eq!(write_chunk(number, &events), text);
        replay(&events);
    }
}

fn replay(events: &[Event]) {
    let mut journal = Journal::new();
    for event in events {
        journal.push(event.clone(), &TRACE);
        assert!(TRACE.contains(journal.position()));
    }
    assert_eq!(journal.events(), events);
    let _ = (journal.weighings(), journal.jumps(&TRACE));
    let pace = Pace::of(&[(&PLAN, &TRACE, &journal)]);
    let _ = pace.of_stitches(u32::MAX);
}

/// CRC-32 as a chunk has it, over its number and its events, so that the fuzzer gets past it.
fn checksum(number: u32, body: &str) -> u32 {
    let mut crc = !0_u32;
    for byte in number.to_le_bytes().into_iter().chain(body.bytes()) {
        crc ^= u32::from(byte);
        for _ in 0..8 {
            crc = (crc >> 1) ^ (0xEDB8_8320 & (!(crc & 1)).wrapping_add(1));
        }
    }
    !crc
}
