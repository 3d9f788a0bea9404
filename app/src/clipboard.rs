//! The device's clipboard: a text copied there, and what was copied elsewhere on the device.
//!
//! May use the browser alone; must not know what is copied.

use leptos::prelude::window;
use wasm_bindgen_futures::JsFuture;

use crate::files::Unwilling;

/// Copies a text. The browser is asked at once, not when this is first awaited: it listens right after a touch.
///
/// # Errors
/// When the browser cannot or will not.
pub fn copy(text: &str) -> impl Future<Output = Result<(), Unwilling>> + use<> {
    let asked = offers("writeText").then(|| window().navigator().clipboard().write_text(text));
    async move {
        JsFuture::from(asked.ok_or(Unwilling)?).await?;
        Ok(())
    }
}

/// The text that was copied last. The browser is asked at once; some ask the knitter first.
///
/// # Errors
/// When the browser cannot or will not, or what was copied is no text.
pub fn paste() -> impl Future<Output = Result<String, Unwilling>> {
    let asked = offers("readText").then(|| window().navigator().clipboard().read_text());
    async move {
        let text = JsFuture::from(asked.ok_or(Unwilling)?).await?;
        text.as_string().ok_or(Unwilling)
    }
}

/// Whether the browser lets a page do this with the clipboard. Some only do over a secure connection.
fn offers(method: &str) -> bool {
    let clipboard = js_sys::Reflect::get(&window().navigator(), &"clipboard".into());
    clipboard.is_ok_and(|clipboard| {
        clipboard.is_object() && js_sys::Reflect::has(&clipboard, &method.into()).unwrap_or(false)
    })
}
