//! The five places. At the bottom under the thumb; on `Now`, where the pad lies there, at the top.

use leptos::prelude::*;

use super::icon::{Icon, Sign};
use crate::base::{here, to};
use crate::routes::Screen;
use crate::text;

const fn sign(screen: Screen) -> Sign {
    match screen {
        Screen::Basket => Sign::Basket,
        Screen::Measure | Screen::Pattern => Sign::Tape,
        Screen::Now => Sign::Ring,
        Screen::Map => Sign::Sock,
        Screen::Settings | Screen::Plan => Sign::Chest,
    }
}

/// Links to every screen; the one that is shown is marked for eye and ear.
#[component]
pub fn NavBar() -> impl IntoView {
    let path = here();
    view! {
        <nav class="nav" aria-label=text::frame::SCREENS>
            <ul class="places">
                {Screen::PLACES
                    .map(|screen| {
                        let current = move || {
                            (Screen::at(&path.read()) == Some(screen)).then_some("page")
                        };
                        view! {
                            <li>
                                <a href=to(screen.path()) aria-current=current>
                                    <Icon sign=sign(screen) />
                                    <span>{screen.name()}</span>
                                </a>
                            </li>
                        }
                    })
                    .collect_view()}
            </ul>
        </nav>
    }
    .into_any()
}
