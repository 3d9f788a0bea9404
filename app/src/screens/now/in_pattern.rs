//! The line of the knitter's own pattern that is worked, and what was found in it.

// The attribute that marks where to split writes foreign functions, which the tool puts in; what it
// marks has to have a result.
#![allow(unsafe_code, clippy::unnecessary_wraps)]

use evenloop_engine::pattern::LineFinding;
use evenloop_engine::text::pattern_finding;
use leptos::prelude::*;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use crate::in_hand::Session;
use crate::parts::later;
use crate::parts::plain::paragraph;
use crate::text;

/// A line as it was typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct TypedLine {
    line: String,
    /// How many stitches there are when it is done, where its words alone say how it is worked.
    count: Option<u16>,
    /// What was found in it when the pair was cast on.
    found: Vec<LineFinding>,
}

/// The line that is worked now; none of a part that is ours.
pub(super) fn typed(session: Session) -> Memo<Option<TypedLine>> {
    Memo::new(move |_| {
        let at = session.at();
        session.with(|pair| {
            let (_, mv) = pair.plan.move_at(at)?;
            let after = pair.trace.steps.get(at.step)?.moves.get(at.mv)?;
            Some(TypedLine {
                line: pair.plan.pattern_line(mv)?.to_owned(),
                count: mv.is_by_count().then(|| after.after.stitches()),
                found: pair.plan.found_in(mv).cloned().collect(),
            })
        })
    })
}

/// The line, what was found in it, and the count that is wanted after it; `arrived` is told when what was found
/// stands there.
pub(super) fn shown(typed: &TypedLine, arrived: RwSignal<bool>) -> Vec<AnyView> {
    let line = typed.line.clone();
    let mut pieces = vec![
        view! {
            <p class="typed-line">
                <span class="unseen">{text::now::TYPED}</span>
                {line}
            </p>
        }
        .into_any(),
    ];
    let found = typed.found.clone();
    pieces.extend((!found.is_empty()).then(|| {
        later(
            || Box::pin(load_told()),
            move || {
                arrived.set(true);
                Box::pin(told(found.clone()))
            },
        )
    }));
    pieces.extend(
        typed
            .count
            .map(|n| paragraph("remark", text::now::count_here(n))),
    );
    pieces
}

/// What was found, in sentences: in the part of what is opened at rest, so that who knits a sock of ours does not
/// wait for them.
#[wasm_split(pause, wasm_split_path = ::leptos::wasm_split, preload(load_told), fallible)]
fn told(found: Vec<LineFinding>) -> Result<AnyView, SplitLoaderError> {
    // What a newer Evenloop found is not known here.
    let found = found.iter().filter_map(LineFinding::found);
    let said = found.map(|found| text::now::found_here(&pattern_finding(&found)));
    let lines: Vec<AnyView> = said
        .map(|said| paragraph("remark in-pattern", said))
        .collect();
    Ok(lines.into_any())
}
