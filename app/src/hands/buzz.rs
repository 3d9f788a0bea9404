//! A short buzz, felt without looking.

use js_sys::Reflect;
use web_sys::Navigator;

/// Buzzes where the device can.
pub fn buzz(milliseconds: u32) {
    if let Some(navigator) = able() {
        // A refusal (no touch yet, switched off by the owner) is theirs to make.
        let _ = navigator.vibrate_with_duration(milliseconds);
    }
}

/// Whether this browser can ask the device to buzz; a device without a motor does not tell.
pub fn can_buzz() -> bool {
    able().is_some()
}

fn able() -> Option<Navigator> {
    let navigator = web_sys::window()?.navigator();
    let able = Reflect::has(&navigator, &"vibrate".into()).unwrap_or(false);
    able.then_some(navigator)
}
