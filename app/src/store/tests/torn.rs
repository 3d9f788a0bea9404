//! What an Evenloop without commit records left when it was stopped half-way, as a knitter finds it today.

use std::collections::BTreeMap;

use evenloop_engine::journal::CHUNK_EVENTS;

use super::{
    Choices, Trying, copy, doc, events, everything, file, id, taken_out_in_one_text, with_pair,
};
use crate::store::keys::{self, KeyKind};
use crate::store::pair::PairId;
use crate::store::shelf::Shelf;

/// The start, as the basket makes it.
fn start(shelf: &Trying) -> Vec<String> {
    let (_, more) = shelf.store().heads().expect("a shelf");
    if more {
        shelf.store().mend_torn().expect("room");
    }
    let heads = shelf.store().pairs().expect("a shelf");
    let (_, more) = shelf.store().heads().expect("a shelf");
    assert!(!more, "nothing is torn any more");
    heads.into_iter().map(|head| head.name).collect()
}

fn keys_of(shelf: &Trying, pair: &PairId) -> Vec<String> {
    let keys = shelf.keys().expect("a shelf").into_iter();
    let mut keys: Vec<String> = keys
        .filter(|key| keys::read(key).is_some_and(|(of, _)| of == *pair))
        .collect();
    keys.sort();
    keys
}

#[test]
fn a_head_of_which_only_a_part_is_left_gives_its_name() {
    let (shelf, pair) = with_pair(10);
    let key = keys::head(&pair);
    let head = shelf.get(&key).expect("a shelf").expect("a head");
    shelf.put(&key, &head[..head.len() - 20]).expect("room");
    assert_eq!(start(&shelf), ["Blue ones"]);
    assert_eq!(events(&shelf, &pair).len(), 10);
}

#[test]
fn a_name_that_was_lost_before_is_found_again() {
    let (shelf, pair) = with_pair(10);
    let head = shelf.get(&keys::head(&pair)).expect("a shelf");
    shelf.store().rename(&pair, "", 80_000).expect("room");
    assert_eq!(start(&shelf), ["Unnamed pair"], "nothing is left of it");
    let aside = format!("{}1:{}", keys::QUARANTINE, keys::head(&pair));
    shelf.put(&aside, &head.expect("a head")).expect("room");
    assert_eq!(start(&shelf), ["Blue ones"]);
}

#[test]
fn a_file_gives_a_pair_back_its_name() {
    let (shelf, pair) = with_pair(10);
    let file = file(&shelf);
    // cast on or brought back, and stopped before the head
    shelf.remove(&keys::head(&pair)).expect("a shelf");
    assert_eq!(start(&shelf), ["Unnamed pair"]);
    shelf
        .store()
        .restore(&file, &Choices::new(), 80_000)
        .expect("a backup");
    assert_eq!(start(&shelf), ["Blue ones"]);
    assert_eq!(events(&shelf, &pair).len(), 10);
}

#[test]
fn nothing_of_a_pair_that_is_there_or_taken_out_is_left_over() {
    let (shelf, pair) = with_pair(150);
    assert_eq!(shelf.store().any_left_over(), Ok(false));
    shelf.store().take_out(&pair).expect("room");
    assert_eq!(shelf.store().any_left_over(), Ok(false));
}

#[test]
fn a_log_without_a_pair_is_set_aside() {
    let (shelf, pair) = with_pair(150);
    let before: BTreeMap<_, _> = everything(&shelf).into_iter().collect();
    for key in keys_of(&shelf, &pair) {
        if !matches!(keys::read(&key), Some((_, KeyKind::Chunk(..)))) {
            shelf.remove(&key).expect("a shelf");
        }
    }
    assert_eq!(shelf.store().any_left_over(), Ok(true));
    assert_eq!(start(&shelf), [""; 0]);
    assert_eq!(keys_of(&shelf, &pair), [""; 0]);
    assert_eq!(shelf.store().any_left_over(), Ok(false));
    let aside = shelf.store().quarantined().expect("a shelf");
    assert_eq!(aside.len(), 3);
    for one in aside {
        assert_eq!(before.get(&one.key), Some(&Some(one.text)));
    }
}

/// The shelf as an older Evenloop left it that put all texts of a pair under one key and was stopped while it took
/// them from their own keys: the plan first, or as a still older one did, last.
fn half_taken_out(whole: &Trying, pair: &PairId, plan_last: bool, taken: usize) -> Trying {
    let shelf = copy(whole);
    taken_out_in_one_text(&shelf, pair);
    let mut keys = keys_of(whole, pair);
    keys.sort_by_key(|key| (*key == keys::plan(pair)) == plan_last);
    for key in &keys[taken..] {
        let text = whole.get(key).expect("a shelf").expect("a text");
        shelf.put(key, &text).expect("room");
    }
    shelf
}

#[test]
fn a_taking_out_that_was_stopped_anywhere_loses_nothing() {
    let (whole, pair) = with_pair(CHUNK_EVENTS * 2 + 5);
    let log = events(&whole, &pair);
    let made = whole.store().create_as(&id("b2"), "Red ones", doc(), 9);
    made.expect("room");
    for plan_last in [false, true] {
        for taken in 0..=keys_of(&whole, &pair).len() {
            let shelf = half_taken_out(&whole, &pair, plan_last, taken);
            let told = format!("{taken} taken, plan last: {plan_last}");
            let names = start(&shelf);
            assert!(names.contains(&"Red ones".to_owned()), "{told}");
            assert!(!names.contains(&"Unnamed pair".to_owned()), "{told}");
            // Opened or not, what was put under one key comes back.
            if names.len() == 2 {
                shelf.store().open(&pair).expect("a pair");
            }
            shelf.store().put_back().expect("room");
            let mut names = start(&shelf);
            names.sort();
            assert_eq!(names, ["Blue ones", "Red ones"], "{told}");
            assert_eq!(events(&shelf, &pair), log, "{told}");
        }
    }
}
