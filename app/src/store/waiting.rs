//! What found no room on a shelf waits beside it: it is found like all else, and goes on the shelf as
//! soon as there is room, oldest first, so that a log on the shelf never has a hole.

use std::cell::RefCell;

use super::error::StoreError;
use super::shelf::Shelf;

/// A text that found no room.
struct WaitingText {
    key: String,
    text: String,
    /// What was under the key then. Should it be something else by now, another window wrote it, and
    /// that stays.
    over: Option<String>,
}

/// All that waits, oldest first.
#[derive(Default)]
pub(super) struct Waiting(RefCell<Vec<WaitingText>>);

impl Waiting {
    /// Whether nothing waits.
    pub(super) fn is_empty(&self) -> bool {
        self.0.borrow().is_empty()
    }

    /// The text under a key, waiting or on the shelf.
    pub(super) fn get(&self, on: &dyn Shelf, key: &str) -> Result<Option<String>, StoreError> {
        let there = on.get(key)?;
        let waiting = self.0.borrow();
        let held = waiting
            .iter()
            .find(|one| one.key == key && one.over == there);
        Ok(held.map(|one| one.text.clone()).or(there))
    }

    /// Puts a text on the shelf. What waits goes first; while it does, all else finds no room.
    pub(super) fn put(&self, on: &dyn Shelf, key: &str, text: &str) -> Result<(), StoreError> {
        self.settle(on);
        let others_first = self.0.borrow().first().is_some_and(|one| one.key != key);
        if others_first {
            return Err(StoreError::Full);
        }
        on.put(key, text)?;
        self.forget(key);
        self.settle(on);
        Ok(())
    }

    /// Has a text wait, in place of one that waits under the same key.
    pub(super) fn hold(&self, on: &dyn Shelf, key: &str, text: &str) {
        // What cannot be read now was nobody's either.
        let over = on.get(key).ok().flatten();
        let mut waiting = self.0.borrow_mut();
        match waiting.iter_mut().find(|one| one.key == key) {
            Some(one) => (one.text, one.over) = (text.to_owned(), over),
            None => waiting.push(WaitingText {
                key: key.to_owned(),
                text: text.to_owned(),
                over,
            }),
        }
    }

    /// Takes away what is under a key, waiting or on the shelf.
    pub(super) fn remove(&self, on: &dyn Shelf, key: &str) -> Result<(), StoreError> {
        on.remove(key)?;
        self.forget(key);
        self.settle(on);
        Ok(())
    }

    /// All keys.
    pub(super) fn keys(&self, on: &dyn Shelf) -> Result<Vec<String>, StoreError> {
        let mut keys = on.keys()?;
        for one in self.0.borrow().iter().filter(|one| one.over.is_none()) {
            if !keys.contains(&one.key) {
                keys.push(one.key.clone());
            }
        }
        Ok(keys)
    }

    fn forget(&self, key: &str) {
        self.0.borrow_mut().retain(|one| one.key != key);
    }

    fn settle(&self, on: &dyn Shelf) {
        let mut waiting = self.0.borrow_mut();
        let settled = waiting.iter().take_while(|one| {
            let untouched = on.get(&one.key).is_ok_and(|now| now == one.over);
            !untouched || on.put(&one.key, &one.text).is_ok()
        });
        let settled = settled.count();
        waiting.drain(..settled);
    }
}
