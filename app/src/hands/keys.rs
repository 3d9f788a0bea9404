//! Keys, and the page-turn pedals that send them.

use leptos::ev;
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// What a key asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Act {
    /// The round is done.
    Done,
    /// Take the last one back.
    Undo,
}

/// What has the focus.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Focus {
    /// Nothing that wants keys.
    Free,
    /// One of our own buttons, marked with [`OWN`]: it is pressed by Space and Enter already.
    Own,
    /// Anything else that wants keys for itself.
    Control,
}

/// Marks the pad and the buttons beside it: with the focus there, pedals still work.
pub const OWN: &str = "data-hands";

/// What a key means. A key held down means nothing, and neither does one with Ctrl and the like.
fn meaning(key: &str, focus: Focus, held: bool, with_others: bool) -> Option<Act> {
    if held || with_others || focus == Focus::Control {
        return None;
    }
    match key {
        " " | "Enter" if focus == Focus::Own => None,
        " " | "Enter" | "ArrowRight" | "PageDown" => Some(Act::Done),
        "Backspace" | "ArrowLeft" | "PageUp" => Some(Act::Undo),
        _ => None,
    }
}

/// Calls `act` for keys, with the browser's time of the press, for as long as the caller lives.
/// To be called from an effect.
pub fn listen(act: impl Fn(Act, f64) + 'static) {
    let listening = window_event_listener(ev::keydown, move |event| {
        let focus = focus_of(&event);
        let others = event.ctrl_key() || event.alt_key() || event.meta_key() || event.shift_key();
        if event.repeat() && focus == Focus::Own && matches!(event.key().as_str(), " " | "Enter") {
            // A button repeats its press while Enter is held.
            event.prevent_default();
        }
        if let Some(meant) = meaning(&event.key(), focus, event.repeat(), others) {
            event.prevent_default();
            act(meant, event.time_stamp());
        }
    });
    on_cleanup(move || listening.remove());
}

/// Elements that do something of their own with keys. Packing fills this and [`OWN`] into `public/first.js`.
pub const CONTROLS: &str = "a[href], button, input, select, textarea, summary, dialog, \
                            [contenteditable], [tabindex='0']";

fn focus_of(event: &ev::KeyboardEvent) -> Focus {
    let target = event
        .target()
        .and_then(|t| t.dyn_into::<web_sys::Element>().ok());
    let Some(element) = target else {
        return Focus::Free;
    };
    let within = |selector: &str| matches!(element.closest(selector), Ok(Some(_)));
    if within(&format!("[{OWN}]")) {
        Focus::Own
    } else if within(CONTROLS) {
        Focus::Control
    } else {
        Focus::Free
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pressed(key: &str, focus: Focus) -> Option<Act> {
        meaning(key, focus, false, false)
    }

    #[test]
    fn keys_and_pedals_count_and_take_back() {
        for key in [" ", "Enter", "ArrowRight", "PageDown"] {
            assert_eq!(pressed(key, Focus::Free), Some(Act::Done), "{key}");
        }
        for key in ["Backspace", "ArrowLeft", "PageUp"] {
            assert_eq!(pressed(key, Focus::Free), Some(Act::Undo), "{key}");
        }
        for key in ["a", "Tab", "Escape", "ArrowUp", "ArrowDown", "Delete"] {
            assert_eq!(pressed(key, Focus::Free), None, "{key}");
        }
    }

    #[test]
    fn controls_keep_their_keys() {
        for key in [
            " ",
            "Enter",
            "ArrowRight",
            "PageDown",
            "Backspace",
            "ArrowLeft",
            "PageUp",
        ] {
            assert_eq!(pressed(key, Focus::Control), None, "{key}");
        }
    }

    #[test]
    fn the_pad_is_pressed_once_by_its_own_keys_and_pedals_still_work() {
        assert_eq!(pressed(" ", Focus::Own), None);
        assert_eq!(pressed("Enter", Focus::Own), None);
        assert_eq!(pressed("PageDown", Focus::Own), Some(Act::Done));
        assert_eq!(pressed("ArrowLeft", Focus::Own), Some(Act::Undo));
    }

    #[test]
    fn a_held_key_or_one_with_others_means_nothing() {
        assert_eq!(meaning("PageDown", Focus::Free, true, false), None);
        assert_eq!(meaning("ArrowLeft", Focus::Free, false, true), None);
    }
}
