//! Something stored is damaged at a random place. What was counted before it is kept, the rest is
//! set aside as it is and part of every backup, and the pair can be knitted on.
//!
//! `EVENLOOP_CORRUPTIONS` says how often it is tried.

use evenloop_engine::journal::{CHUNK_EVENTS, Event, read_chunk};
use evenloop_engine::trace::Position;

use super::chance::{Chance, times};
use super::{Trying, copy, doc, everything, file, id, keys, own_plan_unsaid};
use crate::store::keys::KeyKind;
use crate::store::pair::PairId;
use crate::store::shelf::Shelf;
use crate::store::{StoreError, StoredPart};

/// A log of every kind of event.
fn varied(n: u64) -> Vec<Event> {
    let at = Position { step: 9, mv: 0 };
    (0..n)
        .map(|i| match i % 17 {
            _ if i == 0 => Event::Begin(1_795_593_600),
            5 => Event::Undo(1_795_593_600 + 40 * i),
            // the clock was set back
            9 => Event::Done(1_795_593_000 + 40 * i),
            11 => Event::Note(1_795_593_600 + 40 * i, at, format!("snug, {i} %")),
            13 => Event::Weighed(1_795_593_600 + 40 * i, at, Some(500)),
            14 => Event::GoTo(1_795_593_600 + 40 * i, at),
            _ => Event::Done(1_795_593_600 + 40 * i),
        })
        .collect()
}

/// A pair with both socks under way, a pair beside it, settings, one thing aside and one taken out.
fn laden() -> (Trying, PairId) {
    let (shelf, one) = (Trying::default(), id("a1"));
    for name in ["a1", "b2", "c3"] {
        shelf
            .store()
            .create_as(&id(name), name, doc(), 5)
            .expect("room");
    }
    for (sock, n) in [(1, 200), (2, 90)] {
        shelf
            .store()
            .replace_log(&one, sock, &varied(n))
            .expect("room");
    }
    own_plan_unsaid(&shelf, &one, 2, doc());
    shelf.store().open(&one).expect("a pair");
    shelf.store().set_current(&one).expect("room");
    shelf
        .store()
        .save_settings(&crate::store::Settings::default())
        .expect("room");
    shelf.store().take_out(&id("c3")).expect("room");
    shelf
        .put("evenloop:aside:1:evenloop:pair:x:plan", "raw")
        .expect("room");
    (shelf, one)
}

#[test]
fn whatever_becomes_of_a_byte_of_a_log_what_comes_before_it_is_kept() {
    let mut chance = Chance(5);
    let lengths = [200_u64, 90];
    let (whole, one) = laden();
    for n in 0..times("EVENLOOP_CORRUPTIONS", 400) {
        let shelf = copy(&whole);
        let sock = u8::try_from(1 + chance.below(2)).expect("1 or 2");
        let events = varied(lengths[usize::from(sock - 1)]);
        let chunks = u32::try_from(events.len().div_ceil(CHUNK_EVENTS)).expect("few");
        let index = u32::try_from(chance.below(chunks as usize)).expect("few");
        let key = keys::chunk(&one, sock, index);
        let text = shelf.get(&key).expect("a shelf").expect("a chunk");
        let worse = chance.worsen(&text);
        if worse == text {
            continue;
        }
        assert!(read_chunk(index, &worse).is_err(), "{n}: {worse:?}");
        shelf.put(&key, &worse).expect("room");
        let texts_before: Vec<_> = everything(&shelf)
            .into_iter()
            .filter(|(key, _)| key != keys::RESERVE)
            .map(|(_, text)| text)
            .collect();

        let pair = shelf
            .store()
            .open(&one)
            .unwrap_or_else(|e| panic!("{n}: {e:?}, {worse:?}"));
        let kept = index as usize * CHUNK_EVENTS;
        let what = StoredPart::Log(sock);
        assert_eq!(
            pair.trouble,
            Some(StoreError::Damaged { what, kept }),
            "{n}"
        );
        let journals = &pair.journals;
        assert_eq!(
            journals[usize::from(sock - 1)].events(),
            &events[..kept],
            "{n}"
        );
        let other = usize::from(sock == 1);
        assert_eq!(journals[other].events(), varied(lengths[other]), "{n}");
        // Everything that was set aside is there as it was, and in every backup.
        let aside: Vec<_> = shelf.store().quarantined().expect("a shelf");
        assert_eq!(aside.len(), 1 + (chunks - index) as usize, "{n}");
        assert!(
            aside.iter().any(|one| one.key == key && one.text == worse),
            "{n}"
        );
        let saved: serde_json::Value = serde_json::from_str(&file(&shelf)).expect("a backup");
        let saved = saved["entries"].as_object().expect("entries");
        let head = keys::head(&one);
        for text in texts_before.iter().flatten() {
            let there = saved.values().any(|value| value == text.as_str());
            assert!(
                there || shelf.get(&head) != Ok(Some(text.clone())) && text.contains("place"),
                "{n}"
            );
        }
        // From there it goes on.
        let mut more = events[..kept].to_vec();
        more.push(Event::Done(1_795_700_000));
        shelf
            .store()
            .append_events(&one, &[(sock, &more)])
            .expect("room");
        let pair = shelf.store().open(&one).expect("a pair");
        assert_eq!(
            (pair.trouble, pair.journals[usize::from(sock - 1)].events()),
            (None, &more[..])
        );
    }
}

#[test]
fn whatever_becomes_of_anything_stored_nothing_is_erased_and_nothing_stops() {
    let mut chance = Chance(6);
    let (whole, one) = laden();
    let (mut unnoticed, mut plans) = (0, 0);
    for n in 0..times("EVENLOOP_CORRUPTIONS", 400) {
        let shelf = copy(&whole);
        let all = everything(&shelf);
        let (key, text) = chance.of(&all);
        let text = text.as_deref().unwrap_or_default();
        // The key itself may be what is damaged.
        let (new_key, worse) = if chance.below(4) == 0 {
            (chance.worsen(key), text.to_owned())
        } else {
            (key.clone(), chance.worsen(text))
        };
        if all.iter().any(|(k, _)| *k == new_key) && new_key != *key {
            continue;
        }
        shelf.remove(key).expect("a shelf");
        shelf.put(&new_key, &worse).expect("room");

        let heads = shelf.store().pairs().expect("a shelf");
        assert!(
            heads.iter().any(|head| head.id == id("b2")) || key.contains("b2"),
            "{n}"
        );
        let opened = shelf.store().open(&one);
        if let Ok(pair) = &opened {
            let (kept, meant) = (pair.journals[0].events(), varied(200));
            assert!(meant.starts_with(kept), "{n}");
            if let Some((_, KeyKind::Plan | KeyKind::OwnPlan(_))) = keys::read(key) {
                plans += 1;
                unnoticed +=
                    usize::from(worse != text && new_key == *key && *key != keys::plan(&id("b2")));
            }
        }
        shelf.store().settings();
        shelf.store().current();
        let _ = shelf.store().taken_out().expect("a shelf");
        // Nothing is erased: the damaged text is where it was, or aside.
        let there = shelf.get(&new_key).expect("a shelf").as_deref() == Some(worse.as_str());
        let aside = shelf.store().quarantined().expect("a shelf");
        let aside = aside.iter().any(|one| one.text == worse);
        let only_repeats = matches!(keys::read(&new_key), Some((_, KeyKind::Head)));
        assert!(there || aside || only_repeats, "{n}: {new_key} {worse:?}");
        // Taking it out does not stop either, nor does putting it back.
        let _ = shelf.store().take_out(&one);
        let _ = shelf.store().put_back();
    }
    println!("{unnoticed} of {plans} damaged plans read as plans");
}
