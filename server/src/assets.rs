//! Files as they lie in the packed site, and what is said where there is none.

use std::path::Path;

use axum::body::Body;
use axum::extract::{Request, State};
use axum::http::{HeaderValue, Method, StatusCode, header};
use axum::response::{Html, IntoResponse, Response};
use tower::ServiceExt;
use tower_http::services::ServeDir;

use crate::headers::{ASK_AGAIN, FOR_EVER};
use crate::problem::Problem;
use crate::site::Site;

/// Everything under here has a hash of its content in its name.
const HASHED: &str = "/pkg/";

/// The handler for every address that is no page and no endpoint.
///
/// A missing file is never answered with a page: a browser that waits for a script would be left
/// with a white screen.
pub async fn file(State(site): State<Site>, request: Request) -> Response {
    let method = request.method().clone();
    let path = request.uri().path().to_owned();
    let served = ServeDir::new(&site.files)
        .append_index_html_on_directories(false)
        .precompressed_br()
        .precompressed_gzip()
        .oneshot(request)
        .await;
    let mut response = match served {
        Ok(response) => response.map(Body::new),
        Err(never) => match never {},
    };
    if response.status() == StatusCode::NOT_FOUND {
        return missing(&site, &method, &path);
    }
    let keep = if path.starts_with(HASHED) {
        FOR_EVER
    } else {
        ASK_AGAIN
    };
    let headers = response.headers_mut();
    headers.insert(header::CACHE_CONTROL, keep);
    // A cache between us and the reader must not hand out Brotli to those who cannot unpack it.
    headers.insert(header::VARY, HeaderValue::from_static("accept-encoding"));
    response
}

fn missing(site: &Site, method: &Method, path: &str) -> Response {
    let reads = matches!(*method, Method::GET | Method::HEAD);
    if reads && is_page_like(path) {
        (
            StatusCode::NOT_FOUND,
            Html(site.pages.not_found.to_string()),
        )
            .into_response()
    } else {
        Problem::from(StatusCode::NOT_FOUND).into_response()
    }
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
