//! The app: screens that show what the engine decides.
//!
//! The same components run twice: on the server they become text (feature `ssr`), in the browser
//! they take that text over (feature `hydrate`). The first browser render must equal the server's,
//! so nothing here may look at storage, the clock or the window before an effect runs.
//!
//! May use the engine and the browser; must not know how it is served, and does no sock
//! arithmetic of its own.

// The component macro writes functions that are `pub` in rooms that are not.
#![allow(unreachable_pub)]

pub mod after_paint;
pub mod app;
pub mod bars;
pub mod base;
mod bring_in;
mod circle;
mod clipboard;
pub mod fabric;
pub mod files;
pub mod first_paint;
pub mod hands;
pub mod hue;
mod in_hand;
pub mod lazy_pattern;
pub mod lazy_pictures;
mod lazy_practice;
pub mod lazy_screens;
pub mod lazy_store;
mod moment;
mod moves;
pub mod offline;
mod pair_place;
pub mod parts;
pub mod picture;
mod practice;
pub mod preferences;
mod recovery;
pub mod routes;
pub mod screens;
pub mod sheet;
#[cfg(feature = "ssr")]
pub mod shell;
pub mod slices;
pub mod starters;
pub mod store;
mod tenths;
mod text;

/// Takes over the page the server rendered, once what its screen needs is here. Called once, by the
/// boot script.
///
/// # Errors
/// When the screen's part of the app cannot be fetched.
#[cfg(feature = "hydrate")]
#[wasm_bindgen::prelude::wasm_bindgen]
pub async fn hydrate() -> Result<(), wasm_bindgen::JsValue> {
    std::panic::set_hook(Box::new(|info| {
        leptos::logging::error!("{info}");
        show_trouble();
    }));
    let path = web_sys::window().and_then(|window| window.location().pathname().ok());
    let path = path.map(|path| base::of_page().path(&path));
    if let Some(screen) = path.as_deref().and_then(routes::Screen::at) {
        lazy_screens::load(screen)
            .await
            .map_err(|error| wasm_bindgen::JsValue::from_str(&error.to_string()))?;
    }
    leptos::mount::hydrate_body(app::App);
    lazy_screens::is_awake();
    Ok(())
}

/// Uncovers the message that stands hidden in every page for the day something breaks.
#[cfg(feature = "hydrate")]
fn show_trouble() {
    let element = web_sys::window()
        .and_then(|window| window.document())
        .and_then(|document| document.get_element_by_id("trouble"));
    if let Some(element) = element {
        // The page is already in trouble; a failure here cannot be shown either.
        let _ = element.remove_attribute("hidden");
    }
}
