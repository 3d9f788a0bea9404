//! From a shoe size to the foot's length, for a knitter who cannot measure the foot.

use evenloop_engine::shoe::{Scale, foot_length};
use leptos::prelude::*;

use super::bound::More;
use crate::screens::measure::entry::Entry;
use crate::screens::measure::form::plain_number;
use crate::screens::measure::{Desk, copy};

/// Scales in the order of the form, each with the size that is shown first, in half sizes.
const SCALES: [(Scale, u16); 6] = [
    (Scale::Eu, 78),
    (Scale::Uk, 11),
    (Scale::UkChild, 20),
    (Scale::UsWomen, 16),
    (Scale::UsMen, 18),
    (Scale::UsChild, 21),
];

/// Two lists to choose from, and a button that fills in the line.
#[component]
pub(super) fn ShoeSize(desk: Desk) -> impl IntoView {
    let place = RwSignal::new(0_usize);
    let halves = RwSignal::new(SCALES[0].1);
    let filled = RwSignal::new(None::<String>);
    let length =
        Memo::new(move |_| foot_length(SCALES[place.get()].0, halves.get()).unwrap_or_default());
    let shown = Memo::new(move |_| length.get().show(desk.unit()));
    let choose_scale = move |event| {
        let Some((nth, (_, first))) = event_target_value(&event)
            .parse()
            .ok()
            .and_then(|nth: usize| Some((nth, *SCALES.get(nth)?)))
        else {
            return;
        };
        place.set(nth);
        halves.set(first);
    };
    let choose_size = move |event| {
        if let Ok(size) = event_target_value(&event).parse() {
            halves.set(size);
        }
    };
    let fill = move |_| {
        let text = plain_number(length.get_untracked(), desk.form.read_untracked().unit);
        desk.form.update(|form| {
            form.typed.insert(Entry::FootLength, text);
        });
        filled.set(Some(shown.get_untracked()));
    };
    // A list of its own for each scale, so that it begins with the scale's first choice.
    let sizes = move |nth: usize| {
        let (scale, first) = SCALES[nth];
        let (low, high) = scale.halves();
        let options = (low..=high)
            .map(|halves| {
                view! {
                    <option value=halves.to_string() selected=halves == first>
                        {copy::shoe_size(scale, halves)}
                    </option>
                }
            })
            .collect_view();
        view! {
            <select id="shoe-size" autocomplete="off" on:change=choose_size>
                {options}
            </select>
        }
    };
    view! {
        <More title=copy::SHOE>
            <p class="soft">{copy::SHOE_TEXT}</p>
            <div class="picks">
                <label class="pick">
                    <span>{copy::SCALE}</span>
                    <select id="shoe-scale" autocomplete="off" on:change=choose_scale>
                        {SCALES
                            .iter()
                            .enumerate()
                            .map(|(nth, (scale, _))| {
                                view! { <option value=nth.to_string()>{copy::scale(*scale)}</option> }
                            })
                            .collect_view()}
                    </select>
                </label>
                <label class="pick">
                    <span>{copy::SIZE}</span>
                    <For each=move || [place.get()] key=|nth| *nth children=sizes />
                </label>
                <button type="button" class="button" id="shoe-fill" on:click=fill>
                    {move || copy::fill_in(&shown.get())}
                </button>
            </div>
            <p class="soft" aria-live="polite">
                {move || filled.get().map(|length| copy::filled_in(&length))}
            </p>
        </More>
    }
    .into_any()
}
