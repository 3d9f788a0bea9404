//! No room, at any write: what was knitted waits beside the shelf and is found there, and once there
//! is room the shelf has it all.

use evenloop_engine::journal::CHUNK_EVENTS;

use super::{Trying, id, keys, touches, with_pair};
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::logs;
use crate::store::shelf::Shelf;
use crate::store::waiting::Waiting;

/// A shelf as the browser's is: with a place beside it.
#[derive(Default)]
struct Patient {
    shelf: Trying,
    waiting: Waiting,
}

impl Patient {
    fn store(&self) -> Store<'_> {
        Store::on(self)
    }
}

impl Shelf for Patient {
    fn get(&self, key: &str) -> Result<Option<String>, StoreError> {
        self.waiting.get(&self.shelf, key)
    }

    fn put(&self, key: &str, text: &str) -> Result<(), StoreError> {
        self.waiting.put(&self.shelf, key, text)
    }

    fn hold(&self, key: &str, text: &str) {
        self.waiting.hold(&self.shelf, key, text);
    }

    fn remove(&self, key: &str) -> Result<(), StoreError> {
        self.waiting.remove(&self.shelf, key)
    }

    fn keys(&self) -> Result<Vec<String>, StoreError> {
        self.waiting.keys(&self.shelf)
    }
}

#[test]
fn at_any_distance_from_the_brim_no_touch_is_lost() {
    let all = touches(2 * CHUNK_EVENTS + 3);
    for room in 0..350 {
        let (shelf, id) = with_pair(CHUNK_EVENTS - 4);
        let used = shelf.used_beside("").expect("a size");
        shelf.room.set(Some(used + room));
        let patient = Patient {
            shelf,
            ..Patient::default()
        };
        let mut refused = 0;
        for n in CHUNK_EVENTS - 3..=all.len() {
            match patient.store().append_events(&id, &[(1, &all[..n])]) {
                Ok(()) => {}
                Err(error) => {
                    assert_eq!(error, StoreError::Full);
                    refused += 1;
                }
            }
            // Neither the screens nor a backup notice; and what is on the shelf is whole.
            if n % 16 == 0 || n == all.len() {
                let pair = patient.store().open(&id).expect("a pair");
                assert_eq!((pair.journals[0].events(), pair.trouble), (&all[..n], None));
                let on_shelf = logs::read(
                    1,
                    patient.shelf.store().chunks(&id).expect("a shelf")[0].clone(),
                );
                assert!(all.starts_with(&on_shelf.events) && on_shelf.lost.is_empty());
            }
        }
        assert!(refused > 0 && !patient.waiting.is_empty(), "{room}");
        let saved = patient.store().backup(0).expect("a shelf");
        assert!(saved.contains(&keys::chunk(&id, 1, 2)));
        // Anything that makes room brings it on the shelf.
        patient.shelf.room.set(None);
        patient.remove("evenloop:draft").expect("a shelf");
        assert!(patient.waiting.is_empty());
        let pair = patient.shelf.store().open(&id).expect("a pair");
        assert_eq!(pair.journals[0].events(), &all[..]);
    }
}

#[test]
fn what_another_window_wrote_meanwhile_stays() {
    let (shelf, one) = with_pair(10);
    shelf.room.set(Some(0));
    let patient = Patient {
        shelf,
        ..Patient::default()
    };
    assert_eq!(
        patient.store().append_events(&one, &[(1, &touches(11))]),
        Err(StoreError::Full)
    );
    patient.shelf.room.set(None);
    patient
        .shelf
        .store()
        .replace_log(&one, 1, &touches(20))
        .expect("room");
    patient.remove("evenloop:draft").expect("a shelf");
    let pair = patient.store().open(&one).expect("a pair");
    assert_eq!(pair.journals[0].events(), touches(20));
    assert!(patient.waiting.is_empty());
    // A new pair finds no room before what waits.
    patient.hold("evenloop:k", "x");
    patient.shelf.room.set(Some(0));
    let doc = super::doc();
    assert_eq!(
        patient.store().create_as(&id("b2"), "x", doc, 5),
        Err(StoreError::Full)
    );
}
