//! Count check: what is on the needles against what should be.

use evenloop_engine::tally::{self, Finding};
use evenloop_engine::text as engine_text;
use evenloop_engine::text::{FindingText, Wording};
use leptos::prelude::*;

use super::needles::needles;
use crate::in_hand::{JumpScope, Session, confirm_jump};
use crate::parts::plain::{following, paragraph, weighty};
use crate::parts::{Notice, Tone, use_wording};
use crate::text;

/// At most so many causes are named; further ones are unlikely.
const TOLD: usize = 3;

/// The page.
pub(super) fn count(session: Session, jumped: Callback<()>) -> Vec<AnyView> {
    let mut expected = session.per_needle_untracked();
    if expected.is_empty() {
        // Before the cast-on there is nothing to count, and that can be right.
        expected.push(0);
    }
    let due = expected.clone();
    let counted = RwSignal::new(expected);
    let wording = use_wording();
    let findings = following("findings", move || {
        let (right, told) = counted.with(|counted| found(session, counted, wording.get()));
        let tone = if right { Tone::Note } else { Tone::Mind };
        let mut shown = Vec::with_capacity(2 * TOLD);
        for told in told {
            if !shown.is_empty() {
                shown.push(paragraph("or", text::pause::OR));
            }
            shown.push(cause(session, told, tone, jumped));
        }
        shown
    });
    vec![
        paragraph("", text::pause::COUNT_LEAD),
        needles(counted, &due, "count"),
        findings,
    ]
}

/// Whether a count is right, and what it may mean.
fn found(session: Session, counted: &[u16], wording: Wording) -> (bool, Vec<FindingText>) {
    let at = session.place_untracked();
    session.with(|pair| {
        let found = tally::check_within(pair.plan, pair.trace, at, counted);
        let told = found
            .iter()
            .take(TOLD)
            .map(|one| engine_text::finding(pair.plan, pair.trace, at, counted, *one, wording));
        (found == [Finding::Right], told.collect())
    })
}

/// What it may be, and how to mend it.
fn cause(session: Session, told: FindingText, tone: Tone, jumped: Callback<()>) -> AnyView {
    let FindingText { what, mend, place } = told;
    let mut pieces = vec![weighty(what), paragraph("", mend)];
    pieces.extend(place.map(|to| confirm_jump(session, to, jumped, None, JumpScope::Sock)));
    view! { <Notice tone>{pieces}</Notice> }.into_any()
}
