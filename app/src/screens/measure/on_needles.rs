//! The pair in hand, above a form for a new one: it is never cast on once more by mistake, and another pair
//! like it is one touch away.

use std::sync::Arc;

use evenloop_engine::recipe::Recipe;
use evenloop_engine::text::Wording;
use leptos::prelude::*;

use super::arrival::take;
use super::begun::Begun;
use super::desk::Desk;
use super::form::MeasureForm;
use crate::base::to;
use crate::parts::plain::{button, following, group, link, paragraph};
use crate::parts::{Notice, Tone};
use crate::routes::{self, Screen};
use crate::store;
use crate::text::measure as text;

#[component]
pub(super) fn OnNeedles(
    desk: Desk,
    /// Whether the draft stands in the form.
    ready: RwSignal<bool>,
) -> impl IntoView {
    let in_hand = RwSignal::new(None::<Arc<Begun>>);
    let taken = RwSignal::new(false);
    Effect::new(move || {
        if ready.get() && desk.begun.read_untracked().is_none() {
            let open = store::here()
                .current()
                .and_then(|id| Begun::open(&id.to_string()).ok());
            in_hand.set(open.map(Arc::new));
        }
    });
    let another = Callback::new(move |()| {
        if let Some(begun) = in_hand.get_untracked() {
            let form = MeasureForm::of(&first_sock(&begun), desk.unit_untracked());
            let keep = !desk.form.with_untracked(MeasureForm::untouched);
            take(desk, form, keep);
            taken.set(true);
        }
    });
    following("on-needles", move || {
        let Some(begun) = in_hand.get() else {
            return Vec::new();
        };
        let pieces = if taken.get() {
            vec![paragraph("", text::another_taken(&begun.name))]
        } else {
            offered(&begun, desk.wording(), another)
        };
        vec![view! { <Notice tone=Tone::Note>{pieces}</Notice> }.into_any()]
    })
}

/// What can be done with the pair in hand.
fn offered(begun: &Begun, wording: Wording, another: Callback<()>) -> Vec<AnyView> {
    let mut ways = Vec::new();
    if !begun.is_finished() {
        ways.push(link("button lead", to(Screen::Now.path()), text::KNIT_ON));
        // The form reads once what it is for: another address on this screen is another visit.
        let change = to(&routes::change_of(&begun.id));
        let change = view! {
            <a class="button" rel="external" href=change>
                {text::BEGUN_TITLE}
            </a>
        };
        ways.push(change.into_any());
    }
    ways.push(button("button", text::ANOTHER, None, another));
    let said = if begun.is_finished() {
        text::in_hand_finished(&begun.name)
    } else {
        text::in_hand(&begun.name, begun.sock, &begun.place(wording))
    };
    vec![
        paragraph("", said),
        group("buttons", ways),
        paragraph("soft", text::FOR_ANOTHER),
    ]
}

/// What the first sock of the pair is made from, whichever is on the needles.
fn first_sock(begun: &Begun) -> Recipe {
    let recipe = &begun.plan().recipe;
    let mirrored = (begun.sock == 2).then(|| recipe.second_sock()).flatten();
    mirrored.unwrap_or_else(|| recipe.clone())
}
