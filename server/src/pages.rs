//! The rendered pages: one for each route of the app's router.

use std::collections::BTreeMap;
use std::sync::Arc;

use evenloop_app::app::App;
use evenloop_app::shell::{self, Assets};

use crate::pack::hash;

/// Leads nowhere, so that the app renders what it shows where nothing is.
const NOWHERE: &str = "/404";

/// Every page of a build. A page without a query is the same for everybody, so it is rendered
/// once and handed out.
#[derive(Debug, Clone)]
pub struct Pages {
    by_path: Arc<BTreeMap<String, Arc<str>>>,
    /// The page for addresses where no screen lives.
    pub not_found: Arc<str>,
}

impl Pages {
    /// Renders every page.
    pub fn render(assets: &Assets) -> Self {
        let by_path = paths()
            .into_iter()
            .map(|path| {
                let html = shell::render(assets, &path, None);
                (path, html.into())
            })
            .collect();
        Self {
            by_path: Arc::new(by_path),
            not_found: shell::render(assets, NOWHERE, None).into(),
        }
    }

    /// The page at a path.
    pub fn at(&self, path: &str) -> Option<Arc<str>> {
        self.by_path.get(path).cloned()
    }

    /// The paths that have a page.
    pub fn paths(&self) -> impl Iterator<Item = &str> {
        self.by_path.keys().map(String::as_str)
    }
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
    let pages = Pages::render(&anonymous);
    let found = pages
        .by_path
        .iter()
        .map(|(path, html)| (path.clone(), hash::of(html.as_bytes())));
    let lost = (NOWHERE.to_owned(), hash::of(pages.not_found.as_bytes()));
    found.chain([lost]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use evenloop_app::routes::Screen;

    fn assets() -> Assets {
        Assets {
            build: "b1".into(),
            boot: "/pkg/boot.js".into(),
            script: "/pkg/app.js".into(),
            wasm: "/pkg/app.wasm".into(),
            style: "/pkg/app.css".into(),
        }
    }

    #[test]
    fn every_screen_has_a_page() {
        let mut expected: Vec<_> = Screen::ALL.iter().map(|screen| screen.path()).collect();
        expected.sort_unstable();
        let pages = Pages::render(&assets());
        assert_eq!(pages.paths().collect::<Vec<_>>(), expected);
    }

    #[test]
    fn a_page_is_the_same_every_time() {
        let first = Pages::render(&assets());
        let second = Pages::render(&assets());
        assert_eq!(first.by_path, second.by_path);
        assert_eq!(first.not_found, second.not_found);
    }

    #[test]
    fn a_page_needs_no_inline_script_or_style() {
        let pages = Pages::render(&assets());
        for html in pages.by_path.values().chain([&pages.not_found]) {
            assert_eq!(html.matches("<script").count(), 1, "{html}");
            assert!(html.contains("src=\"/pkg/boot.js\""), "{html}");
            assert!(
                !html.contains("<style") && !html.contains(" style="),
                "{html}"
            );
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
