//! The line of the knitter's own pattern that is worked, and what was found in it.

use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::after_paint::after_paint;
use crate::in_hand::Session;
use crate::lazy_pattern;
use crate::parts::plain::paragraph;
use crate::text;

/// A line as it was typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct TypedLine {
    /// From 1.
    number: u32,
    line: String,
    /// How many stitches there are when it is done, where its words alone say how it is worked.
    count: Option<u16>,
}

/// The line that is worked now; none of a part that is ours.
pub(super) fn typed(session: Session) -> Memo<Option<TypedLine>> {
    Memo::new(move |_| {
        let at = session.at();
        session.with(|pair| {
            let (_, mv) = pair.plan.move_at(at)?;
            let after = pair.trace.steps.get(at.step)?.moves.get(at.mv)?;
            Some(TypedLine {
                number: mv.pattern_line_number()?.into(),
                line: pair.plan.pattern_line(mv)?.to_owned(),
                count: mv.is_by_count().then(|| after.after.stitches()),
            })
        })
    })
}

/// What was found in the pattern's lines, looked up once all else is on the screen.
pub(super) fn found(session: Session) -> RwSignal<Vec<(u32, String)>> {
    let found = RwSignal::new(Vec::new());
    let follows = Memo::new(move |_| session.with(|pair| pair.plan.recipe.written.is_some()));
    Effect::new(move || {
        if !follows.get() {
            return;
        }
        let recipe = untrack(|| session.with(|pair| Box::new(pair.plan.recipe.clone())));
        after_paint(move || {
            spawn_local(async move {
                // Without it the line is followed all the same. The screen may have been left meanwhile.
                if let Ok(said) = lazy_pattern::found_in(recipe).await {
                    found.try_set(said);
                }
            });
        });
    });
    found
}

/// The line and what was found in it.
pub(super) fn shown(typed: &TypedLine, found: &[(u32, String)]) -> Vec<AnyView> {
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
    let here = found.iter().filter(|(number, _)| *number == typed.number);
    pieces
        .extend(here.map(|(_, said)| paragraph("remark in-pattern", text::now::found_here(said))));
    pieces.extend(
        typed
            .count
            .map(|n| paragraph("remark", text::now::count_here(n))),
    );
    pieces
}
