//! A drawn sock on a screen. What it shows stands in words beside it.

use leptos::prelude::*;

use crate::fabric::FabricPicture;

/// The picture; its place is kept while there is none.
#[component]
pub fn FabricFigure(
    /// The class that says how large it is.
    class: &'static str,
    /// What is drawn.
    #[prop(into)]
    picture: Signal<Option<FabricPicture>>,
) -> impl IntoView {
    let drawn = move || {
        picture.get().map(|picture| {
            view! {
                <svg
                    viewBox=picture.view_box
                    aria-hidden="true"
                    focusable="false"
                    inner_html=picture.markup
                ></svg>
            }
        })
    };
    view! { <span class=format!("fabric-figure {class}")>{drawn}</span> }.into_any()
}
