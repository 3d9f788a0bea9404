//! Room for what is to be knitted: it stands in letters that are read at arm's length and is never cut off.
//! Where it does not fit, the picture gives way first, then the names, then all needles but one, and the
//! size of the letters last. The style sheet says what each step of that means (`data-fit`, and `data-letters` for
//! how far they shrink beyond it).
//!
//! What room the words leave is the picture's: the style sheet has it grow, and the fabric hang further down.
//!
//! A step is looked for only where a text is met for the first time: to look, the page is laid out.

use std::collections::HashMap;

use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement};

/// The step at which all but the needle in the hands has given way.
pub(super) const ALONE: u8 = 8;
/// The last step: whatever does not fit then is scrolled to.
pub(super) const LAST: u8 = 12;
/// The least room, in px of the style sheet, in which a picture that gave way is still worth looking at.
pub(super) const PICTURE: i32 = 88;
/// So many texts are remembered; a sock has fewer that differ.
const REMEMBERED: usize = 200;

/// Finds a step for what stands in `node` whenever what `track` follows is another, when another needle is shown, and
/// when the window's size changes.
pub(super) fn fit(
    node: NodeRef<html::Div>,
    shown_needle: RwSignal<usize>,
    track: impl Fn() + 'static,
) {
    let size = RwSignal::new((0, 0));
    let known = StoredValue::new(HashMap::<String, Fit>::new());
    Effect::new(move || {
        size.set(window_size());
        let listening = window_event_listener(ev::resize, move |_| size.set(window_size()));
        on_cleanup(move || listening.remove());
    });
    Effect::new(move || {
        track();
        let shown_needle = shown_needle.get();
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
            let key = format!("{size:?} {noticed} {text} {shown_needle}");
            let known_fit = known.with_value(|known| known.get(&key).copied());
            let found = known_fit.unwrap_or_else(|| look(&around, &node));
            found.show(&around);
            known.update_value(|known| {
                if known.len() >= REMEMBERED {
                    known.clear();
                }
                known.insert(key, found);
            });
        });
    });
}

/// How the words fit.
#[derive(Debug, Clone, Copy)]
struct Fit {
    /// The step.
    step: u8,
    /// What they leave, in px of the style sheet.
    room: i32,
}

impl Fit {
    /// An attribute that cannot be set leaves the screen as it is.
    fn show(self, around: &Element) {
        let set = |name, value: &str| drop(around.set_attribute(name, value));
        set("data-fit", &self.step.min(ALONE).to_string());
        set("data-letters", &self.step.saturating_sub(ALONE).to_string());
        drop(around.toggle_attribute_with_force("data-picture", self.room >= PICTURE));
        if let Some(around) = around.dyn_ref::<HtmlElement>() {
            let room = format!("{}px", self.room);
            drop(around.style().set_property("--room", &room));
        }
    }
}

/// Tries the steps on the words in `node`, one after the other.
fn look(around: &Element, node: &HtmlElement) -> Fit {
    let fits = |step: &u8| {
        let room = 0;
        Fit { step: *step, room }.show(around);
        node.scroll_height() <= node.client_height() + 1
    };
    let step = (0..LAST).find(fits).unwrap_or_else(|| {
        fits(&LAST);
        LAST
    });
    // Measured from the node, which is positioned. A line at the end is rounded, and there is a padding.
    let last = node.last_element_child();
    let last = last.and_then(|last| last.dyn_into::<HtmlElement>().ok());
    let room = last.map_or(0, |last| {
        node.client_height() - last.offset_top() - last.offset_height() - 3
    });
    Fit {
        step,
        room: room.max(0),
    }
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
