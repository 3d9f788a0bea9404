//! The round of the pattern that is worked now, as one row of its chart: a repeat, read as it is
//! knitted, with its number where a chart has it. The whole chart is one touch away.

use evenloop_engine::text as engine_text;
use leptos::prelude::*;

use crate::in_hand::Session;
use crate::parts::symbols;
use crate::preferences::use_preferences;
use crate::text;

/// Side of a cell in the drawing.
const SIDE: usize = 24;

/// The row; nothing in rounds without a pattern.
pub(super) fn strip(session: Session) -> AnyView {
    let preferences = use_preferences();
    let number = Memo::new(move |_| {
        let at = session.at();
        session.with(|pair| pair.plan.move_at(at)?.1.motif_round())
    });
    let shown = move || {
        let number = number.get()?;
        let index = usize::from(number).checked_sub(1)?;
        let row = session.with(|pair| {
            let motif = pair.plan.recipe.motif.as_ref()?;
            motif.rows.get(index).cloned()
        })?;
        let label = text::now::strip(
            number,
            &engine_text::motif_row(&row, preferences.get().style),
        );
        let row = symbols(&row);
        let wide: usize = row.iter().map(|symbol| symbol.span() * SIDE).sum();
        let mut right = wide;
        let cells: Vec<_> = row
            .into_iter()
            .map(|symbol| {
                let span = symbol.span() * SIDE;
                right -= span;
                view! {
                    <g transform=format!("translate({right} 0)")>
                        <path class="chart-box" d=format!("M0 0h{span}v{SIDE}H0z")></path>
                        <path d=symbol.path()></path>
                    </g>
                }
            })
            .collect();
        let (all, middle) = (wide + SIDE, SIDE / 2);
        Some(
            view! {
                <svg
                    class="chart-picture worked-row"
                    viewBox=format!("-1 -1 {} {}", all + 2, SIDE + 2)
                    width=all.to_string()
                    role="img"
                    aria-label=label
                    focusable="false"
                >
                    {cells}
                    <text x=(wide + middle).to_string() y=middle.to_string()>
                        {number.to_string()}
                    </text>
                </svg>
            }
            .into_any(),
        )
    };
    shown.into_any()
}
