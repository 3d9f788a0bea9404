//! Handing a text to the browser as a file, and reading one that was chosen.
//!
//! May talk to the browser; must not know what is in a file.

use std::time::Duration;

use leptos::prelude::{document, set_timeout};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, BlobPropertyBag, File, HtmlAnchorElement, HtmlInputElement, Url};

/// What a file is, for its name's sake and the system's.
pub const JSON: &str = "application/json";
/// Plain words.
pub const TEXT: &str = "text/plain;charset=utf-8";

/// The browser would not; there is nothing more to be known.
#[derive(Debug, Clone, Copy)]
pub struct Unwilling;

impl From<JsValue> for Unwilling {
    fn from(_: JsValue) -> Self {
        Self
    }
}

/// Offers a text as a file to be saved.
///
/// # Errors
/// When the browser cannot make files.
pub fn save(name: &str, media: &str, text: &str) -> Result<(), Unwilling> {
    let kind = BlobPropertyBag::new();
    kind.set_type(media);
    let parts = js_sys::Array::of1(&JsValue::from_str(text));
    let blob = Blob::new_with_str_sequence_and_options(&parts, &kind)?;
    let address = Url::create_object_url_with_blob(&blob)?;
    let link: HtmlAnchorElement = document()
        .create_element("a")?
        .dyn_into()
        .map_err(|_| Unwilling)?;
    link.set_href(&address);
    link.set_download(name);
    link.set_rel("external");
    // Some browsers only follow links that are in the page.
    let body = document().body().ok_or(Unwilling)?;
    body.append_child(&link)?;
    link.click();
    link.remove();
    // Others still read it a while after the click.
    let forget = move || {
        let _ = Url::revoke_object_url(&address);
    };
    set_timeout(forget, Duration::from_mins(1));
    Ok(())
}

/// Takes the chosen file out of its input, so that the same one can be chosen again.
pub fn chosen(input: &HtmlInputElement) -> Option<File> {
    let file = input.files().and_then(|files| files.get(0));
    input.set_value("");
    file
}

/// The file's text.
///
/// # Errors
/// When it cannot be read.
pub async fn read(file: &File) -> Result<String, Unwilling> {
    JsFuture::from(file.text())
        .await?
        .as_string()
        .ok_or(Unwilling)
}

/// Today by the device's clock and place, as 2026-11-25.
pub fn today() -> String {
    let now = js_sys::Date::new_0();
    format!(
        "{}-{:02}-{:02}",
        now.get_full_year(),
        now.get_month() + 1,
        now.get_date()
    )
}
