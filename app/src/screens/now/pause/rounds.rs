//! All rounds of the section at hand, and above them the pattern's chart with the round at hand lit. Nothing
//! counts in here.

use leptos::prelude::*;

use crate::in_hand::{Rounds, Session};
use crate::parts::plain::paragraph;
use crate::parts::{Cells, Chart, said};
use crate::text;

/// What there is to see.
pub(super) fn rounds(session: Session, jumped: Callback<()>) -> Vec<AnyView> {
    let at = session.at_untracked();
    let section = session.with(|pair| {
        let steps = &pair.trace.steps;
        let seen = steps.get(at.step).or(steps.last());
        seen.map(|step| step.section)
    });
    let rounds = section
        .map(|section| view! { <Rounds session section titled=true on_jump=jumped /> }.into_any());
    let all = [needles(session), pattern(session), rounds];
    all.into_iter().flatten().collect()
}

/// What it is knitted on, where that was noted.
fn needles(session: Session) -> Option<AnyView> {
    let needle = session.with(|pair| pair.plan.recipe.swatch.needle)?;
    Some(paragraph("soft small", text::now::needles(needle)))
}

/// The chart of a sock that has a pattern.
fn pattern(session: Session) -> Option<AnyView> {
    let cells = session.with(|pair| Cells::of(&pair.plan.recipe.motif.as_ref()?.rows))?;
    let lit = Memo::new(move |_| {
        let at = session.at();
        let round = session.with(|pair| pair.plan.move_at(at)?.1.motif_round())?;
        Some(usize::from(round.saturating_sub(1)))
    });
    let label = move || text::now::chart(lit.get());
    Some(
        view! {
            <figure class="pattern">
                <Chart cells label=said(text::now::chart_label) lit />
                <figcaption>{label}</figcaption>
            </figure>
        }
        .into_any(),
    )
}
