//! Writes real documents as the fuzzer's first inputs, into `corpus` beside this crate.

use std::fs;
use std::io::Result;
use std::path::Path;

use evenloop_engine::journal::{CHUNK_EVENTS, Event, write_chunk};
use evenloop_engine::trace::Position;
use evenloop_fuzz::{PLANS, RECIPES};

/// The first byte says how the rest is meant: 0 is the document itself.
fn write(target: &str, name: &str, text: &str) -> Result<()> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("corpus")
        .join(target);
    fs::create_dir_all(&folder)?;
    let mut bytes = vec![0];
    bytes.extend(text.as_bytes());
    fs::write(folder.join(name), bytes)
}

fn main() -> Result<()> {
    for (name, text) in RECIPES.iter() {
        write("recipe", name, text)?;
    }
    for (name, text) in PLANS.iter() {
        write("plan", name, text)?;
        let ops = text
            .split("\"ops\":\"")
            .skip(1)
            .filter_map(|t| t.split('"').next());
        let ops: Vec<&str> = ops.collect();
        for (i, some) in ops.chunks(12).enumerate() {
            write("ops", &format!("{name}-{i}"), &some.join(" "))?;
        }
    }
    let mut events = vec![Event::Begin(1_790_000_000)];
    for i in 0..CHUNK_EVENTS as u64 - 1 {
        let at = 1_790_000_000 + 37 * i;
        events.push(match i % 9 {
            4 => Event::Undo(at - 60),
            6 => Event::Note(at, Position::default(), "a little looser".to_owned()),
            7 => Event::Weighed(at, Position::default(), Some(431)),
            8 => Event::GoTo(
                at,
                Position {
                    step: 3 * i as usize,
                    mv: 0,
                },
            ),
            _ => Event::Done(at),
        });
    }
    for (i, n) in [0, 1, 2, 9, 30, CHUNK_EVENTS].into_iter().enumerate() {
        write("journal", &i.to_string(), &write_chunk(0, &events[..n]))?;
    }
    let lengths = [
        "24",
        "24.5 cm",
        "24,5",
        "245 mm",
        "9 1/2 in",
        "9½\"",
        "¾",
        "1/64 inch",
        ".5",
    ];
    for (i, text) in lengths.into_iter().enumerate() {
        write("length", &i.to_string(), text)?;
    }
    let corpus = include_str!("../../../app/engine/tests/pattern/corpus.txt");
    let socks = include_str!("../../../app/engine/tests/pattern/socks.txt");
    for (file, all) in [("corpus", corpus), ("socks", socks)] {
        for (i, text) in all.split("\n# ").enumerate() {
            let text = text.split_once('\n').map_or("", |(_, text)| text);
            write("pattern", &format!("{file}-{i}"), &text.replace(" !!", ""))?;
        }
    }
    Ok(())
}
