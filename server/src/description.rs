//! The description of what is answered where, for programs: `server/openapi.json`, which is written
//! by hand and held to the truth by `tests/tests/server_contract.rs`.

use std::io;

use axum::extract::{Request, State};
use axum::http::HeaderValue;
use axum::response::Response;

use crate::headers::ASK_AGAIN;
use crate::stored::Stored;

const TEXT: &str = include_str!("../openapi.json");

/// The document, ready to be handed out.
#[derive(Debug, Clone)]
pub struct Description(Stored);

impl Description {
    /// Makes its compressed forms.
    ///
    /// # Errors
    /// When compressing fails.
    pub fn new() -> io::Result<Self> {
        let kind = HeaderValue::from_static("application/json");
        Stored::new(kind, ASK_AGAIN, TEXT).compressed().map(Self)
    }
}

/// The handler.
pub async fn description(State(document): State<Description>, request: Request) -> Response {
    document.0.answer(request.headers())
}
