//! What was found in the text, each at its line, and the way there.

use std::sync::Arc;

use evenloop_engine::pattern::{Finding, FindingKind, Spot};
use evenloop_engine::text::{Typed, pattern_finding};
use leptos::prelude::*;

use super::desk::{Checked, Desk};
use super::marked::{Marked, in_place_of, marked, with_word};
use super::step::step;
use super::text_step::TEXT;
use crate::parts::plain::{button, paragraph};
use crate::parts::{Notice, Select};
use crate::text::pattern as text;

/// So many are shown at once: whoever mends them sees the next ones.
const SHOWN: usize = 12;

#[component]
pub(super) fn FoundStep(desk: Desk) -> impl IntoView {
    let findings = Memo::new(move |_| {
        let checked = desk.checked.read();
        checked.as_ref().map(|checked| checked.findings.clone())
    });
    let told = move || match findings.get() {
        None if desk.pending.get() => paragraph("soft", text::READING),
        None => paragraph("soft", text::NOTHING_YET),
        Some(findings) if findings.is_empty() => {
            view! { <Notice>{paragraph("", text::ALL_WELL)}</Notice> }.into_any()
        }
        Some(findings) => list(desk, &findings),
    };
    let busy = move || desk.pending.get().then_some("true");
    let sizes = Memo::new(move |_| {
        let checked = desk.checked.read();
        checked
            .as_ref()
            .map_or_else(Vec::new, |checked: &Arc<Checked>| checked.sizes.clone())
    });
    let choose_size = move || {
        let sizes = sizes.get();
        (sizes.len() > 1).then(|| {
            let options = sizes.iter().enumerate();
            let options = options
                .map(|(place, name)| text::size(place, name))
                .collect();
            let picked = Signal::derive(move || usize::from(desk.form.read().size));
            let on_pick = Callback::new(move |place: usize| {
                desk.change(|form| form.size = u8::try_from(place).unwrap_or(0));
                desk.look();
            });
            view! {
                <Select id="pattern-size" label=text::SIZE options picked on_pick />
            }
        })
    };
    step(
        text::FOUND,
        "",
        vec![
            choose_size.into_any(),
            view! {
                <div class="found-in-pattern" aria-live="polite" aria-busy=busy>
                    {told}
                </div>
            }
            .into_any(),
        ],
    )
}

fn list(desk: Desk, findings: &[Finding]) -> AnyView {
    let items = desk.form.with_untracked(|form| {
        let shown = findings.iter().take(SHOWN);
        let line_of = |spot: Spot| {
            let lines = &mut form.text.lines();
            lines.nth(lines_before(spot.line)).unwrap_or_default()
        };
        shown
            .map(|finding| item(desk, finding, line_of(finding.spot)))
            .collect_view()
    });
    let more = findings.len().saturating_sub(SHOWN);
    view! {
        <p>
            <strong>{text::found(findings.len())}</strong>
        </p>
        <ol class="to-mend">{items}</ol>
        {(more > 0).then(|| paragraph("soft", text::more(more)))}
        {paragraph("soft", text::FOUND_LEAD)}
    }
    .into_any()
}

/// A finding: the way to its line, the line with its word marked, what was found and, where another word is probably
/// meant, that word to be taken.
fn item(desk: Desk, finding: &Finding, line: &str) -> AnyView {
    let spot = finding.spot;
    let go = Callback::new(move |()| show_line(desk, spot.line));
    let Marked {
        before,
        word,
        after,
    } = marked(line, spot.column);
    // A number that does not come out is not the word's fault.
    let unread = match finding.what {
        FindingKind::Unread { nearest, .. } if !word.is_empty() => Some(nearest),
        _ => None,
    };
    // What is nearest is told of the letters that patterns are written in.
    let meant = unread.flatten().filter(|_| word.is_ascii());
    let typed = word.to_owned();
    let word = match unread {
        Some(_) => view! { <mark>{typed.clone()}</mark> }.into_any(),
        None => typed.clone().into_any(),
    };
    let take = meant.map(|meant| {
        let label = text::write_instead(&Typed::new(in_place_of(&typed, meant)));
        let take = Callback::new(move |()| {
            desk.take_up();
            let mended = desk.form.with_untracked(|form| {
                with_word(&form.text, spot.line, spot.column, &typed, meant)
            });
            if let Some(mended) = mended {
                desk.mend(mended);
            }
        });
        button("button", label, None, take)
    });
    view! {
        <li>
            {button("button bare", text::line(spot.line), None, go)}
            <span class="typed-line">
                {before.trim_start().to_owned()} {word} {after.trim_end().to_owned()}
            </span>
            <span>{pattern_finding(&finding.what)}</span>
            {take}
        </li>
    }
    .into_any()
}

/// How many lines stand before one, which is counted from 1.
fn lines_before(line: u32) -> usize {
    usize::try_from(line).unwrap_or(1).max(1) - 1
}

/// Goes to a line of the text, from 1, and selects it.
fn show_line(desk: Desk, number: u32) {
    use wasm_bindgen::JsCast as _;

    let area = document().get_element_by_id(TEXT);
    let Some(area) = area.and_then(|area| area.dyn_into::<web_sys::HtmlTextAreaElement>().ok())
    else {
        return;
    };
    desk.take_up();
    let before = lines_before(number);
    let (begin, end, all) = desk.form.with_untracked(|form| {
        // As the browser counts letters, and line ends as one.
        let length = |line: &str| line.encode_utf16().count();
        let mut lines = form.text.lines();
        let begin: usize = lines
            .by_ref()
            .take(before)
            .map(|line| length(line) + 1)
            .sum();
        let line = lines.next().map_or(0, length);
        (begin, begin + line, form.text.lines().count().max(1))
    });
    let at = |place: usize| u32::try_from(place).unwrap_or(u32::MAX);
    // Where any of this fails, the line is still named beside the finding.
    let _ = area.focus();
    let _ = area.set_selection_range(at(begin), at(end));
    let height = usize::try_from(area.scroll_height()).unwrap_or(0);
    let above = height * before / all;
    let shown = usize::try_from(area.client_height()).unwrap_or(0) / 3;
    area.set_scroll_top(i32::try_from(above.saturating_sub(shown)).unwrap_or(0));
}
