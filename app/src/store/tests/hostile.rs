//! Files that are no honest backups: real ones with anything wrong in them, and made-up ones. Each is
//! refused with a reason or read rightly; nothing that was here is changed but by going on with it.
//!
//! `EVENLOOP_FILES` says how many are tried.

use std::collections::BTreeMap;

use evenloop_engine::journal::{Event, Journal, write_chunk};
use evenloop_engine::merge::{Acts, LogsCompared, Remarks, compare};
use evenloop_engine::needles::Needles;
use evenloop_engine::pace::Pace;
use evenloop_engine::trace::Position;
use serde_json::{Value, json};

use super::chance::{Chance, times};
use super::{
    Choices, Trying, copy, doc, everything, file, id, keys, longer, own_plan_unsaid, touches,
};
use crate::store::pair::{OpenPair, PairId};
use crate::store::shelf::Shelf;

/// What is on the phone.
fn here() -> Trying {
    let shelf = Trying::default();
    for (name, touched) in [("a1", 100), ("b2", 70)] {
        shelf
            .store()
            .create_as(&id(name), name, doc(), 5)
            .expect("room");
        shelf
            .store()
            .replace_log(&id(name), 1, &touches(touched))
            .expect("room");
    }
    shelf.put("evenloop:aside:1:x", "raw").expect("room");
    shelf
}

/// A real backup of a phone that went on, with a pair that is not here and a sock planned anew.
fn real() -> String {
    let shelf = here();
    shelf
        .store()
        .replace_log(&id("a1"), 1, &touches(150))
        .expect("room");
    shelf
        .store()
        .create_as(&id("c3"), "c3", doc(), 5)
        .expect("room");
    shelf
        .store()
        .replace_log(&id("c3"), 2, &touches(80))
        .expect("room");
    own_plan_unsaid(&shelf, &id("c3"), 1, &longer());
    shelf
        .store()
        .save_settings(&crate::store::Settings::default())
        .expect("room");
    shelf.store().set_current(&id("c3")).expect("room");
    file(&shelf)
}

/// A log that no knitter made: every number as large as it can be.
fn monstrous(chance: &mut Chance) -> Vec<Event> {
    let large = [0, 1, u64::from(u32::MAX), 1 << 53, u64::MAX - 1, u64::MAX];
    let steps = [0, 1, 150, 100_000, usize::MAX];
    (0..chance.below(64))
        .map(|_| {
            let at = *chance.of(&large);
            let place = Position {
                step: *chance.of(&steps),
                mv: *chance.of(&steps),
            };
            match chance.below(7) {
                0 => Event::Begin(at),
                1 => Event::Undo(at),
                2 => Event::GoTo(at, place),
                3 => Event::Note(at, place, "\u{202e}<b>,%".repeat(chance.below(90))),
                4 => Event::Weighed(at, place, Some(u32::MAX)),
                5 => Event::Unknown(at, "y:1".into()),
                _ => Event::Done(at),
            }
        })
        .collect()
}

/// One thing wrong in what a backup says, but not in how it is written.
fn worsen_inside(chance: &mut Chance, text: &str) -> String {
    let mut file: Value = serde_json::from_str(text).expect("a backup");
    let Some(entries) = file["entries"].as_object_mut() else {
        return text.to_owned();
    };
    let keys: Vec<String> = entries.keys().cloned().collect();
    let key = chance.of(&keys).clone();
    let other = chance.of(&keys).clone();
    let held = entries[&key].as_str().unwrap_or_default().to_owned();
    match chance.below(12) {
        0 => drop(entries.remove(&key)),
        1 => {
            let moved = entries.remove(&key).unwrap_or_default();
            entries.insert(chance.worsen(&key), moved);
        }
        2 => drop(entries.insert(key, entries[&other].clone())),
        3 | 4 => drop(entries.insert(key, chance.worsen(&held).into())),
        5 => {
            let index = u32::try_from(chance.below(4)).unwrap_or(0);
            let sock = u8::try_from(1 + chance.below(2)).unwrap_or(1);
            let chunk = write_chunk(index, &monstrous(chance));
            let names = ["a1", "c3", "z9"];
            let name = *chance.of(&names);
            entries.insert(keys::chunk(&id(name), sock, index), chunk.into());
        }
        6 => {
            // Heads and settings full of numbers that are too large.
            let digit = char::from(b'1' + u8::try_from(chance.below(9)).unwrap_or(0));
            let worse = held.replace(digit, "99999999999999999999");
            entries.insert(key, worse.into());
        }
        7 => {
            let names = ["a1", "b2", "c3"];
            let name = *chance.of(&names);
            let place = json!({ "sock": chance.below(4), "done": u32::MAX, "total": chance.below(2),
                "section": "\u{0}nowhere", "finished": chance.below(2) == 0 });
            let strange = json!({ "version": chance.below(3), "name": "\u{202e}".repeat(400),
                "created": u64::MAX, "place": place });
            entries.insert(keys::head(&id(name)), strange.to_string().into());
        }
        8 => drop(entries.insert(key, json!([held]))),
        9 => {
            let strange = [
                "",
                "__proto__",
                "length",
                "evenloop:aside:x",
                "evenloop:pair:::",
                "evenloop:number",
            ];
            entries.insert((*chance.of(&strange)).to_owned(), held.into());
        }
        10 => {
            for field in ["version", "made", "evenloop"] {
                if chance.below(3) == 0 {
                    let strange = [
                        json!(0),
                        json!(2),
                        json!(-1),
                        json!("backup"),
                        json!(1e300),
                        Value::Null,
                    ];
                    file[field] = chance.of(&strange).clone();
                }
            }
        }
        _ => drop(entries.insert(key, "[".repeat(20_000).into())),
    }
    file.to_string()
}

/// What screens work out of an open pair.
fn look_at(pair: &OpenPair) {
    let [first, second] = &pair.patterns;
    let progress = pair.progress();
    assert!(progress.done <= progress.total);
    let logs = [
        (&first.plan, &first.trace, &pair.journals[0]),
        (&second.plan, &second.trace, &pair.journals[1]),
    ];
    let _ = Pace::of(&logs).of_stitches(u32::MAX);
    for (_, trace, journal) in logs {
        let _: Option<Vec<u16>> = trace
            .needles_at(journal.position())
            .map(Needles::per_needle);
        assert!(trace.contains(journal.position()) || journal.position() == trace.end());
        let _ = (journal.weighings(), journal.remarks());
    }
}

/// Plan and logs of a pair, to see whether it was gone on with.
fn told(shelf: &Trying, id: &PairId) -> Option<(String, [Journal; 2])> {
    let plan = shelf.get(&keys::plan(id)).expect("a shelf")?;
    let pair = shelf.store().open(id).ok()?;
    Some((plan, pair.journals))
}

#[test]
fn a_hostile_backup_is_refused_or_read_rightly_and_changes_nothing_that_was_here() {
    let (here, real) = (here(), real());
    // Looking at a pair notes in its head how far it is.
    let pairs_before = ["a1", "b2"].map(|name| told(&here, &id(name)).expect("a pair"));
    let mut chance = Chance(9);
    let (mut refused, mut added, mut continued, mut unreadable) = (0, 0, 0, 0);
    let files = times("EVENLOOP_FILES", 300);
    for n in 0..files {
        let mut text = real.clone();
        for _ in 0..=chance.below(3) {
            text = if chance.below(4) == 0 || serde_json::from_str::<Value>(&text).is_err() {
                chance.worsen(&text)
            } else {
                worsen_inside(&mut chance, &text)
            };
        }
        let shelf = copy(&here);
        let before: BTreeMap<_, _> = everything(&shelf).into_iter().collect();
        let result = shelf.store().restore(&text, &Choices::new(), 60);
        let after: BTreeMap<_, _> = everything(&shelf).into_iter().collect();
        let Ok(report) = result else {
            refused += 1;
            assert!(before == after, "{n}: {text:.300}");
            continue;
        };
        assert_eq!(report.stopped, None, "{n}");
        added += report.added.len();
        continued += report.continued.len();
        unreadable += report.unreadable.len();
        // Whatever was here is here, or has been gone on with, or stands beside.
        let heads = shelf.store().pairs().expect("a shelf");
        for (plan, logs) in &pairs_before {
            let goes_on = heads.iter().any(|head| {
                told(&shelf, &head.id).is_some_and(|(other, after)| {
                    // Notes of both may stand between each other where two logs are joined.
                    let follows = |sock: usize| {
                        let LogsCompared { acts, remarks } =
                            compare(logs[sock].events(), after[sock].events());
                        matches!(acts, Acts::Same | Acts::Behind)
                            && matches!(remarks, Remarks::Same | Remarks::Behind)
                    };
                    other == *plan && follows(0) && follows(1)
                })
            });
            assert!(goes_on, "{n}: a pair is gone; {report:?}");
        }
        let same = |name: &str| {
            before
                .iter()
                .filter(|(key, _)| key.contains(name))
                .all(|entry| after.get_key_value(entry.0) == Some(entry))
        };
        assert!(same("aside"), "{n}");
        assert!(
            !report.continued.is_empty() || !report.joined.is_empty() || (same("a1") && same("b2")),
            "{n}: {report:?}"
        );
        // All that is there now can be looked at.
        for head in &heads {
            if let Ok(pair) = shelf.store().open(&head.id) {
                look_at(&pair);
            }
        }
        shelf.store().settings();
        shelf.store().quarantined().expect("a shelf");
        // A second time it changes nothing more.
        let once: BTreeMap<_, _> = everything(&shelf).into_iter().collect();
        let again = shelf.store().restore(&text, &Choices::new(), 90);
        let twice: BTreeMap<_, _> = everything(&shelf).into_iter().collect();
        assert!(
            again.is_ok()
                && once
                    .iter()
                    .all(|entry| twice.get_key_value(entry.0) == Some(entry)),
            "{n}: {again:?}"
        );
    }
    println!(
        "{files} files: {refused} refused; {added} pairs added, {continued} gone on with, {unreadable} set aside"
    );
    assert!(refused > 0 && added > 0 && continued > 0 && unreadable > 0);
}
