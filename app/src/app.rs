//! The frame around every screen: router, navigation, the bars, and what all screens share.

use leptos::html;
use leptos::prelude::*;
use leptos_router::StaticSegment;
use leptos_router::components::{FlatRoutes, Route, Router};
use leptos_router::hooks::use_location;

use crate::bars::Bars;
use crate::guide::{Guide, GuideStrip};
use crate::offline::Offline;
use crate::parts::{NavBar, PageHead, Words};
use crate::preferences::Preferences;
use crate::routes::{self, Screen};
use crate::screens::{BasketScreen, KeepScreen, MapScreen, MeasureScreen, NowScreen, PlanScreen};
use crate::store::Follow;

/// The whole app, as it stands in the page's body.
#[component]
pub fn App() -> impl IntoView {
    let follow = Follow::start();
    provide_context(Guide::start());
    provide_context(Offline::start());
    provide_context(follow);
    let preferences = Preferences::start(follow);
    provide_context(preferences);
    Words::provide(move || {
        let settings = preferences.get();
        (settings.style.english, settings.unit)
    });
    view! {
        <Router>
            <Frame />
        </Router>
    }
}

/// Screen, bars and navigation. On `Now` the pad has the bottom of the page, so the frame says so.
#[component]
fn Frame() -> impl IntoView {
    let path = use_location().pathname;
    let main = NodeRef::<html::Main>::new();
    // Title and focus follow the screen; at first the server's title stands and focus is the
    // browser's business.
    Effect::new(move |seen: Option<String>| {
        let path = path.get();
        if let Some(seen) = seen
            && seen != path
        {
            document().set_title(&routes::title(&path));
            if let Some(main) = main.get_untracked() {
                // A page that will not take focus is still shown.
                let _ = main.focus();
            }
        }
        path
    });
    view! {
        <div class="app" class:at-now=move || *path.read() == Screen::Now.path()>
            <GuideStrip />
            <main tabindex="-1" node_ref=main>
                <FlatRoutes fallback=NotFound>
                    <Route path=StaticSegment(Screen::Basket.segment()) view=BasketScreen />
                    <Route path=StaticSegment(Screen::Measure.segment()) view=MeasureScreen />
                    <Route path=StaticSegment(Screen::Now.segment()) view=NowScreen />
                    <Route path=StaticSegment(Screen::Map.segment()) view=MapScreen />
                    <Route path=StaticSegment(Screen::Keep.segment()) view=KeepScreen />
                    <Route path=StaticSegment(Screen::Plan.segment()) view=PlanScreen />
                </FlatRoutes>
            </main>
            <Bars />
            <NavBar />
        </div>
    }
}

/// Shown where no screen lives.
#[component]
fn NotFound() -> impl IntoView {
    view! {
        <section class="screen">
            <PageHead
                title="Nothing is here"
                lead="This address leads to no screen. Your socks are safe in the basket."
            />
        </section>
    }
}
