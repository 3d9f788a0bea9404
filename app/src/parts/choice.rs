//! Choosing one of a few, and switching one thing on or off, with room for a thumb.

use leptos::html::Input;
use leptos::prelude::*;

use super::wording::{ShownText, said};

/// One of a few things to choose from.
#[derive(Clone, Copy)]
pub struct Choice {
    /// Its name.
    pub name: &'static str,
    /// What it means; nothing when empty.
    pub note: &'static str,
    /// Draws it.
    pub drawing: Option<fn() -> AnyView>,
}

impl Choice {
    /// A choice that needs no explanation.
    pub const fn plain(name: &'static str) -> Self {
        Self {
            name,
            note: "",
            drawing: None,
        }
    }

    /// A choice with a sentence about it.
    pub const fn with_note(name: &'static str, note: &'static str) -> Self {
        Self {
            name,
            note,
            drawing: None,
        }
    }

    /// The same with a drawing.
    #[must_use]
    pub const fn drawn(mut self, drawing: fn() -> AnyView) -> Self {
        self.drawing = Some(drawing);
        self
    }
}

/// How much room choices want beside each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Width {
    /// Single short words.
    Short,
    /// A few words.
    #[default]
    Usual,
    /// Sentences.
    Long,
}

/// One of a few, as radio buttons.
#[component]
pub fn ChoiceGroup(
    /// Name of the inputs; unique on the screen.
    name: &'static str,
    /// What is chosen.
    #[prop(into)]
    legend: ShownText,
    /// What there is.
    #[prop(into)]
    choices: Vec<Choice>,
    /// Index of the one that is chosen.
    #[prop(into)]
    picked: Signal<usize>,
    /// Another was chosen.
    on_pick: Callback<usize>,
    /// How wide each is.
    #[prop(optional)]
    width: Width,
) -> impl IntoView {
    let class = match width {
        Width::Short => "choices few",
        Width::Usual => "choices",
        Width::Long => "choices long",
    };
    view! {
        <fieldset class="choice-group">
            <legend>{said(legend)}</legend>
            <div class=class>
                {choices
                    .into_iter()
                    .enumerate()
                    .map(|(index, choice)| {
                        let on = Signal::derive(move || picked.get() == index);
                        let tick = Callback::new(move |_| on_pick.run(index));
                        view! { <Tick kind="radio" name choice on on_change=tick /> }
                    })
                    .collect_view()}
            </div>
        </fieldset>
    }
    .into_any()
}

/// One thing that is on or off.
#[component]
pub fn Switch(
    /// Name of the input; unique on the screen.
    name: &'static str,
    /// What it is.
    choice: Choice,
    /// Whether it is on.
    #[prop(into)]
    on: Signal<bool>,
    /// It was switched.
    on_change: Callback<bool>,
) -> impl IntoView {
    view! { <Tick kind="checkbox" name choice on on_change /> }
}

/// What both have in common: a box that fills the row and keeps what was ticked before the app woke.
#[component]
fn Tick(
    kind: &'static str,
    name: &'static str,
    choice: Choice,
    on: Signal<bool>,
    on_change: Callback<bool>,
) -> impl IntoView {
    let node = NodeRef::<Input>::new();
    let at_first = on.get_untracked();
    Effect::new(move |woken: Option<()>| {
        let on = on.get();
        let Some(input) = node.get() else { return };
        let ticked = input.checked();
        if ticked == on {
            return;
        }
        let written = input.default_checked();
        if woken.is_none() && ticked != written && on == written {
            // Of two radio buttons only the newly chosen one speaks.
            if ticked || kind == "checkbox" {
                on_change.run(ticked);
            }
        } else {
            input.set_checked(on);
        }
    });
    view! {
        <label class="choice">
            <input
                type=kind
                name=name
                checked=at_first
                autocomplete="off"
                node_ref=node
                on:change=move |event| on_change.run(event_target_checked(&event))
            />
            <span class="name">{choice.name}</span>
            {(!choice.note.is_empty()).then(|| view! { <span class="note">{choice.note}</span> })}
            {choice.drawing.map(|draw| view! { <span class="drawing">{draw()}</span> })}
        </label>
    }
    .into_any()
}
