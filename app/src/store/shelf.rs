//! Where texts are put under keys. The store's rules are written against this and know no browser,
//! so that a full, refusing or damaged shelf can be tried without one.

use super::StoreError;

/// A place that keeps texts under keys.
pub(super) trait Shelf {
    /// The text under a key, if there is one.
    fn get(&self, key: &str) -> Result<Option<String>, StoreError>;
    /// Puts a text under a key, in place of what was there; on failure what was there stays.
    fn put(&self, key: &str, text: &str) -> Result<(), StoreError>;
    /// Takes away what is under a key, if anything.
    fn remove(&self, key: &str) -> Result<(), StoreError>;
    /// All keys, in no particular order.
    fn keys(&self) -> Result<Vec<String>, StoreError>;
}

/// A shelf where none is: on the server.
#[cfg(not(feature = "hydrate"))]
pub(super) struct NoShelf;

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

/// A shelf in memory that can be full or refuse.
#[cfg(test)]
#[derive(Default)]
pub(super) struct Memory {
    texts: std::cell::RefCell<std::collections::BTreeMap<String, String>>,
    /// Most bytes of keys and texts; nothing is refused when absent.
    pub(super) room: std::cell::Cell<Option<usize>>,
    /// Whether every call is refused.
    pub(super) denied: std::cell::Cell<bool>,
    /// Bytes put so far.
    pub(super) written: std::cell::Cell<usize>,
}

#[cfg(test)]
impl Memory {
    fn asked(&self) -> Result<(), StoreError> {
        if self.denied.get() { Err(StoreError::Denied) } else { Ok(()) }
    }
}

#[cfg(test)]
impl Shelf for Memory {
    fn get(&self, key: &str) -> Result<Option<String>, StoreError> {
        self.asked()?;
        Ok(self.texts.borrow().get(key).cloned())
    }

    fn put(&self, key: &str, text: &str) -> Result<(), StoreError> {
        self.asked()?;
        let mut texts = self.texts.borrow_mut();
        let others: usize =
            texts.iter().filter(|(k, _)| *k != key).map(|(k, t)| k.len() + t.len()).sum();
        if self.room.get().is_some_and(|room| others + key.len() + text.len() > room) {
            return Err(StoreError::Full);
        }
        self.written.set(self.written.get() + text.len());
        texts.insert(key.to_owned(), text.to_owned());
        Ok(())
    }

    fn remove(&self, key: &str) -> Result<(), StoreError> {
        self.asked()?;
        self.texts.borrow_mut().remove(key);
        Ok(())
    }

    fn keys(&self) -> Result<Vec<String>, StoreError> {
        self.asked()?;
        Ok(self.texts.borrow().keys().cloned().collect())
    }
}
