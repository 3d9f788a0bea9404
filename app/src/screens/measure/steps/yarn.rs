//! Yarns: the band's figures, how many there are, their colours, stripes and parts.

use evenloop_engine::recipe::{NumberField, Yarns};
use evenloop_engine::stitch::Yarn;
use leptos::prelude::*;

use super::bound::{Lines, Only, Pick, Trouble};
use super::fold::Fold;
use crate::hue::Hue;
use crate::parts::{Choice, Select, ShownText, Width, YarnPick, yarn_class};
use crate::preferences::use_preferences;
use crate::screens::measure::desk::Desk;
use crate::screens::measure::fields::FormPlace;
use crate::screens::measure::form::{FieldGroup, MeasureStep};
use crate::screens::measure::form::{MeasureForm, Parts, STRIPES};
use crate::text::measure as text;

/// Rounds that the strip shows at least.
const STRIP: u32 = 36;

/// The step.
#[component]
pub(super) fn YarnStep(desk: Desk) -> impl IntoView {
    view! {
        <Fold
            desk
            step=MeasureStep::Yarn
            title=text::YARN
            now=|form, wording| {
                let band = [NumberField::BallGrams, NumberField::BallMetres];
                let [grams, metres] = band.map(|field| form.text(field));
                text::yarn_now(form.yarns, form.stripe_count(), (grams, metres), wording)
            }
            body=yarn
        />
    }
    .into_any()
}

/// What is folded away in it.
fn yarn(desk: Desk) -> AnyView {
    let set = Callback::new(move |index| desk.form.update(|form| form.take_yarns(index + 1)));
    view! {
            <Pick
                desk
                name="yarns"
                legend=text::HOW_MANY
                choices=(1..=4).map(|count| Choice::plain(text::yarn_count(count))).collect()
                width=Width::Short
                get=|form| usize::from(form.yarns).saturating_sub(1)
                set
            />
            <Only desk when=|form| { form.yarns > 1 }>
                <Several desk />
            </Only>
            <div class="fields">
                <header>
                    <h3>{ShownText::from(text::BAND).shown()}</h3>
                    <p class="soft">{ShownText::from(text::BAND_TEXT).shown()}</p>
                </header>
                <Lines desk group=FieldGroup::Band />
            </div>
    }
    .into_any()
}

/// What is asked of a sock in several yarns.
#[component]
fn Several(desk: Desk) -> impl IntoView {
    let preferences = use_preferences();
    let hues = Memo::new(move |_| preferences.get().hues);
    let yarns = Memo::new(move |_| desk.form.read().yarns_in_use());
    let colours = move || {
        yarns
            .get()
            .iter()
            .enumerate()
            .map(|(nth, &yarn)| colour(nth, yarn, hues))
            .collect_view()
    };
    let count = Memo::new(move |_| desk.form.read().stripe_count());
    let stripes = move || {
        (0..STRIPES)
            .map(|place| (place < count.get()).then(|| stripe(desk, place, yarns, hues)))
            .collect_view()
    };
    let full = move || count.get() >= STRIPES;
    let add = move |_| desk.form.update(MeasureForm::add_stripe);
    let wound = Memo::new(move |_| desk.form.read().wound());
    view! {
        <fieldset class="choice-group">
            <legend>{ShownText::from(text::COLOURS).shown()}</legend>
            <div class="picks">{colours}</div>
        </fieldset>
        <section class="stripes" aria-labelledby="stripes-title">
            <header>
                <h3 id="stripes-title">{text::STRIPES}</h3>
                <p class="soft">{text::STRIPES_TEXT}</p>
            </header>
            {move || wound.get().map(|yarns| strip(&yarns, hues.get()))}
            {stripes}
            <Trouble desk field=FormPlace::Stripes />
            <button
                type="button"
                class="button"
                id="add-stripe"
                aria-disabled=move || full().then_some("true")
                on:click=add
            >
                {move || if full() { text::STRIPES_FULL } else { text::ADD_STRIPE }}
            </button>
        </section>
        <section class="parts" aria-labelledby="parts-title">
            <h3 id="parts-title">{text::PARTS}</h3>
            {part(desk, yarns, hues, "part-cuff", text::PART_CUFF, |parts| &mut parts.cuff)}
            {part(desk, yarns, hues, "part-heel", text::PART_HEEL, |parts| &mut parts.heel)}
            {part(desk, yarns, hues, "part-toe", text::PART_TOE, |parts| &mut parts.toe)}
        </section>
    }
    .into_any()
}

fn colour(nth: usize, yarn: Yarn, hues: Memo<[Hue; 4]>) -> AnyView {
    let preferences = use_preferences();
    let picked = Signal::derive(move || {
        let hue = hues.get()[nth];
        Hue::ALL.iter().position(|one| *one == hue).unwrap_or(0)
    });
    let on_pick = Callback::new(move |index: usize| {
        if let Some(hue) = Hue::ALL.get(index) {
            // Not stored, it is still in force on this page.
            let _ = preferences.change(|settings| settings.hues[nth] = *hue);
        }
    });
    view! {
        <div class="colour">
            <span class=move || format!("yarn-patch {}", yarn_class(yarn, hues.get()))></span>
            <Select
                id=format!("hue-{}", yarn.letter())
                label=text::yarn_of(yarn)
                options=Hue::ALL.map(|hue| hue.name().to_owned()).to_vec()
                picked
                on_pick
            />
        </div>
    }
    .into_any()
}

fn stripe(desk: Desk, place: u8, yarns: Memo<&'static [Yarn]>, hues: Memo<[Hue; 4]>) -> AnyView {
    let picked = Signal::derive(move || {
        let form = desk.form.read();
        form.stripes
            .get(usize::from(place))
            .copied()
            .unwrap_or_default()
    });
    let on_pick = Callback::new(move |yarn| {
        desk.form.update(|form| {
            if let Some(one) = form.stripes.get_mut(usize::from(place)) {
                *one = yarn;
            }
        });
    });
    let up = move |_| {
        if let Some(before) = place.checked_sub(1) {
            desk.form.update(|form| form.swap_stripes(before));
        }
    };
    let remove = move |_| desk.form.update(|form| form.remove_stripe(place));
    let ear = move || view! { <span class="unseen">{text::of_stripe(place)}</span> };
    view! {
        <div class="one-of-some">
            <YarnPick
                name=format!("stripe-yarn-{place}")
                legend=text::stripe(place)
                yarns
                hues
                picked
                on_pick
            />
            <Lines desk group=FieldGroup::Stripe place />
            <div class="buttons">
                <button
                    type="button"
                    class="button bare"
                    aria-disabled=(place == 0).then_some("true")
                    on:click=up
                >
                    {text::UP}
                    {ear()}
                </button>
                <button type="button" class="button bare" on:click=remove>
                    {text::TAKE_OUT}
                    {ear()}
                </button>
            </div>
        </div>
    }
    .into_any()
}

fn part(
    desk: Desk,
    yarns: Memo<&'static [Yarn]>,
    hues: Memo<[Hue; 4]>,
    name: &'static str,
    legend: &'static str,
    which: fn(&mut Parts) -> &mut Yarn,
) -> AnyView {
    let picked = Signal::derive(move || {
        let mut parts = desk.form.read().parts;
        *which(&mut parts)
    });
    let on_pick =
        Callback::new(move |yarn| desk.form.update(|form| *which(&mut form.parts) = yarn));
    view! { <YarnPick name legend yarns hues picked on_pick /> }.into_any()
}

/// A strip knitted of the stripes, to scale, cuff first.
fn strip(yarns: &Yarns, hues: [Hue; 4]) -> AnyView {
    let sequence: u32 = yarns.stripes.iter().map(|s| u32::from(s.rounds)).sum();
    let rounds: Vec<Yarn> = (0..sequence.max(STRIP))
        .map(|round| yarns.of_round(round))
        .collect();
    let bands = rounds
        .chunk_by(|a, b| a == b)
        .map(|band| {
            let yarn = band[0];
            view! {
                <span
                    class=yarn_class(yarn, hues)
                    style:flex-grow=band.len().to_string()
                >
                    <b>{yarn.letter().to_string()}</b>
                </span>
            }
        })
        .collect_view();
    view! {
        <div class="strip" role="img" aria-label=text::strip(yarns, |yarn| Hue::of(yarn, hues).name_in_text())>
            {bands}
        </div>
    }
    .into_any()
}
