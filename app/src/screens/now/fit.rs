//! Room for what is to be knitted: it stands in letters that are read at arm's length and is never cut off.
//! Where it does not fit, the picture gives way first, then the names, then all needles but one, and the
//! size of the letters last. The style sheet says what each step of that means (`data-fit`, and `data-letters` for
//! how far they shrink beyond it).
//!
//! What room the words leave is the picture's: the style sheet has it grow, and the fabric hang further down.
//!
//! A step is looked for only where words of such a length are met for the first time: to look, the page is laid out, and a
//! touch would wait for that; so what comes next is looked for while nobody waits (`fit_ahead`). All figures are equally
//! wide, so words that differ in nothing else have the same room.

use std::collections::HashMap;

use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use leptos::task::{spawn_local, tick};
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement};

use super::notes::Above;
use crate::picture::Picture;

/// The last step at which all needles are shown.
const ALL_NEEDLES: u8 = 4;
/// The step at which all but the needle in the hands has given way.
pub(super) const ALONE: u8 = 8;
/// The last step: whatever does not fit then is scrolled to.
pub(super) const LAST: u8 = 12;
/// The least room, in px of the style sheet, in which a picture that gave way is still worth looking at.
pub(super) const PICTURE: i32 = 88;
/// So many are remembered; a sock has fewer that differ.
const REMEMBERED: usize = 200;
/// Said while a step is looked for: what is in the picture need not be laid out then.
const LOOKING: &str = "data-looking";
/// Said where there is room for a picture.
const WITH_PICTURE: &str = "data-picture";
/// Said where the picture is small.
const SMALL: &str = "data-small";
/// Where the words stand.
const WORDS: &str = ".instruction";
/// Said there: which needle is shown, where there is room for one only.
const NEEDLE: &str = "data-needle";
/// What stands around the words and may take another line.
const AROUND: [&str; 2] = [".now-head", ".then"];

/// The room of words, as far as it was looked for. The parts of the screen share it.
#[derive(Clone, Copy)]
pub(super) struct Fits {
    known: StoredValue<HashMap<String, Fit>>,
    /// The step of the words shown last.
    before: StoredValue<u8>,
    /// The window's, in px of the style sheet.
    size: RwSignal<(i32, i32)>,
}

impl Fits {
    /// Of a screen on which nothing was looked for yet.
    pub(super) fn new() -> Self {
        Self {
            known: StoredValue::new(HashMap::new()),
            before: StoredValue::new(0),
            size: RwSignal::new((0, 0)),
        }
    }

    /// The room of the words in `node`, which stands in `around` below what is said there.
    fn of(self, around: &Element, node: &HtmlElement, above: Above) -> Fit {
        let needle = node.get_attribute(NEEDLE).unwrap_or_default();
        let size = self.size.get_untracked();
        // Larger letters can be switched on in another window, and are lost with a storage that is emptied.
        let letters = document_element_attribute("data-text");
        let key = format!(
            "{size:?} {letters:?} {above:?} {needle} {}",
            words(around, node)
        );
        let known_fit = self.known.with_value(|known| known.get(&key).copied());
        if let Some(known_fit) = known_fit {
            return known_fit;
        }
        let found = look(around, node, self.before.get_value());
        self.known.update_value(|known| {
            if known.len() >= REMEMBERED {
                known.clear();
            }
            known.insert(key, found);
        });
        found
    }

    /// Looks for the room of the words that stand in a screen that nobody sees, with nothing above them.
    pub(super) fn look_ahead(self, around: &Element) {
        let node = around.query_selector(WORDS).ok().flatten();
        if let Some(node) = node.and_then(|node| node.dyn_into::<HtmlElement>().ok()) {
            self.of(around, &node, Above::default());
        }
    }
}

/// Finds a step for what stands in `node` whenever what `track` follows is another, when what stands above all of it
/// comes or goes, and when the window's size changes.
pub(super) fn fit(node: NodeRef<html::Div>, above: Memo<Above>, track: impl Fn() + 'static) {
    let fits = use_context::<Fits>().unwrap_or_else(Fits::new);
    Effect::new(move || {
        fits.size.set(window_size());
        let listening = window_event_listener(ev::resize, move |_| fits.size.set(window_size()));
        on_cleanup(move || listening.remove());
    });
    let waits = StoredValue::new(false);
    Effect::new(move || {
        track();
        fits.size.track();
        above.track();
        if node.get().is_none() || waits.get_value() {
            return;
        }
        waits.set_value(true);
        // Everything that the change touches is written by then, and nothing is laid out yet: to lay out the words where
        // they do not stay would cost a touch as much again.
        spawn_local(async move {
            tick().await;
            waits.try_set_value(false);
            let Some(node) = node.try_get_untracked().flatten() else {
                return;
            };
            let Some(around) = node.closest(".now").ok().flatten() else {
                return;
            };
            // As it stands by now: it may have changed once more since this was asked for.
            let Some(above) = above.try_get_untracked() else {
                return;
            };
            let found = fits.of(&around, &node, above);
            found.show(&around);
            fits.before.try_set_value(found.step);
        });
    });
}

/// How the words fit.
#[derive(Debug, Clone, Copy)]
pub(super) struct Fit {
    /// The step.
    step: u8,
    /// What they leave, in px of the style sheet.
    room: i32,
    /// Whether the picture is shown so small that the names in it could not be read.
    small: bool,
}

impl Fit {
    /// An attribute that cannot be set leaves the screen as it is.
    fn show(self, around: &Element) {
        show_step(around, self.step);
        drop(around.toggle_attribute_with_force(WITH_PICTURE, self.room >= PICTURE));
        drop(around.toggle_attribute_with_force(SMALL, self.small));
        if let Some(around) = around.dyn_ref::<HtmlElement>() {
            let room = format!("{}px", self.room);
            drop(around.style().set_property("--room", &room));
        }
    }
}

fn show_step(around: &Element, step: u8) {
    let set = |name, value: u8| drop(around.set_attribute(name, &value.to_string()));
    set("data-fit", step.min(ALONE));
    set("data-letters", step.saturating_sub(ALONE));
}

/// The words whose room is looked for, and those around them, all figures alike.
fn words(around: &Element, node: &Element) -> String {
    let beside = AROUND.map(|css| around.query_selector(css).ok().flatten());
    let all = beside.iter().flatten().chain([node]);
    let texts: Vec<String> = all.filter_map(|one| one.text_content()).collect();
    alike(&texts.join("\n"))
}

/// A text with all figures alike: two that are the same then have the same room.
pub(super) fn alike(text: &str) -> String {
    let alike = |letter: char| if letter.is_ascii_digit() { '0' } else { letter };
    text.chars().map(alike).collect()
}

/// Tries steps on the words in `node`, that of the words before first.
fn look(around: &Element, node: &HtmlElement, before: u8) -> Fit {
    drop(around.set_attribute(LOOKING, ""));
    drop(around.remove_attribute(WITH_PICTURE));
    let step = first_that_fits(before, |step| {
        show_step(around, step);
        // What stands above the words can leave them less than there is: then it is the pad that is pushed out.
        let has_room = |one: &Element| one.scroll_height() <= one.client_height() + 1;
        has_room(node) && has_room(around)
    });
    show_step(around, step);
    // Measured from the node, which is positioned. A line at the end is rounded, and there is a padding.
    let last = node.last_element_child();
    let last = last.and_then(|last| last.dyn_into::<HtmlElement>().ok());
    let room = last.map_or(0, |last| {
        node.client_height() - last.offset_top() - last.offset_height() - 3
    });
    let room = room.max(0);
    let small = is_small(around, room);
    drop(around.remove_attribute(LOOKING));
    Fit { step, room, small }
}

/// Whether the picture's box, with so much room more, is less than three quarters as high as the whole picture; nothing
/// else is in the box now.
fn is_small(around: &Element, room: i32) -> bool {
    let Ok(Some(picture)) = around.query_selector(".needles") else {
        return false;
    };
    let (wide, high) = Picture::SIZE;
    let whole = f64::from(picture.client_width()) * f64::from(high / wide);
    f64::from(picture.client_height() + room) < 0.75 * whole
}

/// The first step at which the words fit, or the last one. Each step with all needles leaves more room than the one before,
/// and so does each without; so few need be tried. Mostly it is that of the words `before`, or one beside it.
fn first_that_fits(before: u8, mut fits: impl FnMut(u8) -> bool) -> u8 {
    let mut tried = [None; LAST as usize + 1];
    let mut fits = |step: u8| {
        let tried = tried.get_mut(usize::from(step));
        tried.is_none_or(|tried| *tried.get_or_insert_with(|| fits(step)))
    };
    let beside = if fits(before) {
        before.saturating_sub(1)
    } else {
        (before + 1).min(LAST)
    };
    for step in [before, beside] {
        let first_of_its_kind = step == 0 || step == ALL_NEEDLES + 1;
        let is_first = fits(step) && (first_of_its_kind || !fits(step - 1));
        if is_first && (step <= ALL_NEEDLES || !fits(ALL_NEEDLES)) {
            return step;
        }
    }
    let (mut from, mut to) = if fits(ALL_NEEDLES) {
        (0, ALL_NEEDLES)
    } else {
        (ALL_NEEDLES + 1, LAST)
    };
    while from < to {
        let middle = from.midpoint(to);
        if fits(middle) {
            to = middle;
        } else {
            from = middle + 1;
        }
    }
    from
}

fn document_element_attribute(name: &str) -> Option<String> {
    document().document_element()?.get_attribute(name)
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_step_that_fits_is_found_with_few_tries() {
        let all = 0..=LAST;
        // With all needles from one step on, or never; without from another one on, or never.
        for with_all in 0..=ALL_NEEDLES + 1 {
            for without in ALL_NEEDLES + 1..=LAST + 1 {
                let fits = |step: u8| {
                    if step <= ALL_NEEDLES {
                        step >= with_all
                    } else {
                        step >= without
                    }
                };
                let first = all.clone().find(|step| fits(*step)).unwrap_or(LAST);
                for before in all.clone() {
                    let mut tries = 0;
                    let found = first_that_fits(before, |step| {
                        tries += 1;
                        fits(step)
                    });
                    assert_eq!(found, first, "{with_all} {without} {before}");
                    let beside = before.abs_diff(first) <= 1;
                    assert!(tries <= if beside { 5 } else { 8 }, "{tries}");
                }
            }
        }
    }

    #[test]
    fn only_figures_are_alike() {
        assert_eq!(alike("Knit 16, turn"), alike("Knit 29, turn"));
        assert_ne!(alike("Knit 9, turn"), alike("Knit 10, turn"));
        assert_ne!(alike("Knit 9, turn"), alike("Purl 9, turn"));
    }
}
