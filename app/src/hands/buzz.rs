//! A short buzz, felt without looking.

use js_sys::Reflect;

/// Buzzes where the device can.
pub fn buzz(milliseconds: u32) {
    let Some(window) = web_sys::window() else {
        return;
    };
    let navigator = window.navigator();
    if Reflect::has(&navigator, &"vibrate".into()).unwrap_or(false) {
        // A refusal (no touch yet, switched off by the owner) is theirs to make.
        let _ = navigator.vibrate_with_duration(milliseconds);
    }
}
