//! Room for what is to be knitted: it stands in letters that are read at arm's length and is never cut off.
//! Where it does not fit, the picture gives way first, then the names, then all needles but one, and the
//! size of the letters last. The style sheet says what each step of that means (`data-fit`, and `data-letters` for
//! how far they shrink beyond it).
//!
//! A step is looked for only where a text is met for the first time: to look, the page is laid out.

use std::collections::HashMap;

use leptos::ev;
use leptos::html;
use leptos::prelude::*;

/// The step at which all but the needle in the hands has given way.
pub(super) const ALONE: u8 = 8;
/// The last step: whatever does not fit then is scrolled to.
pub(super) const LAST: u8 = 12;
/// So many texts are remembered; a sock has fewer that differ.
const REMEMBERED: usize = 200;

/// Finds a step for what stands in `node` whenever what `track` follows is another, and when the window's
/// size changes.
pub(super) fn fit(node: NodeRef<html::Div>, track: impl Fn() + 'static) {
    let size = RwSignal::new((0, 0));
    let known = StoredValue::new(HashMap::<String, u8>::new());
    Effect::new(move || {
        size.set(window_size());
        let listening = window_event_listener(ev::resize, move |_| size.set(window_size()));
        on_cleanup(move || listening.remove());
    });
    Effect::new(move || {
        track();
        let size = size.get();
        if node.get().is_none() {
            return;
        }
        // Everything that the change touches is written by then, and nothing is painted yet.
        request_animation_frame(move || {
            let Some(node) = node.try_get_untracked().flatten() else {
                return;
            };
            let text = node.text_content().unwrap_or_default();
            let Some(around) = node.closest(".now").ok().flatten() else {
                return;
            };
            // What was noticed stands above, and leaves less room.
            let noticed = matches!(around.query_selector(".notes > *"), Ok(Some(_)));
            let key = format!("{size:?} {noticed} {text}");
            let show = |step: u8| {
                // An attribute that cannot be set leaves the letters as they are.
                let _ = around.set_attribute("data-fit", &step.min(ALONE).to_string());
                let _ =
                    around.set_attribute("data-letters", &step.saturating_sub(ALONE).to_string());
            };
            let remembered = known.with_value(|known| known.get(&key).copied());
            let found = remembered.unwrap_or_else(|| {
                (0..LAST)
                    .find(|step| {
                        show(*step);
                        node.scroll_height() <= node.client_height() + 1
                    })
                    .unwrap_or(LAST)
            });
            show(found);
            known.update_value(|known| {
                if known.len() >= REMEMBERED {
                    known.clear();
                }
                known.insert(key, found);
            });
        });
    });
}

fn window_size() -> (i32, i32) {
    let side = |value: Result<wasm_bindgen::JsValue, _>| {
        let value = value.ok().and_then(|value| value.as_f64());
        // Whole pixels are enough to tell one size from another.
        #[allow(clippy::cast_possible_truncation)]
        value.map_or(0, |value| value as i32)
    };
    (side(window().inner_width()), side(window().inner_height()))
}
