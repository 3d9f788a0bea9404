//! The frame around every screen: router, navigation, the update notice.

use leptos::prelude::*;
use leptos_router::StaticSegment;
use leptos_router::components::{A, FlatRoutes, Route, Router};
use leptos_router::hooks::use_location;

use crate::offline::Offline;
use crate::routes::{self, Screen};
use crate::screens::{BasketScreen, KeepScreen, MapScreen, MeasureScreen, NowScreen};

/// The whole app, as it stands in the page's body.
#[component]
pub fn App() -> impl IntoView {
    provide_context(Offline::start());
    view! {
        <Router>
            <Titles />
            <main>
                <FlatRoutes fallback=NotFound>
                    <Route path=StaticSegment(Screen::Basket.segment()) view=BasketScreen />
                    <Route path=StaticSegment(Screen::Measure.segment()) view=MeasureScreen />
                    <Route path=StaticSegment(Screen::Now.segment()) view=NowScreen />
                    <Route path=StaticSegment(Screen::Map.segment()) view=MapScreen />
                    <Route path=StaticSegment(Screen::Keep.segment()) view=KeepScreen />
                </FlatRoutes>
            </main>
            <UpdateNotice />
            <nav class="screens" aria-label="Screens">
                {Screen::ALL
                    .map(|screen| view! { <A href=screen.path() exact=true>{screen.name()}</A> })
                    .collect_view()}
            </nav>
        </Router>
    }
}

/// Keeps the window title in step with the screen. The server writes the first one.
#[component]
fn Titles() -> impl IntoView {
    let pathname = use_location().pathname;
    Effect::new(move || document().set_title(&routes::title(&pathname.read())));
}

/// Offers a new build; nothing changes until the knitter says so.
#[component]
fn UpdateNotice() -> impl IntoView {
    let offline = expect_context::<Offline>();
    view! {
        <div class="update" role="status">
            <Show when=move || offline.update_ready.get()>
                <p>"A new version of Evenloop is ready."</p>
                <button type="button" on:click=move |_| offline.accept_update()>
                    "Use it now"
                </button>
            </Show>
        </div>
    }
}

/// Shown where no screen lives.
#[component]
fn NotFound() -> impl IntoView {
    view! {
        <section class="screen">
            <h1>"Nothing is here"</h1>
            <p>"This address leads to no screen. Your socks are safe in the basket."</p>
        </section>
    }
}
