//! What may come next, as a row of buttons under the text: a touch puts it where the cursor is.
//!
//! Asks the engine what that is, a moment after the last letter; what needs the whole pattern knitted, the count of the
//! round, once it has been looked at.

use std::time::Duration;

use evenloop_engine::pattern::{Completion, CountInBrackets, completions};
use evenloop_engine::sock::count_in_brackets;
use leptos::prelude::*;

use super::desk::{AT_ONCE, Desk};
use crate::after_paint::after_paint;
use crate::slices::in_slices;
use crate::text::pattern as text;

/// So long after a letter the row follows: no letter waits for it.
const MOMENT: Duration = Duration::from_millis(120);

/// What is proposed, and for which beginning of the text.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct Proposed {
    before: String,
    completions: Vec<Completion>,
}

#[component]
pub(super) fn CompletionRow(
    desk: Desk,
    /// Told when the cursor may be elsewhere.
    cursor: Trigger,
) -> impl IntoView {
    let proposed = RwSignal::new(Proposed::default());
    let nth = StoredValue::new(0_u32);
    Effect::new(move |_| {
        cursor.track();
        desk.replaced.track();
        nth.update_value(|nth| *nth = nth.wrapping_add(1));
        let now = nth.get_value();
        set_timeout(
            move || {
                // The screen may have been left, or more have been typed meanwhile.
                if nth.try_get_value() == Some(now) {
                    show_with_count(desk, proposed, move || nth.try_get_value() == Some(now));
                }
            },
            MOMENT,
        );
    });
    Effect::new(move |_| {
        // Also where nothing else was found than before.
        if desk.pending.get() {
            return;
        }
        let now = nth.get_value();
        after_paint(move || {
            if nth.try_get_value() == Some(now) {
                show_with_count(desk, proposed, move || nth.try_get_value() == Some(now));
            }
        });
    });
    let take = move |one: &Completion| {
        let now = next(desk).unwrap_or_default();
        // The row follows the text a moment later: what was touched may be begun by now, or be gone.
        let there = if now.before == proposed.read_untracked().before {
            Some(one)
        } else {
            let same = |other: &&Completion| other.words() == one.words();
            now.completions.iter().find(same)
        };
        if there.is_some_and(|one| put(desk, one)) {
            desk.letter();
            // The next touch may come before that moment is over.
            show(proposed, next(desk));
        }
        cursor.notify();
    };
    let row = move || {
        let completions = proposed.get().completions.into_iter();
        let button = |one: Completion| {
            let words = one.words().to_owned();
            view! {
                // the text keeps the focus, and the keyboard stays
                <button
                    type="button"
                    class="button"
                    on:mousedown=|event| event.prevent_default()
                    on:click=move |_| take(&one)
                >
                    <code>{words}</code>
                </button>
            }
            .into_any()
        };
        completions.map(button).collect::<Vec<_>>()
    };
    view! {
        <div class="completions" role="group" aria-label=text::COMPLETIONS>
            {row}
        </div>
    }
    .into_any()
}

fn show(proposed: RwSignal<Proposed>, new: Option<Proposed>) {
    let new = new.unwrap_or_default();
    if proposed.with_untracked(|old| *old != new) {
        proposed.set(new);
    }
}

/// What may come next where the cursor is; nothing while letters are chosen.
fn next(desk: Desk) -> Option<Proposed> {
    let area = desk.area.try_get_untracked().flatten()?;
    let place = |place: Option<Option<u32>>| place.flatten();
    let begin = place(area.selection_start().ok())?;
    if place(area.selection_end().ok())? != begin {
        return None;
    }
    let text = area.value();
    let cursor = byte_at(&text, begin);
    Some(Proposed {
        completions: completions(&text, cursor),
        before: text.get(..cursor)?.to_owned(),
    })
}

/// What may come next, at once or, where the count of the round may be the first of it, when that is worked out: nothing
/// moves under a finger. Given up where it is not asked for any more.
fn show_with_count(desk: Desk, proposed: RwSignal<Proposed>, goes_on: impl Fn() -> bool + 'static) {
    let Some(next) = next(desk) else {
        return show(proposed, None);
    };
    let Some(count) = count(desk, &next) else {
        return show(proposed, Some(next));
    };
    let mut waits = Some((next, count));
    in_slices(move || {
        if !goes_on() {
            return false;
        }
        if let Some((_, count)) = &mut waits
            && count.go_on(AT_ONCE)
        {
            return true;
        }
        if let Some((mut next, count)) = waits.take() {
            next.completions.splice(..0, count.end());
            show(proposed, Some(next));
        }
        false
    });
}

/// The count of the round, where one may end at the cursor and the text was looked at since.
fn count(desk: Desk, proposed: &Proposed) -> Option<CountInBrackets> {
    if desk.pending.get_untracked() {
        return None;
    }
    let sizes = desk.checked.with_untracked(|checked| {
        let checked = checked.as_ref();
        checked.map_or(1, |checked| checked.sizes.len().max(1))
    });
    let (recipe, _) = desk.form.with_untracked(|form| form.recipe(sizes));
    count_in_brackets(&recipe, proposed.before.len())
}

/// Puts it where the cursor is; whether that was done.
fn put(desk: Desk, one: &Completion) -> bool {
    let Some(area) = desk.area.try_get_untracked().flatten() else {
        return false;
    };
    let Ok(Some(cursor)) = area.selection_start() else {
        return false;
    };
    // What is begun has letters of one unit only.
    let units = |bytes: usize| u32::try_from(bytes).unwrap_or(u32::MAX);
    let Some(begin) = cursor.checked_sub(units(one.begun)) else {
        return false;
    };
    let done = area.set_range_text_with_start_and_end(&one.text, begin, cursor);
    let end = begin.saturating_add(units(one.text.len()));
    // Where the cursor does not follow, the text is right all the same.
    let _ = area.focus();
    let _ = area.set_selection_range(end, end);
    done.is_ok()
}

/// The byte at a place that the browser counts in units of two bytes.
fn byte_at(text: &str, place: u32) -> usize {
    let wanted = usize::try_from(place).unwrap_or(usize::MAX);
    let mut units = 0;
    for (at, letter) in text.char_indices() {
        if units >= wanted {
            return at;
        }
        units += letter.len_utf16();
    }
    text.len()
}

#[cfg(test)]
mod tests {
    use super::byte_at;

    #[test]
    fn a_place_of_the_browser_is_a_place_in_the_text() {
        let text = "a\u{bd}\u{1f9f6}k2";
        let places = [0, 1, 2, 4, 5, 6, 9].map(|place| byte_at(text, place));
        assert_eq!(places, [0, 1, 3, 7, 8, 9, 9]);
    }
}
