//! The browser's `localStorage` as a shelf.
//!
//! Texts are put as they are: plans and chunks are text already, and quoting them once more would
//! cost room. `LocalStorage::raw` panics where storage is denied, so that is found out first.

use gloo_storage::{LocalStorage, Storage as _};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::DomException;

use super::StoreError;
use super::shelf::Shelf;

/// `localStorage`.
pub(super) struct Browser;

impl Browser {
    fn raw() -> Result<web_sys::Storage, StoreError> {
        let given = web_sys::window().and_then(|window| window.local_storage().ok().flatten());
        if given.is_some() { Ok(LocalStorage::raw()) } else { Err(StoreError::Denied) }
    }
}

fn denied(_: JsValue) -> StoreError {
    StoreError::Denied
}

impl Shelf for Browser {
    fn get(&self, key: &str) -> Result<Option<String>, StoreError> {
        Self::raw()?.get_item(key).map_err(denied)
    }

    fn put(&self, key: &str, text: &str) -> Result<(), StoreError> {
        Self::raw()?.set_item(key, text).map_err(|error| {
            let name = error.dyn_into::<DomException>().map(|e| e.name()).unwrap_or_default();
            match name.as_str() {
                // The second is what Firefox has called it.
                "QuotaExceededError" | "NS_ERROR_DOM_QUOTA_REACHED" => StoreError::Full,
                _ => StoreError::Denied,
            }
        })
    }

    fn remove(&self, key: &str) -> Result<(), StoreError> {
        Self::raw()?.remove_item(key).map_err(denied)
    }

    fn keys(&self) -> Result<Vec<String>, StoreError> {
        let storage = Self::raw()?;
        let length = storage.length().map_err(denied)?;
        Ok((0..length).filter_map(|index| storage.key(index).ok().flatten()).collect())
    }
}
