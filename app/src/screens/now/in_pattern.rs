//! The line of the knitter's own pattern that is worked.

use leptos::prelude::*;

use crate::in_hand::Session;
use crate::parts::plain::paragraph;
use crate::text;

/// A line as it was typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct TypedLine {
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
                line: pair.plan.pattern_line(mv)?.to_owned(),
                count: mv.is_by_count().then(|| after.after.stitches()),
            })
        })
    })
}

/// The line, and the count that is wanted after it.
pub(super) fn shown(typed: &TypedLine) -> Vec<AnyView> {
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
    pieces.extend(
        typed
            .count
            .map(|n| paragraph("remark", text::now::count_here(n))),
    );
    pieces
}
