//! The plainest pieces: a paragraph, a group, a button, a part that follows a signal. Made by calling
//! a function, each is one type however often it is used, and the browser pays for it once. For panes
//! and lists of many small things; a screen's own layout is better read as a view.

use leptos::prelude::*;

use super::wording::ShownText;

/// A paragraph; no class when it is empty.
pub fn paragraph(class: &'static str, text: impl Into<ShownText>) -> AnyView {
    let text = text.into().shown();
    view! { <p class=class>{text}</p> }.into_any()
}

/// A paragraph that is said with weight.
pub fn weighty(text: impl Into<ShownText>) -> AnyView {
    let text = text.into().shown();
    view! {
        <p>
            <strong>{text}</strong>
        </p>
    }
    .into_any()
}

/// Pieces one below the other.
pub fn group(class: &'static str, pieces: Vec<AnyView>) -> AnyView {
    view! { <div class=class>{pieces}</div> }.into_any()
}

/// A link to another of the app's screens; `href` is a whole address (see [`crate::base::to`]).
pub fn link(class: &'static str, href: String, inside: impl IntoAny) -> AnyView {
    let inside = inside.into_any();
    view! {
        <a class=class href=href>
            {inside}
        </a>
    }
    .into_any()
}

/// A button; `pressed` where it is one of several to choose from.
pub fn button(
    class: &'static str,
    text: impl Into<ShownText>,
    pressed: Option<Signal<bool>>,
    act: Callback<()>,
) -> AnyView {
    let text = text.into().shown();
    let pressed = move || pressed.map(|pressed| if pressed.get() { "true" } else { "false" });
    view! {
        <button type="button" class=class aria-pressed=pressed on:click=move |_| act.run(())>
            {text}
        </button>
    }
    .into_any()
}

/// A group that is made again whenever what it reads changes, and then read out.
pub fn following(class: &'static str, make: impl Fn() -> Vec<AnyView> + Send + 'static) -> AnyView {
    following_boxed(class, Box::new(make))
}

type Make = Box<dyn Fn() -> Vec<AnyView> + Send>;

fn following_boxed(class: &'static str, make: Make) -> AnyView {
    view! {
        <div class=class aria-live="polite">
            {make}
        </div>
    }
    .into_any()
}
