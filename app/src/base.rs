//! Where on its host the app lives: at the root, or below a path such as `/socks`. The same build serves
//! any; the page says which, and everything with an address asks here.
//!
//! Paths without a base, as [`crate::routes`] has them, are what the app thinks in. The router puts no
//! base before a path (and takes the slash from a base that stands alone, which is the start page's
//! address), so every link is written with [`to`] and every move made with [`use_go`].
//!
//! May read the document; must not know which screens there are.

use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

use leptos::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::{use_location, use_navigate};

/// The path in front of every path of the app, without a slash at its end; empty at a host's root.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Base(Cow<'static, str>);

/// Why a text is no base.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotABase;

impl fmt::Display for NotABase {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a base is a path such as /socks/, of letters, digits, - and _")
    }
}

impl std::error::Error for NotABase {}

impl FromStr for Base {
    type Err = NotABase;

    /// Slashes at the end do not matter, and one at the beginning may be missing.
    fn from_str(text: &str) -> Result<Self, NotABase> {
        let parts = text.trim_matches('/');
        if parts.is_empty() {
            return Ok(Self::default());
        }
        let fine = |part: &str| {
            !part.is_empty()
                && part
                    .bytes()
                    .all(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_'))
        };
        if parts.split('/').all(fine) {
            Ok(Self(format!("/{parts}").into()))
        } else {
            Err(NotABase)
        }
    }
}

impl Base {
    /// The base itself: empty, or such as `/socks`.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The full path of a path of the app.
    pub fn of(&self, path: &str) -> String {
        format!("{}{path}", self.0)
    }

    /// The app's path of a full path; `None` for one that lies elsewhere.
    pub fn within<'a>(&self, full: &'a str) -> Option<&'a str> {
        full.strip_prefix(&*self.0)
            .filter(|path| path.starts_with('/'))
    }

    /// The app's path of where a page is. A static host says `/now/` for `/now`; to the app it is the
    /// same. What lies elsewhere is no page of the app's, and stays as it is.
    pub fn path(&self, full: &str) -> String {
        let path = self.within(full).unwrap_or(full);
        match path.trim_end_matches('/') {
            "" => "/".to_owned(),
            path => path.to_owned(),
        }
    }
}

/// The base of the page that is shown.
pub fn base() -> Base {
    use_context().unwrap_or_default()
}

/// The address of one of the app's paths, for a link.
pub fn to(path: &str) -> String {
    base().of(path)
}

/// A function that goes to one of the app's paths.
pub fn use_go() -> impl Fn(&str, NavigateOptions) + Clone {
    let base = base();
    let go = use_navigate();
    move |path, options| {
        let whole = NavigateOptions {
            resolve: false,
            ..options
        };
        go(&base.of(path), whole);
    }
}

/// How to go to another screen in the place of this one: the way back does not lead here again.
pub fn instead() -> NavigateOptions {
    NavigateOptions {
        replace: true,
        ..NavigateOptions::default()
    }
}

/// Finds the base: on the server it was provided, in the browser the page says it.
pub(crate) fn find() -> Base {
    use_context().unwrap_or_else(of_page)
}

#[cfg(feature = "hydrate")]
pub(crate) fn of_page() -> Base {
    web_sys::window()
        .and_then(|window| window.document()?.document_element())
        .and_then(|page| page.get_attribute(ATTRIBUTE)?.parse().ok())
        .unwrap_or_default()
}

#[cfg(not(feature = "hydrate"))]
fn of_page() -> Base {
    Base::default()
}

/// Where the page says it, on its outermost element.
#[cfg(feature = "hydrate")]
const ATTRIBUTE: &str = "data-base";

/// The app's path of where we are.
pub fn here() -> Memo<String> {
    let base = base();
    let full = use_location().pathname;
    Memo::new(move |_| base.path(&full.read()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slashes_round_a_base_do_not_matter() {
        for (text, expected) in [
            ("", ""),
            ("/", ""),
            ("socks", "/socks"),
            ("/socks", "/socks"),
            ("/socks/", "/socks"),
            ("/a-b/c_1/", "/a-b/c_1"),
        ] {
            let base: Result<Base, _> = text.parse();
            assert_eq!(base.as_ref().map(Base::as_str), Ok(expected), "{text}");
        }
        for text in [
            "//a//b",
            "/so cks",
            "/..",
            "/a/../b",
            "/<b>",
            "/é",
            "https://x",
        ] {
            assert_eq!(text.parse::<Base>(), Err(NotABase), "{text}");
        }
    }

    #[test]
    fn only_what_lies_below_is_within() {
        let base: Base = "/socks".parse().expect("it is one");
        assert_eq!(base.of("/now"), "/socks/now");
        assert_eq!(base.within("/socks/now"), Some("/now"));
        assert_eq!(base.within("/socks/"), Some("/"));
        for other in ["/socks", "/socksnow", "/now", "/"] {
            assert_eq!(base.within(other), None, "{other}");
        }
        assert_eq!(Base::default().within("/now"), Some("/now"));
        for (full, path) in [("/socks/now/", "/now"), ("/socks/", "/"), ("/now", "/now")] {
            assert_eq!(base.path(full), path);
        }
        assert_eq!(Base::default().path("/"), "/");
    }
}
