//! The rendered pages: one for each route of the app's router.

use std::collections::BTreeMap;
use std::io;

use evenloop_app::app::App;
use evenloop_app::base::Base;
use evenloop_app::shell::{self, Assets};

use crate::site::content::Content;
use crate::site::hash;

/// A path without a screen, for which the app renders its page for unknown addresses.
const NOT_FOUND_PATH: &str = "/404";

/// Every page of a build. A page without a query is the same for everybody, so it is rendered once.
#[derive(Debug)]
pub struct Pages {
    by_path: BTreeMap<String, Content>,
    /// The page for addresses without a screen.
    pub not_found: Content,
}

impl Pages {
    /// Renders every page, with the content security policy in it where no header will say it.
    ///
    /// # Errors
    /// When one cannot be compressed.
    pub fn render(assets: &Assets, base: &Base, policy: Option<&'static str>) -> io::Result<Self> {
        let content = |html: String| Content::new(html).compressed();
        let by_path = render_all(assets, base, policy)
            .into_iter()
            .map(|(path, html)| Ok((path, content(html)?)))
            .collect::<io::Result<_>>()?;
        Ok(Self {
            by_path,
            not_found: content(shell::render(assets, base, NOT_FOUND_PATH, None, policy))?,
        })
    }

    /// The paths that have a page, and the pages.
    pub fn all(&self) -> impl Iterator<Item = (&str, &Content)> {
        self.by_path
            .iter()
            .map(|(path, page)| (path.as_str(), page))
    }
}

/// Every page as HTML, by its path within the base.
fn render_all(
    assets: &Assets,
    base: &Base,
    policy: Option<&'static str>,
) -> BTreeMap<String, String> {
    let page = |path: String| {
        let html = shell::render(assets, base, &path, None, policy);
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
/// they cannot contain it.
pub fn hashes(assets: &Assets) -> BTreeMap<String, String> {
    let without_build = Assets {
        build: String::new(),
        ..assets.clone()
    };
    // The id of a build does not depend on where it is served.
    let base = Base::default();
    let not_found = shell::render(&without_build, &base, NOT_FOUND_PATH, None, None);
    render_all(&without_build, &base, None)
        .into_iter()
        .chain([(NOT_FOUND_PATH.to_owned(), not_found)])
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
            first: "/pkg/first.js".into(),
            modules: vec!["/pkg/app.js".into()],
            wasm: "/pkg/app.wasm".into(),
            parts: BTreeMap::from([("now".into(), vec!["/pkg/now.wasm".into()])]),
            style: "/pkg/app.css".into(),
            icon: "/pkg/icon.svg".into(),
            touch_icon: "/pkg/touch.png".into(),
        }
    }

    #[test]
    fn every_screen_has_a_page() {
        let mut expected: Vec<_> = Screen::ALL.iter().map(|screen| screen.path()).collect();
        expected.sort_unstable();
        let pages = render_all(&assets(), &Base::default(), None);
        assert_eq!(pages.keys().collect::<Vec<_>>(), expected);
    }

    #[test]
    fn a_page_is_the_same_every_time() {
        let base = Base::default();
        assert_eq!(
            render_all(&assets(), &base, None),
            render_all(&assets(), &base, None)
        );
    }

    #[test]
    fn a_page_needs_no_inline_script_or_style() {
        let base = Base::default();
        let not_found = shell::render(&assets(), &base, NOT_FOUND_PATH, None, None);
        let pages = render_all(&assets(), &base, None);
        let elsewhere = ("/404".to_owned(), not_found);
        for (path, html) in pages.into_iter().chain([elsewhere]) {
            let now = path == Screen::Now.path();
            let scripts = 1 + usize::from(now);
            assert_eq!(html.matches("<script").count(), scripts, "{html}");
            assert!(html.contains("src=\"/pkg/boot.js\""), "{html}");
            assert_eq!(html.contains("src=\"/pkg/first.js\""), now, "{html}");
            assert!(
                !html.contains("<style") && !html.contains(" style="),
                "{html}"
            );
        }
    }

    #[test]
    fn a_page_preloads_its_own_part_only() {
        let pages = render_all(&assets(), &Base::default(), None);
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
        for html in render_all(&assets(), &base, None).values() {
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
