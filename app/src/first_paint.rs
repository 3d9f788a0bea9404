//! The screen that stood there before the app was awake: `public/first.js` put it there. The app asks it to go.
//!
//! May talk to that script; must not know any screen.

/// What is done when the app takes over.
pub type Take = Box<dyn FnOnce()>;

/// How soon it is asked again whether a finger still rests on it.
#[cfg(feature = "hydrate")]
const AGAIN: std::time::Duration = std::time::Duration::from_millis(30);

/// Has what the first paint showed go, as soon as no finger rests on it. `take` is called just before: from then on
/// every touch is the app's.
#[cfg(feature = "hydrate")]
pub fn take_over(take: Take) {
    // A page that was loaded for another screen has no such script, or it failed.
    if close().unwrap_or(true) {
        take();
        let _ = leave();
    } else {
        leptos::prelude::set_timeout(move || take_over(take), AGAIN);
    }
}

/// On the server nothing was painted.
#[cfg(not(feature = "hydrate"))]
pub fn take_over(_: Take) {}

/// Removes it where another screen is shown: the touches made until then are taken when the pair is opened.
pub fn let_go() {
    take_over(Box::new(|| {}));
}

/// Whether it stands there and counts touches.
#[cfg(feature = "hydrate")]
pub fn is_shown() -> bool {
    let page = leptos::prelude::document().document_element();
    page.is_some_and(|page| page.has_attribute("data-first"))
}

/// On the server nothing was painted.
#[cfg(not(feature = "hydrate"))]
pub const fn is_shown() -> bool {
    false
}

#[cfg(feature = "hydrate")]
#[wasm_bindgen::prelude::wasm_bindgen]
extern "C" {
    #[wasm_bindgen(catch, js_namespace = evenloopFirst)]
    fn close() -> Result<bool, wasm_bindgen::JsValue>;

    #[wasm_bindgen(catch, js_namespace = evenloopFirst)]
    fn leave() -> Result<(), wasm_bindgen::JsValue>;
}
