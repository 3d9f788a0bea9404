//! A leg that follows the calf: where it is measured round, and a drawing of it.

use leptos::prelude::*;

use super::bound::{Lines, More, Trouble};
use super::measures::LegDrawing;
use crate::screens::measure::desk::Desk;
use crate::screens::measure::fields::FormPlace;
use crate::screens::measure::form::FieldGroup;
use crate::screens::measure::form::{GIRTHS, MeasureForm};
use crate::text::measure as text;

/// The places, and a button for one more.
#[component]
pub(super) fn Calf(desk: Desk) -> impl IntoView {
    let count = Memo::new(move |_| desk.form.read().girths);
    let places = move || {
        (0..GIRTHS)
            .map(|place| (place < count.get()).then(|| girth(desk, place)))
            .collect_view()
    };
    let full = move || count.get() >= GIRTHS;
    let add = move |_| {
        if !full() {
            desk.form.update(MeasureForm::add_girth);
        }
    };
    view! {
        <More title=text::CALF>
            <p class="soft">{text::CALF_TEXT}</p>
            <LegDrawing desk />
            {places}
            <Trouble desk field=FormPlace::Calf />
            <button
                type="button"
                class="button"
                id="add-girth"
                aria-disabled=move || full().then_some("true")
                on:click=add
            >
                {move || if full() { text::GIRTHS_FULL } else { text::ADD_GIRTH }}
            </button>
        </More>
    }
    .into_any()
}

fn girth(desk: Desk, place: u8) -> AnyView {
    let remove = move |_| desk.form.update(|form| form.remove_girth(place));
    view! {
        <fieldset class="one-of-some">
            <legend>{text::girth(place)}</legend>
            <Lines desk group=FieldGroup::Girth place />
            <button type="button" class="button bare" on:click=remove>
                {text::remove_girth(place)}
            </button>
        </fieldset>
    }
    .into_any()
}
