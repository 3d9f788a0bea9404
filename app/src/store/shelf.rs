//! Where texts are put under keys. The store's rules are written against this and know no browser,
//! so that a full, refusing or damaged shelf can be tried without one.

use super::error::StoreError;

/// A place that keeps texts under keys.
pub(super) trait Shelf {
    /// The text under a key, if there is one.
    fn get(&self, key: &str) -> Result<Option<String>, StoreError>;
    /// Puts a text under a key, in place of what was there; on failure what was there stays.
    fn put(&self, key: &str, text: &str) -> Result<(), StoreError>;
    /// Keeps a text that found no room beside the shelf, where it is found like all else, and puts it
    /// on the shelf as soon as there is room. For what was knitted and cannot be done again. A shelf
    /// that has no such place forgets it.
    fn hold(&self, _key: &str, _text: &str) {}
    /// Takes away what is under a key, if anything.
    fn remove(&self, key: &str) -> Result<(), StoreError>;
    /// All keys, in no particular order.
    fn keys(&self) -> Result<Vec<String>, StoreError>;
}

/// A shelf where none is: on the server.
#[cfg(not(feature = "hydrate"))]
pub(super) struct NoShelf;

#[cfg(not(feature = "hydrate"))]
impl NoShelf {
    pub(super) const fn used() -> Result<usize, StoreError> {
        Err(StoreError::Denied)
    }
    pub(super) const fn waits() -> bool {
        false
    }
    pub(super) const fn lasts() -> bool {
        false
    }
    pub(super) const fn note_shown(_: Option<&str>) {}
    pub(super) const fn take_put_back() -> Vec<String> {
        Vec::new()
    }
    pub(super) const fn copies_last_the_same() -> Option<u64> {
        None
    }
}

#[cfg(not(feature = "hydrate"))]
impl Shelf for NoShelf {
    fn get(&self, _: &str) -> Result<Option<String>, StoreError> {
        Err(StoreError::Denied)
    }
    fn put(&self, _: &str, _: &str) -> Result<(), StoreError> {
        Err(StoreError::Denied)
    }
    fn remove(&self, _: &str) -> Result<(), StoreError> {
        Err(StoreError::Denied)
    }
    fn keys(&self) -> Result<Vec<String>, StoreError> {
        Err(StoreError::Denied)
    }
}

/// A shelf in memory: in a browser that denies storage, everything lasts as long as the page. A list, because
/// there is little in it, and a map would be more code than all the rest of the shelf.
#[derive(Default)]
pub(super) struct Memory(std::cell::RefCell<Vec<(String, String)>>);

impl Shelf for Memory {
    fn get(&self, key: &str) -> Result<Option<String>, StoreError> {
        let all = self.0.borrow();
        let found = all.iter().find(|(known, _)| known == key);
        Ok(found.map(|(_, text)| text.clone()))
    }

    fn put(&self, key: &str, text: &str) -> Result<(), StoreError> {
        let mut all = self.0.borrow_mut();
        match all.iter_mut().find(|(known, _)| known == key) {
            Some((_, held)) => text.clone_into(held),
            None => all.push((key.to_owned(), text.to_owned())),
        }
        Ok(())
    }

    fn remove(&self, key: &str) -> Result<(), StoreError> {
        self.0.borrow_mut().retain(|(known, _)| known != key);
        Ok(())
    }

    fn keys(&self) -> Result<Vec<String>, StoreError> {
        Ok(self.0.borrow().iter().map(|(key, _)| key.clone()).collect())
    }
}
