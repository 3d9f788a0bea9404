//! Headers that every answer carries.

use axum::extract::Request;
use axum::http::{HeaderName, HeaderValue, header};
use axum::middleware::Next;
use axum::response::Response;

/// Nothing from elsewhere, nothing inline; `wasm-unsafe-eval` lets the app itself be compiled.
const POLICY: &str = "default-src 'none'; \
    script-src 'self' 'wasm-unsafe-eval'; \
    style-src 'self'; \
    img-src 'self' data:; \
    connect-src 'self'; \
    manifest-src 'self'; \
    worker-src 'self'; \
    base-uri 'none'; \
    form-action 'self'; \
    frame-ancestors 'none'";

/// The screen may be kept awake; nothing else of the device is wanted.
const PERMISSIONS: &str = "screen-wake-lock=(self), accelerometer=(), camera=(), \
    display-capture=(), geolocation=(), gyroscope=(), magnetometer=(), microphone=(), midi=(), \
    payment=(), usb=()";

const SECURITY: [(HeaderName, HeaderValue); 6] = [
    (
        header::CONTENT_SECURITY_POLICY,
        HeaderValue::from_static(POLICY),
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
        HeaderValue::from_static(PERMISSIONS),
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

/// For files whose name holds a hash of their content.
pub const FOR_EVER: HeaderValue = HeaderValue::from_static("public, max-age=31536000, immutable");
/// For everything whose name stays while its content changes.
pub const ASK_AGAIN: HeaderValue = HeaderValue::from_static("no-cache");
/// For answers that are about one request only.
pub const KEEP_NOT: HeaderValue = HeaderValue::from_static("no-store");

/// Middleware: adds the security headers, and forbids storing an error.
pub async fn secure(request: Request, next: Next) -> Response {
    let mut response = next.run(request).await;
    let failed = response.status().is_client_error() || response.status().is_server_error();
    let headers = response.headers_mut();
    for (name, value) in SECURITY {
        headers.insert(name, value);
    }
    if failed {
        headers.insert(header::CACHE_CONTROL, KEEP_NOT);
    }
    response
}
