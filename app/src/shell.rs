//! The document around the app, rendered by the server for every screen.
//!
//! No inline script and no inline style, so that the site's policy can forbid both: the boot
//! script is a file of its own. The app awaits nothing while it renders, so the text is made in
//! one go and needs none of the data scripts that streaming would add. For one build and one
//! address the page is always the same, byte for byte: it may be stored and read without signal.
//!
//! May use routes and text; must not know the browser or what is stored on it.

use std::collections::BTreeMap;
use std::sync::Arc;

use hydration_context::SsrSharedContext;
use leptos::prelude::*;
use leptos::reactive::owner::Owner;
use leptos_router::location::RequestUrl;

use crate::app::App;
use crate::base::Base;
use crate::lazy_screens;
use crate::routes::{self, Screen};
use crate::text;

/// What the page must know of one build of the site: the names its files were given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Assets {
    /// The build's id; a stored page is only used with the build it belongs to.
    pub build: String,
    /// Address of the boot script.
    pub boot: String,
    /// Address of the script that shows Now before the app is awake.
    pub first: String,
    /// Addresses of the modules that the boot script loads, and of those that they load.
    pub modules: Vec<String>,
    /// Address of the app itself.
    pub wasm: String,
    /// Addresses of what each part of the app is made of, by the part's name: see [`lazy_screens`].
    pub parts: BTreeMap<String, Vec<String>>,
    /// Address of the style sheet.
    pub style: String,
    /// Address of the icon.
    pub icon: String,
    /// Address of the icon for home screens that cannot show the other.
    pub touch_icon: String,
}

/// What the service worker's own page says: the language, the title, the text, and the names of its two links.
pub const NO_SIGNAL: [&str; 5] = [
    text::TAG,
    text::shell::NO_SIGNAL,
    text::shell::NO_SIGNAL_TEXT,
    text::shell::NO_SIGNAL_AGAIN,
    text::shell::NO_SIGNAL_BASKET,
];

/// What the web app manifest says, under the placeholders in it.
pub const MANIFEST_WORDS: [(&str, &str); 4] = [
    ("__LANGUAGE__", text::TAG),
    ("__DESCRIPTION__", text::shell::DESCRIPTION),
    ("__SHORTCUT_NOW__", text::shell::SHORTCUT_NOW),
    ("__SHORTCUT_MEASURE__", text::shell::SHORTCUT_MEASURE),
];

/// Renders the page at `path`, with what follows the `?` in `query`, of an app that lives at `base`.
///
/// `path` is one of the router's own or any other that leads nowhere; it must begin with a `/`. `policy` is the
/// content security policy where no header will say it.
pub fn render(
    assets: &Assets,
    base: &Base,
    path: &str,
    query: Option<&str>,
    policy: Option<&'static str>,
) -> String {
    let mut url = base.of(path);
    if let Some(query) = query {
        url.push('?');
        url.push_str(query);
    }
    let owner = Owner::new_root(Some(Arc::new(SsrSharedContext::new())));
    let html = owner.with(|| {
        provide_context(RequestUrl::new(&url));
        provide_context(base.clone());
        document(assets, base, path, policy).to_html()
    });
    owner.unset_with_forced_cleanup();
    html
}

fn document(
    assets: &Assets,
    base: &Base,
    path: &str,
    policy: Option<&'static str>,
) -> impl IntoView + use<> {
    let Assets {
        build,
        boot,
        first,
        modules,
        wasm,
        mut parts,
        style,
        icon,
        touch_icon,
    } = assets.clone();
    // Fetched beside the main file and not after it; the boot script says when.
    let later: Vec<_> = Screen::at(path)
        .and_then(|screen| parts.remove(lazy_screens::part_of(screen)))
        .unwrap_or_default()
        .into_iter()
        .map(|part| {
            let href = base.of(&part);
            view! { <link rel="later" r#as="fetch" r#type="application/wasm" crossorigin="anonymous" href=href /> }
        })
        .collect();
    // After the boot script, which says what may become elements; the first paint waits for both.
    // An older build has none.
    let is_shown_first = Screen::at(path) == Some(Screen::Now) && !first.is_empty();
    let first = is_shown_first
        .then(|| view! { <script r#type="module" blocking="render" src=base.of(&first)></script> });
    let modules: Vec<_> = modules
        .iter()
        .map(|module| view! { <link rel="modulepreload" href=base.of(module) /> })
        .collect();
    // At the root there is nothing to say, and such a page stays as it always was.
    let said = (*base != Base::default()).then(|| base.as_str().to_owned());
    // Before all that it is about.
    let policy =
        policy.map(|policy| view! { <meta http-equiv="Content-Security-Policy" content=policy /> });
    view! {
        <!DOCTYPE html>
        <html lang=text::TAG data-base=said>
            <head>
                <meta charset="utf-8" />
                {policy}
                // Not a child: what a renderer writes between children would be read as part of the title.
                <title inner_html=routes::title(Screen::at(path))></title>
                <meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover" />
                <meta name="description" content=text::shell::DESCRIPTION />
                <meta name="color-scheme" content="light dark" />
                <meta name="theme-color" media="(prefers-color-scheme: light)" content="#f4efe6" />
                <meta name="theme-color" media="(prefers-color-scheme: dark)" content="#1f2421" />
                <meta name="evenloop-build" content=build />
                <link rel="stylesheet" href=base.of(&style) />
                // Short, and before all that is long: the first paint waits for it, it knows the knitter's light.
                <script r#type="module" blocking="render" src=base.of(&boot)></script>
                {first}
                {modules}
                <link rel="preload" r#as="fetch" r#type="application/wasm" crossorigin="anonymous" href=base.of(&wasm) />
                {later}
                <link rel="manifest" href=base.of("/manifest.webmanifest") />
                <link rel="icon" r#type="image/svg+xml" href=base.of(&icon) />
                <link rel="apple-touch-icon" href=base.of(&touch_icon) />
            </head>
            <body>
                <App />
                <noscript>
                    <p class="trouble">
                        {text::shell::WITHOUT_SCRIPTS}
                    </p>
                </noscript>
                // Without the boot script nothing can be asked for again: the style sheet uncovers this after a
                // while, unless that script has come and taken it away.
                <p id="unbooted" class="trouble" role="alert">
                    {text::shell::TROUBLE}
                </p>
                // The boot script uncovers them.
                <p id="waiting" class="trouble" role="status" hidden>
                    {text::shell::WAITING}
                </p>
                <p id="trouble" class="trouble" role="alert" hidden>
                    {text::shell::TROUBLE}
                </p>
            </body>
        </html>
    }
}
