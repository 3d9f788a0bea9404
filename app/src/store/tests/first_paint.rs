//! Touches made before the app was awake: counted once wherever it is stopped, and only where they belong; and what
//! is shown ahead is what the log comes to.

use evenloop_engine::journal::Event;
use evenloop_engine::plan::make;
use evenloop_engine::recipe::{Direction, Method, Recipe, Seating};
use evenloop_engine::text::{Wording, instructions};
use evenloop_engine::together::Sock;
use evenloop_engine::touch::TouchCounts;
use evenloop_engine::wire::write_plan;

use super::{Trying, copy, events, id, with_pair, written_to};
use crate::store::error::StoreError;
use crate::store::first_paint::{TakenTouches, base};
use crate::store::keys;
use crate::store::pair::{OpenPair, PairId};
use crate::store::shelf::Shelf;

/// Touches as the script stores them, a minute apart, made on the pair as it is.
fn queue(shelf: &Trying, pair: &PairId, by_needle: bool, kinds: &str) -> String {
    let base = base(&shelf.store().open(pair).expect("a pair"));
    let touches: Vec<String> = (0_u64..)
        .zip(kinds.chars())
        .map(|(n, kind)| format!("{kind}{}", 90_000_123 + n * 60_000))
        .collect();
    let counts = if by_needle { 'n' } else { 'r' };
    format!("{base}\t{counts}\t{}", touches.join(" "))
}

fn touched(shelf: &Trying, pair: &PairId, kinds: &str) {
    let queue = queue(shelf, pair, false, kinds);
    shelf.put(keys::TOUCHED, &queue).expect("room");
}

/// What Now does: how many touches were counted on the pair, and how many were set aside.
fn take(shelf: &Trying, pair: &PairId) -> (usize, usize) {
    let mut open = shelf.store().open(pair).expect("a pair");
    let taken = shelf.store().take_touches(&mut open);
    assert_eq!(taken.trouble, None);
    let stored = shelf.store().open(pair).expect("a pair");
    assert!(
        open.journals == stored.journals,
        "what is counted is stored"
    );
    (taken.counted, shelf.store().take_stray_touches())
}

#[test]
fn early_touches_become_events_with_their_own_time() {
    let (shelf, pair) = with_pair(4);
    touched(&shelf, &pair, "ddu");
    let before = events(&shelf, &pair);
    assert_eq!(take(&shelf, &pair), (3, 0));
    let after = events(&shelf, &pair);
    assert_eq!(
        after[before.len()..],
        [
            Event::Done(90_000),
            Event::Done(90_060),
            Event::Undo(90_120)
        ]
    );
    assert_eq!(shelf.get(keys::TOUCHED), Ok(None));
    assert_eq!(take(&shelf, &pair), (0, 0));
    assert_eq!(events(&shelf, &pair), after);
}

#[test]
fn early_touches_count_needles_where_touches_do() {
    // Past the cast-on, in rounds of two needles.
    let (shelf, pair) = with_pair(12);
    let by_needle = queue(&shelf, &pair, true, "ddd");
    shelf.put(keys::TOUCHED, &by_needle).expect("room");
    let before = events(&shelf, &pair).len();
    assert_eq!(take(&shelf, &pair), (3, 0));
    let after = events(&shelf, &pair);
    assert!(
        matches!(
            after[before..],
            [
                Event::Needles(90_000, _, 1),
                Event::Done(90_060),
                Event::Needles(90_120, _, 1)
            ]
        ),
        "{after:?}"
    );
}

#[test]
fn stopped_anywhere_each_early_touch_is_counted_once() {
    // also where a chunk ends in between
    for touched_before in [3, 30, 61, 62, 63] {
        let (shelf, pair) = with_pair(touched_before);
        touched(&shelf, &pair, "dddud");
        let whole = copy(&shelf);
        whole.writes.borrow_mut().clear();
        assert_eq!(take(&whole, &pair), (5, 0));
        let writes = whole.writes.borrow().clone();
        assert!(writes.len() > 2, "the log and the queue are two texts");
        for stopped in 0..=writes.len() {
            let shelf = written_to(&shelf, &writes[..stopped]);
            assert_eq!(take(&shelf, &pair).1, 0, "{stopped}");
            assert_eq!(events(&shelf, &pair), events(&whole, &pair), "{stopped}");
            assert_eq!(shelf.get(keys::TOUCHED), Ok(None));
        }
    }
}

#[test]
fn touches_made_on_something_else_are_set_aside_and_said() {
    let (shelf, pair) = with_pair(30);
    touched(&shelf, &pair, "dd");
    // Another window counts on.
    let mut open = shelf.store().open(&pair).expect("a pair");
    let done = [(Sock::First, Event::Done(70_000))];
    shelf.store().record(&mut open, &done).expect("room");
    let before = events(&shelf, &pair);
    assert_eq!(take(&shelf, &pair), (0, 2));
    assert_eq!(events(&shelf, &pair), before);
    let aside = shelf.store().quarantined().expect("a shelf");
    assert_eq!(aside.len(), 1);
    assert_eq!(aside[0].key, keys::TOUCHED);
    // said once
    assert_eq!(take(&shelf, &pair), (0, 0));

    // and what is no queue at all
    let base = base(&open);
    let nothing = ["broken", "", "d1", "r\td1"].map(str::to_owned);
    let nearly = ["x1", "d", "dé", "d-1", "é1", "d1  d2"].map(|no| format!("{base}\tr\t{no}"));
    for (nth, broken) in nothing.into_iter().chain(nearly).enumerate() {
        shelf
            .put(keys::TOUCHED, &format!("{broken}\n"))
            .expect("room");
        assert_eq!(take(&shelf, &pair), (0, 1), "{broken}");
        let aside = shelf.store().quarantined().expect("a shelf");
        assert_eq!(aside.len(), nth + 2);
    }
    assert_eq!(events(&shelf, &pair), before);
}

#[test]
fn what_is_left_of_another_place_does_not_keep_ours_from_counting() {
    let (shelf, pair) = with_pair(30);
    touched(&shelf, &pair, "dd");
    let ours = shelf.get(keys::TOUCHED).expect("a shelf").expect("a queue");
    let both = format!("x\tr\td1\n{ours}\n");
    shelf.put(keys::TOUCHED, &both).expect("room");
    assert_eq!(take(&shelf, &pair), (2, 1));
    let aside = shelf.store().quarantined().expect("a shelf");
    assert!(aside[0].text.starts_with("x\t") && !aside[0].text.contains("90000"));
}

#[test]
fn touches_made_on_another_pair_are_counted_there() {
    let (shelf, pair) = with_pair(30);
    let other = id("other");
    let plan = shelf.get(&keys::plan(&pair)).expect("a shelf");
    let made = shelf
        .store()
        .create_as(&other, "Other", &plan.expect("a plan"), 5);
    made.expect("room");
    touched(&shelf, &other, "dddd");
    let before = events(&shelf, &pair);
    // The pair in hand is another by now; a screen that says nothing of such touches leaves them.
    let mut open = shelf.store().open(&pair).expect("a pair");
    let taken = shelf.store().take_touches(&mut open);
    assert_eq!(taken, TakenTouches::default());
    assert!(shelf.get(keys::TOUCHED).expect("a shelf").is_some());
    assert_eq!(take(&shelf, &pair), (0, 0));
    assert_eq!(events(&shelf, &pair), before);
    let there = shelf.store().open(&other).expect("a pair");
    let done = |event: &&Event| matches!(event, Event::Done(_));
    assert_eq!(there.journals[0].events().iter().filter(done).count(), 4);
    let heads = shelf.store().pairs().expect("a shelf");
    let head = heads.iter().find(|head| head.id == other);
    assert_eq!(head.expect("a head").progress, there.progress());
    // taken out of the basket, it does not go on
    touched(&shelf, &other, "d");
    shelf.store().take_out(&other).expect("room");
    assert_eq!(take(&shelf, &pair), (0, 1));
}

#[test]
fn touches_on_a_pair_that_another_window_let_go_write_no_log() {
    let (shelf, pair) = with_pair(4);
    touched(&shelf, &pair, "dd");
    let mut open = shelf.store().open(&pair).expect("a pair");
    shelf.store().take_out(&pair).expect("it goes");
    shelf.store().let_go().expect("it goes for good");
    let taken = shelf.store().take_touches(&mut open);
    assert_eq!(
        (taken.counted, taken.trouble),
        (0, Some(StoreError::NotThere))
    );
    for key in shelf.keys().expect("a shelf") {
        assert!(!key.contains(pair.as_str()), "{key}");
    }
}

#[test]
fn a_backup_carries_no_touches_and_none_are_brought_in() {
    let (shelf, pair) = with_pair(30);
    touched(&shelf, &pair, "dd");
    let file = shelf.store().backup(100).expect("a shelf");
    assert!(!file.contains(keys::TOUCHED), "{file}");
    // as an older build of ours would have written it
    let queue = serde_json::to_string(&shelf.get(keys::TOUCHED).expect("a shelf")).expect("text");
    let entry = format!("\"entries\":{{\"{}\":{queue},", keys::TOUCHED);
    let with_queue = file.replacen("\"entries\":{", &entry, 1);
    assert!(with_queue.len() > file.len());
    let elsewhere = Trying::default();
    let restored = elsewhere
        .store()
        .restore(&with_queue, &std::collections::BTreeMap::new(), 200)
        .expect("a backup");
    assert!(restored.unreadable.is_empty(), "{restored:?}");
    assert_eq!(elsewhere.get(keys::TOUCHED), Ok(None));
}

#[test]
fn on_a_full_shelf_early_touches_are_counted_in_memory_and_said() {
    let (shelf, pair) = with_pair(30);
    touched(&shelf, &pair, "ddd");
    let mut open = shelf.store().open(&pair).expect("a pair");
    let place = open.journals[0].position();
    shelf.room.set(Some(shelf.used_beside("").expect("a size")));
    let taken = shelf.store().take_touches(&mut open);
    assert_eq!(taken.counted, 3);
    assert_eq!(open.journals[0].position().step, place.step + 3);
    // The queue went, and with the room that it left the log may have been stored after all.
    assert_eq!(shelf.get(keys::TOUCHED), Ok(None));
}

#[test]
fn what_is_shown_is_true_only_of_what_is_stored() {
    let (shelf, pair) = with_pair(30);
    shelf.store().set_current(&pair).expect("room");
    let open = shelf.store().open(&pair).expect("a pair");
    let conditions = shelf.store().conditions_of_shown(&open);
    let conditions = conditions.expect("all of it is stored");
    let hold = |shelf: &Trying| {
        let mut all = conditions.iter();
        all.all(|(key, text)| shelf.get(key).as_ref() == Ok(text))
    };
    assert!(hold(&shelf));
    // a round more, elsewhere
    let counted = copy(&shelf);
    let mut there = open.clone();
    let done = [(Sock::First, Event::Done(70_000))];
    counted.store().record(&mut there, &done).expect("room");
    assert!(!hold(&counted));
    assert_eq!(counted.store().conditions_of_shown(&open), None);
    // the second sock begun, other settings, taken out, another pair in hand
    let begun = copy(&shelf);
    let second = [(Sock::Second, Event::Begin(70_000))];
    let mut there = open.clone();
    begun.store().record(&mut there, &second).expect("room");
    assert!(!hold(&begun));
    let renamed = copy(&shelf);
    renamed.store().rename(&pair, "Renamed", 9).expect("room");
    assert!(!hold(&renamed));
    for key in [keys::SETTINGS, keys::TAKEN_OUT, keys::CURRENT] {
        let other = copy(&shelf);
        other.put(key, "other").expect("room");
        assert!(!hold(&other), "{key}");
    }
}

/// What is at hand of a pair: where both socks are, and every word of the one whose turn it is.
fn told(pair: &OpenPair) -> String {
    let sock = pair.whose_turn().index();
    let pattern = &pair.patterns[sock];
    let at = pair.journals[sock].position();
    let told = instructions(&pattern.plan, &pattern.trace, at, Wording::default());
    format!("{:?} {sock} {told:?}", pair.standing())
}

/// Touched on a shelf, event by event, and opened again each time; what was looked ahead from every place is compared.
fn compare(recipe: &Recipe, together: bool, counts: TouchCounts) -> usize {
    const AHEAD: usize = 12;
    let plan = make(recipe).expect("a sock");
    let (shelf, pair) = (Trying::default(), id("sweep"));
    let made = shelf
        .store()
        .create_as(&pair, "Sweep", &write_plan(&plan), 5);
    made.expect("room");
    let mut open = shelf.store().open(&pair).expect("a pair");
    if together {
        let both = [(Sock::First, Event::Together(5, true))];
        shelf.store().record(&mut open, &both).expect("room");
    }
    // What is expected after each touch, by those who looked ahead before it.
    let mut expected: std::collections::VecDeque<Vec<String>> = Vec::new().into();
    let mut before: Vec<String> = Vec::new();
    let (mut compared, mut touches) = (0, 0_u64);
    loop {
        let now = told(&open);
        for seen in expected.pop_front().unwrap_or_default() {
            assert_eq!(seen, now, "{recipe:?} {touches}");
            compared += 1;
        }
        let mut ahead = open.clone();
        for step in 0..AHEAD {
            if !ahead.look_ahead(counts) {
                break;
            }
            if expected.len() <= step {
                expected.push_back(Vec::new());
            }
            expected[step].push(told(&ahead));
        }
        let mut back = open.clone();
        for earlier in before.iter().rev().take(3) {
            assert!(back.look_back(counts), "{recipe:?} {touches}");
            assert_eq!(&told(&back), earlier);
            compared += 1;
        }
        before.push(now);
        touches += 1;
        let events = open.touched(open.whose_turn(), counts, 100 + touches * 30);
        if events.is_empty() {
            return compared;
        }
        shelf.store().record(&mut open, &events).expect("room");
        open = shelf.store().open(&pair).expect("a pair");
    }
}

#[test]
fn what_is_shown_ahead_and_back_is_what_the_log_comes_to() {
    let small = Recipe {
        stitches: Some(48),
        ..Recipe::default()
    };
    let apart = Seating::InstepAndSole;
    let needles = [
        (Method::default(), false),
        (Method::MagicLoop { seating: apart }, true),
        (Method::TwoCirculars { seating: apart }, true),
        (Method::FourDpns, false),
        (Method::FiveDpns, false),
    ];
    let mut compared = 0;
    for (needles, together) in needles {
        for direction in [Direction::CuffDown, Direction::ToeUp] {
            let recipe = Recipe {
                needles,
                direction,
                ..small.clone()
            };
            for counts in [TouchCounts::Round, TouchCounts::Needle] {
                compared += compare(&recipe, together, counts);
            }
        }
    }
    println!("{compared} steps compared");
    assert!(compared > 10_000);
}
