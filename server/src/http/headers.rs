//! The headers that every answer carries, and the values of `Cache-Control`.

use axum::http::{HeaderName, HeaderValue, Response, header};

use crate::site::policy;

/// The app may keep the screen awake and, where the knitter switches it on, listen; it needs nothing else of the
/// device.
const PERMISSIONS_POLICY: &str = "screen-wake-lock=(self), microphone=(self), accelerometer=(), camera=(), \
    display-capture=(), geolocation=(), gyroscope=(), magnetometer=(), midi=(), \
    payment=(), usb=()";

const SECURITY_HEADERS: [(HeaderName, HeaderValue); 6] = [
    (
        header::CONTENT_SECURITY_POLICY,
        HeaderValue::from_static(policy::IN_HEADER),
    ),
    (
        header::X_CONTENT_TYPE_OPTIONS,
        HeaderValue::from_static("nosniff"),
    ),
    (
        header::REFERRER_POLICY,
        HeaderValue::from_static("no-referrer"),
    ),
    (
        HeaderName::from_static("permissions-policy"),
        HeaderValue::from_static(PERMISSIONS_POLICY),
    ),
    (
        HeaderName::from_static("cross-origin-opener-policy"),
        HeaderValue::from_static("same-origin"),
    ),
    (
        HeaderName::from_static("cross-origin-resource-policy"),
        HeaderValue::from_static("same-origin"),
    ),
];

/// For files whose name contains a hash of their content.
pub const IMMUTABLE: HeaderValue = HeaderValue::from_static("public, max-age=31536000, immutable");
/// For everything whose content may change under the same name: stored, but revalidated each time.
pub const NO_CACHE: HeaderValue = HeaderValue::from_static("no-cache");
/// For answers that concern one request only.
pub const NO_STORE: HeaderValue = HeaderValue::from_static("no-store");

/// Adds the security headers to an answer, and forbids caches to store an error.
pub fn add_security_headers<B>(mut response: Response<B>) -> Response<B> {
    let is_error = response.status().is_client_error() || response.status().is_server_error();
    let headers = response.headers_mut();
    for (name, value) in SECURITY_HEADERS {
        headers.insert(name, value);
    }
    if is_error {
        headers.insert(header::CACHE_CONTROL, NO_STORE);
    }
    response
}
