//! The description of the endpoints, `server/openapi.json`, which is written by hand and compared with
//! what the server does by `tests/tests/server_contract.rs`.

use std::io;

use axum::http::HeaderValue;

use crate::http::headers::NO_CACHE;
use crate::http::static_response::StaticResponse;
use crate::site::content::Content;

const DOCUMENT: &str = include_str!("../../openapi.json");

/// The description as a response.
///
/// # Errors
/// When compressing fails.
pub fn response() -> io::Result<StaticResponse> {
    let content = Content::new(DOCUMENT).compressed()?;
    let media_type = HeaderValue::from_static("application/json");
    Ok(StaticResponse::new(&content, &media_type, &NO_CACHE))
}
