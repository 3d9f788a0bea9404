//! The browser's `localStorage` as a shelf; where the browser denies it, the page's memory.
//!
//! Texts are put as they are: plans and chunks are text already, and quoting them once more would
//! cost room. `LocalStorage::raw` panics where storage is denied, so that is found out first.

use gloo_storage::{LocalStorage, Storage as _};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{DomException, Storage};

use super::StoreError;
use super::shelf::{Memory, Shelf};

thread_local! {
    static MEMORY: Memory = Memory::default();
}

/// `localStorage`, or memory.
pub(super) struct Browser;

impl Browser {
    /// Whether what is stored outlasts the page.
    pub(super) fn lasts() -> bool {
        storage().is_some()
    }
}

fn storage() -> Option<Storage> {
    let given = web_sys::window().and_then(|window| window.local_storage().ok().flatten());
    given.map(|_| LocalStorage::raw())
}

fn denied(_: JsValue) -> StoreError {
    StoreError::Denied
}

impl Shelf for Browser {
    fn get(&self, key: &str) -> Result<Option<String>, StoreError> {
        match storage() {
            Some(storage) => storage.get_item(key).map_err(denied),
            None => MEMORY.with(|memory| memory.get(key)),
        }
    }

    fn put(&self, key: &str, text: &str) -> Result<(), StoreError> {
        let Some(storage) = storage() else {
            return MEMORY.with(|memory| memory.put(key, text));
        };
        storage.set_item(key, text).map_err(|error| {
            let name = error
                .dyn_into::<DomException>()
                .map(|e| e.name())
                .unwrap_or_default();
            match name.as_str() {
                // The second is what Firefox has called it.
                "QuotaExceededError" | "NS_ERROR_DOM_QUOTA_REACHED" => StoreError::Full,
                _ => StoreError::Denied,
            }
        })
    }

    fn remove(&self, key: &str) -> Result<(), StoreError> {
        match storage() {
            Some(storage) => storage.remove_item(key).map_err(denied),
            None => MEMORY.with(|memory| memory.remove(key)),
        }
    }

    fn keys(&self) -> Result<Vec<String>, StoreError> {
        let Some(storage) = storage() else {
            return MEMORY.with(Shelf::keys);
        };
        let length = storage.length().map_err(denied)?;
        Ok((0..length)
            .filter_map(|index| storage.key(index).ok().flatten())
            .collect())
    }
}
