//! How much one request may take: bytes, time, and its share of the server.

use std::sync::Arc;
use std::time::Duration;

use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use evenloop_engine::wire;
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tower_http::limit::RequestBodyLimitLayer;
use tower_http::timeout::TimeoutLayer;

use crate::http::problem::Problem;

/// Largest request body: a recipe is all that is ever sent.
pub const MAX_BODY_BYTES: usize = wire::RECIPE_LIMIT;
/// Time to read a request and begin its answer.
const REQUEST_TIMEOUT: Duration = Duration::from_secs(10);
/// Plans and rendered pages at once, in progress or waiting for a thread. Further requests are refused.
const MAX_CONCURRENT_WORK: usize = 512;
/// Seconds after which a refused client may try again.
const RETRY_AFTER: HeaderValue = HeaderValue::from_static("1");

/// The limit of a request's body.
pub(crate) fn body_limit() -> RequestBodyLimitLayer {
    RequestBodyLimitLayer::new(MAX_BODY_BYTES)
}

/// The limit of a request's time.
pub(crate) fn time_limit() -> TimeoutLayer {
    TimeoutLayer::with_status_code(StatusCode::REQUEST_TIMEOUT, REQUEST_TIMEOUT)
}

/// Limits the requests that need the processor. Stored pages and files do not, and are still served
/// when this limit is reached. Clones share one limit.
#[derive(Debug, Clone)]
pub struct WorkLimit(Arc<Semaphore>);

impl Default for WorkLimit {
    fn default() -> Self {
        Self(Arc::new(Semaphore::new(MAX_CONCURRENT_WORK)))
    }
}

impl WorkLimit {
    /// A permit, to be held until the work is done.
    ///
    /// # Errors
    /// When the limit is reached.
    pub fn try_acquire(&self) -> Result<OwnedSemaphorePermit, Overloaded> {
        Arc::clone(&self.0)
            .try_acquire_owned()
            .map_err(|_| Overloaded)
    }
}

/// The work limit is reached. Answered with 503.
#[derive(Debug, Clone, Copy)]
pub struct Overloaded;

impl IntoResponse for Overloaded {
    fn into_response(self) -> Response {
        let retry_after = [(header::RETRY_AFTER, RETRY_AFTER)];
        let problem = Problem::from(StatusCode::SERVICE_UNAVAILABLE);
        (retry_after, problem).into_response()
    }
}
