//! The pages and files of a site as answers, and what is answered where there is neither.

use std::collections::HashMap;
use std::path::Path;

use axum::extract::Request;
use axum::http::{HeaderValue, Method, StatusCode, Uri, header};
use axum::response::{IntoResponse, Redirect, Response};
use evenloop_app::base::Base;

use crate::http::headers::{IMMUTABLE, NO_CACHE};
use crate::http::problem::Problem;
use crate::http::static_response::StaticResponse;
use crate::site::format::HASHED;
use crate::site::open::Site;

/// The media type of a page.
pub(crate) const HTML: HeaderValue = HeaderValue::from_static("text/html; charset=utf-8");

/// Every answer of a site that does not depend on the request's body or query.
#[derive(Debug)]
pub struct StaticSite {
    base: Base,
    pages: HashMap<String, StaticResponse>,
    files: HashMap<String, StaticResponse>,
    not_found: StaticResponse,
}

impl StaticSite {
    /// Makes the answers of a site.
    pub fn new(site: &Site) -> Self {
        let page = |content| StaticResponse::new(content, &HTML, &NO_CACHE);
        Self {
            base: site.base.clone(),
            pages: site
                .pages
                .all()
                .map(|(path, content)| (path.to_owned(), page(content)))
                .collect(),
            files: site
                .files
                .iter()
                .map(|(address, content)| {
                    let response =
                        StaticResponse::new(content, &media_type(address), &cache_control(address));
                    (address.clone(), response)
                })
                .collect(),
            not_found: page(&site.pages.not_found),
        }
    }

    /// The answer with the page at a path within the base.
    pub fn page(&self, path: &str, request: &Request) -> Option<Response> {
        Some(self.pages.get(path)?.respond(request))
    }

    /// The page that is meant by its path with a slash behind it: static hosts send readers there.
    fn page_without_slash<'a>(&self, path: &'a str) -> Option<&'a str> {
        let page = path.strip_suffix('/')?;
        self.pages.contains_key(page).then_some(page)
    }

    /// The answer to a request for an address that is neither a page nor an endpoint.
    ///
    /// A missing file is never answered with a page: a browser that waits for a script would be left
    /// with a white screen.
    pub fn file(&self, request: &Request) -> Response {
        let Some(path) = self.base.within(request.uri().path()) else {
            return Problem::from(StatusCode::NOT_FOUND).into_response();
        };
        let file = self.files.get(path);
        if !matches!(*request.method(), Method::GET | Method::HEAD) {
            return if file.is_some() || path.starts_with(HASHED) {
                method_not_allowed()
            } else {
                Problem::from(StatusCode::NOT_FOUND).into_response()
            };
        }
        match file {
            Some(file) => file.respond(request),
            None if let Some(page) = self.page_without_slash(path) => {
                redirect_to(&self.base.of(page), request.uri())
            }
            None if is_page_like(path) => self.not_found.respond_with(StatusCode::NOT_FOUND),
            None => Problem::from(StatusCode::NOT_FOUND).into_response(),
        }
    }
}

/// Where an address has moved for good. Its query goes with it.
pub(crate) fn redirect_to(path: &str, from: &Uri) -> Response {
    let query = from.query().map(|query| format!("?{query}"));
    Redirect::permanent(&format!("{path}{}", query.unwrap_or_default())).into_response()
}

/// Files can only be read.
fn method_not_allowed() -> Response {
    let allow = [(header::ALLOW, HeaderValue::from_static("GET,HEAD"))];
    (allow, Problem::from(StatusCode::METHOD_NOT_ALLOWED)).into_response()
}

/// Whether a person may have typed this: no endpoint, no folder of files, no file extension.
fn is_page_like(path: &str) -> bool {
    let is_in_folder = ["/api/", HASHED]
        .iter()
        .any(|folder| path.starts_with(folder));
    !is_in_folder && Path::new(path).extension().is_none()
}

/// The media type of a file.
fn media_type(address: &str) -> HeaderValue {
    let media_type = mime_guess::from_path(address).first_or_octet_stream();
    HeaderValue::try_from(media_type.as_ref())
        .unwrap_or(HeaderValue::from_static("application/octet-stream"))
}

/// How caches may store a file.
fn cache_control(address: &str) -> HeaderValue {
    if address.starts_with(HASHED) {
        IMMUTABLE
    } else {
        NO_CACHE
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_addresses_of_pages_get_a_page() {
        for path in ["/socks", "/now/", "/a/b"] {
            assert!(is_page_like(path), "{path}");
        }
        for path in ["/pkg/gone", "/api/socks", "/favicon.ico", "/a/b.js"] {
            assert!(!is_page_like(path), "{path}");
        }
    }

    #[test]
    fn only_addresses_with_a_hash_are_immutable() {
        assert_eq!(cache_control("/pkg/boot.0.js"), IMMUTABLE);
        assert_eq!(cache_control("/sw.js"), NO_CACHE);
        assert_eq!(media_type("/a.wasm"), "application/wasm");
        assert_eq!(media_type("/strange"), "application/octet-stream");
    }
}
