//! A few sentences the knitter should see, in one of three tones. Never modal.

use leptos::prelude::*;

use super::icon::{Icon, Sign};

/// How much a notice matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Tone {
    /// Good to know.
    #[default]
    Note,
    /// To be thought about.
    Mind,
    /// Something went wrong.
    Wrong,
}

/// A notice. What is wrong is announced; the rest waits to be read.
#[component]
pub fn Notice(
    /// How much it matters.
    #[prop(optional)]
    tone: Tone,
    /// The sentences, and perhaps buttons.
    children: Children,
) -> impl IntoView {
    let (class, sign) = match tone {
        Tone::Note => ("notice", Sign::Well),
        Tone::Mind => ("notice mind", Sign::Mind),
        Tone::Wrong => ("notice wrong", Sign::Wrong),
    };
    view! {
        <div class=class role=(tone == Tone::Wrong).then_some("alert")>
            <Icon sign />
            <div>{children()}</div>
        </div>
    }
    .into_any()
}

/// Says what failed, as soon as something has.
pub fn failure(failed: RwSignal<Option<&'static str>>) -> AnyView {
    let told = move || {
        failed.get().map(|text| {
            view! {
                <Notice tone=Tone::Wrong>
                    <p>{text}</p>
                </Notice>
            }
        })
    };
    told.into_any()
}

/// What came of a step, in a tone of its own; a screen reader says it when it has a pause.
pub fn outcome(said: RwSignal<Option<(Tone, &'static str)>>) -> AnyView {
    let told = move || {
        said.get().map(|(tone, text)| {
            view! {
                <Notice tone>
                    <p>{text}</p>
                </Notice>
            }
        })
    };
    view! { <div aria-live="polite">{told}</div> }.into_any()
}
