//! The rendered pages: one for each route of the app's router.

use std::collections::BTreeMap;
use std::io;
use std::sync::Arc;

use axum::http::HeaderValue;
use evenloop_app::app::App;
use evenloop_app::base::Base;
use evenloop_app::shell::{self, Assets};

use crate::headers::ASK_AGAIN;
use crate::pack::hash;
use crate::stored::Stored;

/// Leads nowhere, so that the app renders what it shows where nothing is.
const NOWHERE: &str = "/404";

/// The media type of a page.
pub const HTML: HeaderValue = HeaderValue::from_static("text/html; charset=utf-8");

/// Every page of a build. A page without a query is the same for everybody, so it is rendered
/// once and handed out.
#[derive(Debug, Clone)]
pub struct Pages {
    by_path: Arc<BTreeMap<String, Stored>>,
    /// The page for addresses where no screen lives.
    pub not_found: Stored,
}

impl Pages {
    /// Renders every page.
    ///
    /// # Errors
    /// When one cannot be compressed.
    pub fn render(assets: &Assets, base: &Base) -> io::Result<Self> {
        let stored = |html: String| Stored::new(HTML, ASK_AGAIN, html).compressed();
        let by_path = texts(assets, base)
            .into_iter()
            .map(|(path, html)| Ok((path, stored(html)?)))
            .collect::<io::Result<_>>()?;
        Ok(Self {
            by_path: Arc::new(by_path),
            not_found: stored(shell::render(assets, base, NOWHERE, None))?,
        })
    }

    /// The page at a path.
    pub fn at(&self, path: &str) -> Option<&Stored> {
        self.by_path.get(path)
    }

    /// The paths that have a page, and the pages.
    pub fn all(&self) -> impl Iterator<Item = (&str, &Stored)> {
        self.by_path
            .iter()
            .map(|(path, page)| (path.as_str(), page))
    }
}

/// Every page as text, by its path within the base.
fn texts(assets: &Assets, base: &Base) -> BTreeMap<String, String> {
    let page = |path: String| {
        let html = shell::render(assets, base, &path, None);
        (path, html)
    };
    paths().into_iter().map(page).collect()
}

/// The routes as the app's own router knows them.
pub fn paths() -> Vec<String> {
    leptos_axum::generate_route_list(App)
        .iter()
        .map(|route| route.path().to_owned())
        .collect()
}

/// A hash of every page as it is without a build id. The id is made from these among others, so
/// it cannot be in them.
pub fn hashes(assets: &Assets) -> BTreeMap<String, String> {
    let anonymous = Assets {
        build: String::new(),
        ..assets.clone()
    };
    // A build is the same build wherever it lives.
    let base = Base::default();
    let lost = shell::render(&anonymous, &base, NOWHERE, None);
    texts(&anonymous, &base)
        .into_iter()
        .chain([(NOWHERE.to_owned(), lost)])
        .map(|(path, html)| (path, hash::of(html.as_bytes())))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use evenloop_app::routes::Screen;

    fn assets() -> Assets {
        Assets {
            build: "b1".into(),
            boot: "/pkg/boot.js".into(),
            modules: vec!["/pkg/app.js".into()],
            wasm: "/pkg/app.wasm".into(),
            parts: BTreeMap::from([("now".into(), vec!["/pkg/now.wasm".into()])]),
            style: "/pkg/app.css".into(),
        }
    }

    #[test]
    fn every_screen_has_a_page() {
        let mut expected: Vec<_> = Screen::ALL.iter().map(|screen| screen.path()).collect();
        expected.sort_unstable();
        let pages = texts(&assets(), &Base::default());
        assert_eq!(pages.keys().collect::<Vec<_>>(), expected);
    }

    #[test]
    fn a_page_is_the_same_every_time() {
        let base = Base::default();
        assert_eq!(texts(&assets(), &base), texts(&assets(), &base));
    }

    #[test]
    fn a_page_needs_no_inline_script_or_style() {
        let base = Base::default();
        let lost = shell::render(&assets(), &base, NOWHERE, None);
        for html in texts(&assets(), &base).values().chain([&lost]) {
            assert_eq!(html.matches("<script").count(), 1, "{html}");
            assert!(html.contains("src=\"/pkg/boot.js\""), "{html}");
            assert!(
                !html.contains("<style") && !html.contains(" style="),
                "{html}"
            );
        }
    }

    #[test]
    fn a_page_asks_early_for_its_own_part_only() {
        let pages = texts(&assets(), &Base::default());
        for screen in Screen::ALL {
            let html = &pages[screen.path()];
            assert!(html.contains("href=\"/pkg/app.wasm\""), "{html}");
            assert_eq!(
                html.contains("href=\"/pkg/now.wasm\""),
                screen == Screen::Now,
                "{html}"
            );
        }
    }

    #[test]
    fn below_a_base_every_address_begins_with_it() {
        let base: Base = "/socks/".parse().unwrap_or_default();
        for html in texts(&assets(), &base).values() {
            for start in ["href=\"/", "src=\"/"] {
                for address in html.split(start).skip(1) {
                    assert!(address.starts_with("socks/"), "{start}{address:.30}");
                }
            }
            assert!(html.contains("data-base=\"/socks\""), "{html:.200}");
        }
    }

    #[test]
    fn hashes_ignore_the_build_and_nothing_else() {
        let other_build = Assets {
            build: "b2".into(),
            ..assets()
        };
        assert_eq!(hashes(&assets()), hashes(&other_build));
        let other_style = Assets {
            style: "/pkg/new.css".into(),
            ..assets()
        };
        assert_ne!(hashes(&assets()), hashes(&other_style));
    }
}
