//! One line to type into, with its label, what is possible, and what is wrong with it.

use evenloop_engine::text::ProblemText;
use leptos::html::Input;
use leptos::prelude::*;

use super::icon::{Icon, Sign};
use super::wording::ShownText;
use crate::text::{self, measure};

/// A labelled line of text. It keeps what is typed; the owner of `value` decides what it means.
#[component]
pub fn TextField(
    /// Id and name of the input.
    #[prop(into)]
    id: String,
    /// The label.
    #[prop(into)]
    label: ShownText,
    /// Whether it may stay empty; said beside the label.
    #[prop(optional)]
    optional: bool,
    /// What is asked for and what is possible.
    #[prop(into)]
    hint: Signal<String>,
    /// The unit behind the number; nothing when empty.
    #[prop(into, default = Signal::stored(""))]
    unit: Signal<&'static str>,
    /// What stands in it in grey while it is empty.
    #[prop(into, default = Signal::stored(String::new()))]
    example: Signal<String>,
    /// Which keys a phone offers: `decimal`, `numeric` or `text`.
    #[prop(default = "decimal")]
    inputmode: &'static str,
    /// At most so many characters.
    #[prop(default = 24)]
    limit: u16,
    /// What stands in it.
    #[prop(into)]
    value: Signal<String>,
    /// Something was typed.
    on_input: Callback<String>,
    /// The knitter left it.
    on_leave: Callback<()>,
    /// What is wrong with it, once that should be said.
    #[prop(into)]
    error: Signal<Option<ProblemText>>,
) -> impl IntoView {
    let node = NodeRef::<Input>::new();
    let first_text = value.get_untracked();
    // The owner's text goes into the line, but not over what was typed while the app still slept.
    Effect::new(move |woken: Option<()>| {
        let text = value.get();
        let Some(input) = node.get() else { return };
        let typed = input.value();
        if typed == text {
            return;
        }
        let written = input.default_value();
        if woken.is_none() && typed != written && text == written {
            on_input.run(typed);
        } else {
            input.set_value(&text);
        }
    });
    let wrong = move || error.read().is_some();
    let (hint_id, error_id) = (format!("{id}-hint"), format!("{id}-error"));
    let described = format!("{hint_id} {error_id}");
    // A number wants a short line beside its label, a name a long one below it.
    let class = if inputmode == "text" {
        "field"
    } else {
        "field number"
    };
    view! {
        <div class=class>
            <div class="words">
                <label for=id.clone()>
                    {label.shown()}
                    {optional.then(|| view! { <span class="optional">{text::parts::OPTIONAL}</span> })}
                </label>
                <p class="hint" id=hint_id>
                    {hint}
                </p>
            </div>
            <div class="entry">
                <input
                    id=id.clone()
                    name=id
                    type="text"
                    inputmode=inputmode
                    autocomplete="off"
                    autocapitalize="off"
                    spellcheck="false"
                    maxlength=limit.to_string()
                    value=first_text
                    placeholder=example
                    node_ref=node
                    aria-describedby=described
                    aria-invalid=move || wrong().then_some("true")
                    on:input=move |event| on_input.run(event_target_value(&event))
                    on:blur=move |_| on_leave.run(())
                />
                <span class="unit">{unit}</span>
            </div>
            <Said id=error_id error />
        </div>
    }
    .into_any()
}

/// What is wrong with something, said as soon as it is.
#[component]
pub fn Said(
    /// Its id; what it is about can be described by it, and the focus can go to it.
    #[prop(into)]
    id: String,
    /// What is wrong, once that should be said.
    #[prop(into)]
    error: Signal<Option<ProblemText>>,
) -> impl IntoView {
    view! {
        <div class="said" id=id tabindex="-1" aria-live="polite">
            {move || {
                error
                    .get()
                    .map(|error| {
                        view! {
                            <p class="error">
                                <Icon sign=Sign::Wrong />
                                <span>
                                    {error.message} " " {error.help}
                                </span>
                            </p>
                        }
                    })
            }}
        </div>
    }
    .into_any()
}

/// The line for a pair's name, of at most so many characters.
pub fn pair_name(limit: u16, value: Signal<String>, on_input: Callback<String>) -> AnyView {
    view! {
        <TextField
            id="pair-name"
            label=measure::NAME
            hint=Signal::stored(measure::NAME_HINT.to_owned())
            inputmode="text"
            limit
            value
            on_input
            on_leave=Callback::new(|()| ())
            error=Signal::stored(None)
        />
    }
    .into_any()
}
