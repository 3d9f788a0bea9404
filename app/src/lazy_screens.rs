//! Screens are loaded when they are first shown: the app's wasm is built as one and then split, and
//! each part is a file of its own beside the main one. Parts are what a phone must fetch together;
//! what several of them share is split off once more, by the tool.
//!
//! May name every screen; a screen must not know that it came later. On the server, and in a build
//! that was not split, everything is simply there.

// The attribute that marks where to split writes foreign functions, which the tool puts in.
#![allow(unsafe_code)]

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use js_sys::{Function, Promise};
use leptos::prelude::*;
use leptos::wasm_split::{SplitLoaderError, wasm_split};
use leptos_router::LazyRoute;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

use crate::after_paint::after_paint;
use crate::first_paint::let_go;
use crate::offline;
use crate::parts::{Notice, PageHead, Tone, plain};
use crate::routes::Screen;
use crate::screens;
use crate::text;

type Loaded = Result<AnyView, SplitLoaderError>;

/// A screen's type for the router, its part, and what is there when the part has come.
macro_rules! lazy_screens {
    ($($route:ident: $view:ident, $load:ident, $part:ident, $screen:path;)*) => {$(
        #[wasm_split($part, wasm_split_path = ::leptos::wasm_split, preload($load), fallible)]
        fn $view() -> Loaded {
            Ok(($screen)().into_any())
        }

        #[doc = concat!("The screen ", stringify!($route), ", when its part has come.")]
        #[derive(Debug)]
        pub struct $route;

        impl LazyRoute for $route {
            fn data() -> Self {
                Self
            }

            async fn view(_: Self) -> AnyView {
                answered().await;
                let view = $view().await.unwrap_or_else(|_| NotHere().into_any());
                ShownScreen::now(Some(Screen::$route));
                view
            }
        }
    )*

        /// The part that a screen is in.
        pub const fn part_of(screen: Screen) -> &'static str {
            match screen {
                $(Screen::$route => stringify!($part),)*
            }
        }

        /// Fetches what a screen needs, if it is not here yet.
        ///
        /// # Errors
        /// When it cannot be had: it is not stored and there is no signal.
        pub async fn load(screen: Screen) -> Result<(), SplitLoaderError> {
            match screen {
                $(Screen::$route => $load().await,)*
            }
        }
    };
}

lazy_screens! {
    Basket: view_basket, load_basket, basket, screens::BasketScreen;
    Settings: view_settings, load_settings, settings, screens::SettingsScreen;
    Measure: view_measure, load_measure, measure, screens::MeasureScreen;
    Now: view_now, load_now, now, screens::NowScreen;
    Map: view_map, load_map, map, screens::MapScreen;
    Plan: view_plan, load_plan, plan, screens::PlanScreen;
    Pattern: view_pattern, load_pattern, pattern, screens::PatternScreen;
}

/// Whether the page has been taken over: what is first shown has to be there at once.
static AWAKE: AtomicBool = AtomicBool::new(false);

/// The page has been taken over.
#[cfg(feature = "hydrate")]
pub fn is_awake() {
    AWAKE.store(true, Ordering::Relaxed);
}

/// A tab that is not looked at is never painted.
const UNSEEN: Duration = Duration::from_millis(100);

/// Waits until the touch is answered, before the work of another screen begins: its name is marked in the bar by then.
async fn answered() {
    if !AWAKE.load(Ordering::Relaxed) {
        return;
    }
    let painted = Promise::new(&mut |resolve, _| {
        let painted = resolve.clone();
        // The promise is resolved by the first of the two calls; the second one does nothing.
        let call = |resolve: &Function| drop(resolve.call0(&JsValue::NULL));
        after_paint(move || call(&painted));
        set_timeout(move || call(&resolve), UNSEEN);
    });
    // It is only ever kept.
    let _ = JsFuture::from(painted).await;
}

/// The screen that stands on the page. For a moment it is not yet the one the address names.
#[derive(Debug, Clone, Copy)]
pub struct ShownScreen(RwSignal<Option<Screen>>);

impl ShownScreen {
    /// Provides it to what is below; `first` is the screen of the page as it was loaded.
    pub fn start(first: Option<Screen>) -> Self {
        let shown = Self(RwSignal::new(first));
        provide_context(shown);
        shown
    }

    /// The screen, followed. Nothing where no screen lives.
    pub fn get(self) -> Option<Screen> {
        self.0.get()
    }

    /// Notes that another screen is about to be put on the page.
    pub fn now(screen: Option<Screen>) {
        if screen != Some(Screen::Now) {
            let_go();
        }
        if let Some(shown) = use_context::<Self>() {
            shown.0.set(screen);
        }
    }
}

/// In place of a screen whose part cannot be had.
#[component]
fn NotHere() -> impl IntoView {
    // Nothing takes the touches that the first paint would go on to count.
    Effect::new(let_go);
    view! {
        <section class="screen">
            <PageHead
                title=text::frame::NOT_HERE
                lead=text::frame::NOT_HERE_LEAD
            />
            <Notice tone=Tone::Wrong>
                <p>{text::frame::WITH_SIGNAL}</p>
                {plain::button(
                    "button",
                    text::frame::TRY_AGAIN,
                    None,
                    Callback::new(|()| offline::reload()),
                )}
            </Notice>
        </section>
    }
}
