//! The yarns of a sock, shown by letter, hatching and colour, and chosen from.

use evenloop_engine::stitch::Yarn;
use leptos::prelude::*;

use crate::hue::Hue;

/// The classes of a yarn in its colour.
pub fn yarn_class(yarn: Yarn, hues: [Hue; 4]) -> String {
    let hatch = match yarn {
        Yarn::A => "yarn-a",
        Yarn::B => "yarn-b",
        Yarn::C => "yarn-c",
        Yarn::D => "yarn-d",
    };
    format!("{hatch} {}", Hue::of(yarn, hues).class())
}

/// A small piece of a yarn with its letter.
#[component]
pub fn YarnPatch(
    /// Which yarn.
    yarn: Yarn,
    /// The colours of all.
    #[prop(into)]
    hues: Signal<[Hue; 4]>,
) -> impl IntoView {
    view! {
        <span class=move || format!("yarn-patch {}", yarn_class(yarn, hues.get()))>
            <b>{yarn.letter().to_string()}</b>
        </span>
    }
}

/// One of the yarns, as radio buttons.
#[component]
pub fn YarnPick(
    /// Name of the inputs; unique on the screen.
    #[prop(into)]
    name: String,
    /// What it is for.
    #[prop(into)]
    legend: String,
    /// What there is to choose from.
    #[prop(into)]
    yarns: Signal<&'static [Yarn]>,
    /// The colours of all.
    #[prop(into)]
    hues: Signal<[Hue; 4]>,
    /// The one that is chosen.
    #[prop(into)]
    picked: Signal<Yarn>,
    /// Another was chosen.
    on_pick: Callback<Yarn>,
) -> impl IntoView {
    let one = move |yarn: Yarn| {
        view! {
            <label class="yarn-choice">
                <input
                    type="radio"
                    name=name.clone()
                    autocomplete="off"
                    prop:checked=move || picked.get() == yarn
                    on:change=move |_| on_pick.run(yarn)
                />
                <YarnPatch yarn hues />
            </label>
        }
    };
    view! {
        <fieldset class="yarn-pick">
            <legend>{legend}</legend>
            <div>
                {move || yarns.get().iter().map(|yarn| one(*yarn)).collect_view()}
            </div>
        </fieldset>
    }
    .into_any()
}
