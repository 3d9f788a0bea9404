//! The five places. At the bottom under the thumb; on `Now`, where the pad lies there, at the top.

use leptos::prelude::*;
use leptos_router::components::A;

use super::{Icon, Sign};
use crate::base::to;
use crate::routes::Screen;

const fn sign(screen: Screen) -> Sign {
    match screen {
        Screen::Basket => Sign::Basket,
        Screen::Measure => Sign::Tape,
        Screen::Now => Sign::Ring,
        Screen::Map => Sign::Sock,
        Screen::Keep | Screen::Plan => Sign::Chest,
    }
}

/// Links to every screen; the one that is shown is marked for eye and ear by the router.
#[component]
pub fn NavBar() -> impl IntoView {
    view! {
        <nav class="nav" aria-label="Screens">
            <ul class="places">
                {Screen::PLACES
                    .map(|screen| {
                        view! {
                            <li>
                                <A href=to(screen.path()) exact=true>
                                    <Icon sign=sign(screen) />
                                    <span>{screen.name()}</span>
                                </A>
                            </li>
                        }
                    })
                    .collect_view()}
            </ul>
        </nav>
    }
    .into_any()
}
