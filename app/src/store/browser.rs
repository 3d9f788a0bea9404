//! The browser's `localStorage` as a shelf; where the browser denies it, the page's memory.
//!
//! Texts are put as they are: plans and chunks are text already, and quoting them once more would
//! cost room. `LocalStorage::raw` panics where storage is denied, so that is found out first.
//!
//! The browser takes its time to write `localStorage` to the disk. All that is put is therefore told
//! to a second copy, which a script keeps (`public/echo.js`) because it has to be asked before the app starts.
//! It also keeps what waits for room beyond the page.

use gloo_storage::{LocalStorage, Storage as _};
use js_sys::{Array, JsString, Reflect};
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{DomException, Storage};

use super::error::StoreError;
use super::keys::SHOWN;
use super::shelf::{Memory, Shelf};
use super::waiting::Waiting;

#[wasm_bindgen]
extern "C" {
    // These fail where the script was not loaded; then there is no second copy.
    #[wasm_bindgen(catch, js_namespace = evenloopEcho, js_name = put)]
    fn echo(key: &str, text: Option<&str>, waits: bool) -> Result<(), JsValue>;
    #[wasm_bindgen(catch, js_namespace = evenloopEcho, js_name = whole)]
    fn echo_is_whole() -> Result<bool, JsValue>;
    #[wasm_bindgen(catch, js_namespace = evenloopEcho, js_name = waiting)]
    fn left_waiting() -> Result<Array, JsValue>;
    #[wasm_bindgen(catch, js_namespace = evenloopEcho, js_name = restored)]
    fn put_back() -> Result<Array, JsValue>;
    #[wasm_bindgen(catch, js_namespace = evenloopEcho, js_name = compared)]
    fn compared() -> Result<f64, JsValue>;
}

thread_local! {
    static MEMORY: Memory = Memory::default();
    /// Begins with what was left when the app was closed.
    static WAITING: Waiting = left();
}

/// What the app keeps things on: `localStorage` or memory, and what waits for room.
pub(super) struct Browser;

impl Browser {
    /// Whether what is stored outlasts the page.
    pub(super) fn lasts() -> bool {
        storage().is_some()
    }

    /// Whether something waits for room.
    pub(super) fn waits() -> bool {
        WAITING.with(|waiting| !waiting.is_empty())
    }

    /// Keeps what the first paint shows, past the second copy: it can be made anew.
    pub(super) fn note_shown(text: Option<&str>) {
        let Some(storage) = storage() else {
            return;
        };
        let kept = match text {
            Some(text) => storage.set_item(SHOWN, text).is_ok(),
            None => false,
        };
        if !kept {
            // What was shown before would only be looked at in vain.
            let _ = storage.remove_item(SHOWN);
        }
    }

    /// Whether the second copy has confirmed all that was put; false where there is none.
    pub(super) fn second_copy_is_whole() -> bool {
        echo_is_whole().unwrap_or(false)
    }

    /// Keys of texts that the echo put back since this was last asked.
    pub(super) fn take_put_back() -> Vec<String> {
        let keys = put_back().unwrap_or_default();
        keys.iter().filter_map(|key| key.as_string()).collect()
    }

    /// When the echo last found both copies to be the same, in seconds since 1970.
    pub(super) fn copies_last_the_same() -> Option<u64> {
        // Milliseconds since 1970 are positive and far below 2^53.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let seconds = (compared().unwrap_or(0.0) / 1000.0) as u64;
        (seconds > 0).then_some(seconds)
    }

    /// Characters in use, keys and texts. Texts are only measured, not read.
    pub(super) fn used() -> Result<usize, StoreError> {
        let Some(storage) = storage() else {
            // The page's memory has other bounds.
            return Ok(0);
        };
        let mut used = 0;
        for key in BrowserShelf.keys()? {
            let text = Reflect::get(&storage, &JsValue::from_str(&key)).map_err(denied)?;
            let length = text.dyn_ref::<JsString>().map_or(0, JsString::length);
            used += key.len() + length as usize;
        }
        Ok(used)
    }
}

fn left() -> Waiting {
    let waiting = Waiting::default();
    let left = left_waiting().unwrap_or_default();
    let texts: Vec<String> = left.iter().filter_map(|text| text.as_string()).collect();
    for pair in texts.chunks_exact(2) {
        waiting.hold(&BrowserShelf, &pair[0], &pair[1]);
    }
    waiting
}

impl Shelf for Browser {
    fn get(&self, key: &str) -> Result<Option<String>, StoreError> {
        WAITING.with(|waiting| waiting.get(&BrowserShelf, key))
    }

    fn put(&self, key: &str, text: &str) -> Result<(), StoreError> {
        WAITING.with(|waiting| waiting.put(&BrowserShelf, key, text))
    }

    fn hold(&self, key: &str, text: &str) {
        WAITING.with(|waiting| waiting.hold(&BrowserShelf, key, text));
        // Without an echo it waits as long as the page.
        let _ = echo(key, Some(text), true);
    }

    fn remove(&self, key: &str) -> Result<(), StoreError> {
        WAITING.with(|waiting| waiting.remove(&BrowserShelf, key))
    }

    fn keys(&self) -> Result<Vec<String>, StoreError> {
        WAITING.with(|waiting| waiting.keys(&BrowserShelf))
    }
}

/// What the browser gives: `localStorage`, or memory.
struct BrowserShelf;

fn storage() -> Option<Storage> {
    let given = web_sys::window().and_then(|window| window.local_storage().ok().flatten());
    given.map(|_| LocalStorage::raw())
}

fn denied(_: JsValue) -> StoreError {
    StoreError::Denied
}

impl Shelf for BrowserShelf {
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
        })?;
        // Without an echo it is stored as well as this browser stores.
        let _ = echo(key, Some(text), false);
        Ok(())
    }

    fn remove(&self, key: &str) -> Result<(), StoreError> {
        let Some(storage) = storage() else {
            return MEMORY.with(|memory| memory.remove(key));
        };
        storage.remove_item(key).map_err(denied)?;
        let _ = echo(key, None, false);
        Ok(())
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
