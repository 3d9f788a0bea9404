//! Files of the packed site, and what is said where there is none.

use std::path::Path;

use axum::extract::{Request, State};
use axum::http::{HeaderValue, Method, StatusCode, header};
use axum::response::{Html, IntoResponse, Response};

use crate::problem::Problem;
use crate::site::{HASHED, Site};

/// The handler for every address that is no page and no endpoint.
///
/// A missing file is never answered with a page: a browser that waits for a script would be left
/// with a white screen.
pub async fn file(State(site): State<Site>, request: Request) -> Response {
    let Some(path) = site.base.within(request.uri().path()) else {
        return Problem::from(StatusCode::NOT_FOUND).into_response();
    };
    let found = site.files.get(path);
    if !matches!(*request.method(), Method::GET | Method::HEAD) {
        return not_that_way(found.is_some() || path.starts_with(HASHED));
    }
    match found {
        Some(file) => file.answer(request.headers()),
        None if is_page_like(path) => {
            let page = site.pages.not_found.plain().clone();
            (StatusCode::NOT_FOUND, Html(page)).into_response()
        }
        None => Problem::from(StatusCode::NOT_FOUND).into_response(),
    }
}

/// Files are only read; where none can be, there is nothing at all.
fn not_that_way(of_files: bool) -> Response {
    if !of_files {
        return Problem::from(StatusCode::NOT_FOUND).into_response();
    }
    let allowed = [(header::ALLOW, HeaderValue::from_static("GET,HEAD"))];
    (allowed, Problem::from(StatusCode::METHOD_NOT_ALLOWED)).into_response()
}

/// Whether a person may have typed this: no endpoint, no folder of files, no file extension.
fn is_page_like(path: &str) -> bool {
    let of_files = ["/api/", HASHED, "/icons/"]
        .iter()
        .any(|folder| path.starts_with(folder));
    !of_files && Path::new(path).extension().is_none()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_addresses_of_pages_get_a_page() {
        for path in ["/socks", "/now/", "/a/b"] {
            assert!(is_page_like(path), "{path}");
        }
        for path in [
            "/pkg/gone",
            "/icons/x",
            "/api/socks",
            "/favicon.ico",
            "/a/b.js",
        ] {
            assert!(!is_page_like(path), "{path}");
        }
    }
}
