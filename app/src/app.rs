//! The frame around every screen: router, navigation, the bars, and what all screens share.
//!
//! May use every room; none may know it but the document around it.

use leptos::html;
use leptos::prelude::*;
use leptos_router::components::{FlatRoutes, Route, Router};
use leptos_router::{Lazy, StaticSegment};

use crate::bars::Bars;
use crate::base::{self, here};
use crate::lazy_screens::{self, ShownScreen};
use crate::offline::Offline;
use crate::parts::{NavBar, PageHead, provide_wording};
use crate::preferences::Preferences;
use crate::recovery::Recovery;
use crate::routes::{self, Screen};
use crate::store::OtherWindows;
use crate::text;

/// The whole app, as it stands in the page's body.
#[component]
pub fn App() -> impl IntoView {
    let base = base::find();
    provide_context(base.clone());
    let follow = OtherWindows::start();
    provide_context(Offline::start());
    provide_context(follow);
    provide_context(Recovery::start(follow));
    let preferences = Preferences::start(follow);
    provide_context(preferences);
    provide_wording(move || preferences.get().style);
    view! {
        <Router base=base.as_str().to_owned()>
            <Frame />
        </Router>
    }
}

/// Screen, bars and navigation. On `Now` the pad has the bottom of the page, so the frame says so.
#[component]
fn Frame() -> impl IntoView {
    let path = here();
    let shown = ShownScreen::start(Screen::at(&path.read_untracked()));
    let main = NodeRef::<html::Main>::new();
    // Title and focus follow the screen; at first the server's title stands and focus is the
    // browser's business.
    Effect::new(move |seen: Option<Option<Screen>>| {
        let shown = shown.get();
        if let Some(seen) = seen
            && seen != shown
        {
            document().set_title(&routes::title(shown));
            if let Some(main) = main.get_untracked() {
                // A page that will not take focus is still shown.
                let _ = main.focus();
            }
        }
        shown
    });
    let coming = move || Screen::at(&path.read()) != shown.get();
    view! {
        <div class="app" class:at-now=move || shown.get() == Some(Screen::Now) aria-busy=move || coming().then_some("true")>
            <main tabindex="-1" node_ref=main>
                <FlatRoutes fallback=NotFound>
                    <Route path=StaticSegment(Screen::Basket.segment()) view={Lazy::<lazy_screens::Basket>::new()} />
                    <Route path=StaticSegment(Screen::Measure.segment()) view={Lazy::<lazy_screens::Measure>::new()} />
                    <Route path=StaticSegment(Screen::Now.segment()) view={Lazy::<lazy_screens::Now>::new()} />
                    <Route path=StaticSegment(Screen::Map.segment()) view={Lazy::<lazy_screens::Map>::new()} />
                    <Route path=StaticSegment(Screen::Settings.segment()) view={Lazy::<lazy_screens::Settings>::new()} />
                    <Route path=StaticSegment(Screen::Plan.segment()) view={Lazy::<lazy_screens::Plan>::new()} />
                    <Route path=StaticSegment(Screen::Pattern.segment()) view={Lazy::<lazy_screens::Pattern>::new()} />
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
    ShownScreen::now(None);
    view! {
        <section class="screen">
            <PageHead
                title=text::frame::NOT_FOUND
                lead=text::frame::NOT_FOUND_LEAD
            />
        </section>
    }
}
