//! What a start of Now looks at: the pair at hand, however many others there are.

use evenloop_engine::journal::CHUNK_EVENTS;

use super::{doc, id, touches, with_pair};

/// How often a start asks for a text, and how often for all keys, with so many pairs in the basket.
fn asked_for(pairs: usize) -> (usize, usize) {
    let (shelf, pair) = with_pair(3 * CHUNK_EVENTS + 5);
    let store = shelf.store();
    for nth in 1..pairs {
        let other = id(&format!("b{nth}"));
        store.create_as(&other, "Red ones", doc(), 9).expect("room");
        let log = touches(2 * CHUNK_EVENTS);
        store.replace_log(&other, 1, &log).expect("room");
    }
    store.set_current(&pair).expect("room");
    store.open(&pair).expect("a pair");
    shelf.texts_asked.set(0);
    shelf.keys_asked.set(0);
    let current = store.current().expect("a pair");
    let opened = store.open(&current).expect("a pair");
    assert_eq!((opened.head.id, opened.trouble), (pair, None));
    (shelf.texts_asked.get(), shelf.keys_asked.get())
}

#[test]
fn a_start_looks_at_as_much_with_a_hundred_pairs_as_with_one() {
    let (texts, keys) = asked_for(1);
    assert_eq!(keys, 0, "all keys are more with each pair");
    assert!(texts < 60, "{texts}");
    assert_eq!(asked_for(100), (texts, keys));
}
