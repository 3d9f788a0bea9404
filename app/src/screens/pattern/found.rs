//! What was found in the text, each at its line, and the way there.

use std::sync::Arc;

use evenloop_engine::pattern::Finding;
use evenloop_engine::text::pattern_finding;
use leptos::prelude::*;

use super::desk::{Checked, Desk};
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
    let lines = desk.form.with_untracked(|form| {
        let one = |finding: &Finding| {
            let place = usize::try_from(finding.spot.line).unwrap_or(1).max(1) - 1;
            form.text
                .lines()
                .nth(place)
                .unwrap_or_default()
                .trim()
                .to_owned()
        };
        findings.iter().take(SHOWN).map(one).collect::<Vec<_>>()
    });
    let items = findings
        .iter()
        .zip(lines)
        .map(|(finding, line)| {
            let number = finding.spot.line;
            let go = Callback::new(move |()| show_line(desk, number));
            view! {
                <li>
                    {button("button bare", text::line(number), None, go)}
                    <span class="typed-line">{line}</span>
                    <span>{pattern_finding(&finding.what)}</span>
                </li>
            }
        })
        .collect_view();
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

/// Goes to a line of the text, from 1, and selects it.
fn show_line(desk: Desk, number: u32) {
    use wasm_bindgen::JsCast as _;

    let area = document().get_element_by_id(TEXT);
    let Some(area) = area.and_then(|area| area.dyn_into::<web_sys::HtmlTextAreaElement>().ok())
    else {
        return;
    };
    desk.take_up();
    let before = usize::try_from(number).unwrap_or(1).max(1) - 1;
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
