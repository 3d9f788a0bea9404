//! A look around: all rounds of the section at hand, over the screen. Nothing counts in here.

use leptos::prelude::*;

use super::copy;
use super::rounds::Rounds;
use super::session::Session;
use crate::parts::Pane;

#[component]
pub(super) fn Around(
    /// The pair.
    session: Session,
    /// Whether it is open.
    open: RwSignal<bool>,
    /// The place was changed.
    on_jump: Callback<()>,
) -> impl IntoView {
    let section = move || {
        let at = session.at();
        session.with(|pair| {
            pair.trace
                .steps
                .get(at.step)
                .or(pair.trace.steps.last())
                .map(|step| step.section)
        })
    };
    let jumped = Callback::new(move |()| {
        open.set(false);
        on_jump.run(());
    });
    view! {
        <Pane label=copy::AROUND open close=copy::AROUND_CLOSE>
            {section()
                .map(|section| view! { <Rounds session section titled=true on_jump=jumped /> })}
        </Pane>
    }
    .into_any()
}
