//! Two copies of what is stored: what the second one has otherwise, and what a page still has when the first is emptied.

use evenloop_engine::journal::Event;
use evenloop_engine::together::Sock;

use super::{Trying, copy, doc, everything, longer, touches, with_pair};
use crate::store::keys;
use crate::store::pair::PairId;
use crate::store::replans::NewPlans;
use crate::store::restore::Restored;
use crate::store::shelf::Shelf;

/// Takes everything away, as a browser does that clears a site's storage.
fn empty(shelf: &Trying) {
    for key in shelf.keys().expect("a shelf") {
        shelf.inner.remove(&key).expect("a shelf");
    }
}

#[test]
fn a_page_stores_its_pair_again_when_all_was_cleared_under_it() {
    let (shelf, pair) = with_pair(70);
    let store = shelf.store();
    store.this_device().expect("room");
    let standing = store.open(&pair).expect("a pair").standing();
    let plans = NewPlans::Both(longer(), Some(doc().to_owned()));
    let changed = store.change_rest(&pair, &standing, Some(plans), None, 70_000);
    changed.expect("room");
    store.set_current(&pair).expect("room");
    let mut open = store.open(&pair).expect("a pair");
    let before = everything(&shelf);
    assert_eq!(store.store_again_if_emptied(&open), Ok(false));

    empty(&shelf);
    let touch = [(Sock::First, Event::Done(71_000))];
    assert_eq!(store.store_again_if_emptied(&open), Ok(true));
    store.record(&mut open, &touch).expect("room");
    let again = store.open(&pair).expect("a pair");
    assert_eq!(again.trouble, None);
    assert_eq!(again.journals, open.journals);
    assert_eq!(again.plan_texts, open.plan_texts);
    assert_eq!(again.head.name, "Blue ones");
    assert_eq!(store.current(), Some(pair.clone()));
    // the last chunk has one touch more, and so has the head
    let kept = |key: &str| key.ends_with(":plan") || key.contains(":plan:") || key == keys::DEVICE;
    let after = everything(&shelf);
    for (key, text) in before.iter().filter(|(key, _)| kept(key)) {
        assert_eq!(
            after.iter().find(|(k, _)| k == key).map(|(_, t)| t),
            Some(text)
        );
    }
    assert_eq!(store.store_again_if_emptied(&open), Ok(false));
}

#[test]
fn a_pair_that_was_taken_out_for_good_in_another_window_stays_away() {
    let (shelf, pair) = with_pair(20);
    let store = shelf.store();
    store.this_device().expect("room");
    let open = store.open(&pair).expect("a pair");
    store.take_out(&pair).expect("room");
    store.let_go().expect("room");
    assert_eq!(store.store_again_if_emptied(&open), Ok(false));
    assert_eq!(store.pairs(), Ok(Vec::new()));
}

/// What the second copy had of a pair with this log is set aside.
fn set_aside(shelf: &Trying, pair: &PairId, log: &[Event]) {
    let there = copy(shelf);
    there.store().replace_log(pair, 1, log).expect("room");
    for index in 0..=1 {
        let chunk = keys::chunk(pair, 1, index);
        let text = there.get(&chunk).expect("a shelf");
        if let Some(text) = text
            && shelf.get(&chunk) != Ok(Some(text.clone()))
        {
            let aside = format!("{}1:{}{chunk}", keys::QUARANTINE, keys::PARTED);
            shelf.put(&aside, &text).expect("room");
        }
    }
}

fn joined(shelf: &Trying) -> Restored {
    let joined = shelf.store().join_parted(80_000).expect("room");
    assert_eq!(shelf.store().any_left_over(), Ok(false));
    assert_eq!(shelf.store().any_quarantined(), Ok(false));
    joined
}

#[test]
fn what_both_copies_parted_over_becomes_a_pair_of_its_own_once() {
    let (shelf, pair) = with_pair(100);
    let mut other = touches(70);
    other[60] = Event::Undo(9_999);
    for _ in 0..2 {
        set_aside(&shelf, &pair, &other);
        assert_eq!(shelf.store().any_left_over(), Ok(true));
        assert_eq!(shelf.store().any_quarantined(), Ok(false), "it can be read");
        joined(&shelf);
        let pairs = shelf.store().pairs().expect("a shelf");
        assert_eq!(pairs.len(), 2, "{pairs:?}");
        let beside = pairs.iter().find(|head| head.id != pair).expect("another");
        assert_ne!(beside.name, "Blue ones");
        let beside = shelf.store().open(&beside.id).expect("a pair");
        assert!(beside.journals[0].events().starts_with(&other));
        let ours = shelf.store().open(&pair).expect("a pair");
        assert!(ours.journals[0].events().starts_with(&touches(100)));
    }
}

#[test]
fn what_the_second_copy_has_more_or_less_of_a_log_is_no_pair_of_its_own() {
    for (log, all) in [(touches(60), 90), (touches(95), 95)] {
        let (shelf, pair) = with_pair(90);
        set_aside(&shelf, &pair, &log);
        let said = joined(&shelf);
        assert_eq!(said.beside, Vec::<String>::new());
        assert_eq!(shelf.store().pairs().expect("a shelf").len(), 1);
        let events = shelf.store().open(&pair).expect("a pair");
        assert!(events.journals[0].events().starts_with(&touches(all)));
    }
}

#[test]
fn what_belongs_to_no_pair_any_more_is_kept_as_it_is() {
    let (shelf, pair) = with_pair(30);
    let mut other = touches(30);
    other[20] = Event::Undo(9_999);
    set_aside(&shelf, &pair, &other);
    shelf.store().take_out(&pair).expect("room");
    shelf.store().let_go().expect("room");
    shelf.store().join_parted(80_000).expect("room");
    assert_eq!(shelf.store().any_left_over(), Ok(false));
    assert_eq!(shelf.store().quarantined().expect("a shelf").len(), 1);
    assert_eq!(shelf.store().pairs(), Ok(Vec::new()));
}

#[test]
fn a_window_that_has_not_heard_that_its_pair_was_replaced_goes_on_from_what_is_there() {
    let (shelf, pair) = with_pair(20);
    let store = shelf.store();
    let mut stale = store.open(&pair).expect("a pair");
    let begin = [(Sock::Second, Event::Begin(70_000))];
    store.record(&mut stale, &begin).expect("room");
    // What a file or the second copy has takes its place, with nothing of the second sock.
    let mut other = touches(20);
    other[10] = Event::Undo(9_999);
    store.replace_log(&pair, 1, &other).expect("room");
    store.replace_log(&pair, 2, &[]).expect("room");
    let touch = [(Sock::Second, Event::Done(71_000))];
    store.record(&mut stale, &touch).expect("room");
    let there = store.open(&pair).expect("a pair");
    assert_eq!(there.journals, stale.journals);
    let second = there.journals[1].events().iter();
    let second: Vec<_> = second.filter(|event| !event.is_bond()).collect();
    assert_eq!(second, [&Event::Begin(71_000), &Event::Done(71_000)]);
}
