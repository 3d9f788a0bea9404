//! How much one request may take: bytes, time, and its share of the server.

use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use evenloop_engine::wire;
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::limit::RequestBodyLimitLayer;
use tower_http::timeout::TimeoutLayer;

use crate::problem::Problem;

/// Largest request body: a recipe is all that is ever sent.
pub const BODY_BYTES: usize = wire::RECIPE_LIMIT;
/// Time to read a request and begin its answer.
const ANSWER_TIME: Duration = Duration::from_secs(10);
/// Plans made or waited for at once; who asks for one more is told to come back.
const AT_ONCE: usize = 512;
/// When a turned-away caller should come back.
const COME_BACK: HeaderValue = HeaderValue::from_static("1");

/// Puts the limits around every route.
pub fn limited(router: Router) -> Router {
    router
        .layer(RequestBodyLimitLayer::new(BODY_BYTES))
        .layer(TimeoutLayer::with_status_code(
            StatusCode::REQUEST_TIMEOUT,
            ANSWER_TIME,
        ))
        .layer(CatchPanicLayer::custom(failed))
}

/// Turns at what takes work. Pages and files need none: they lie ready, and are still handed out
/// when all turns are taken.
#[derive(Debug, Clone)]
pub struct Turns(Arc<Semaphore>);

impl Default for Turns {
    fn default() -> Self {
        Self(Arc::new(Semaphore::new(AT_ONCE)))
    }
}

impl Turns {
    /// A turn, to be held until the work is done.
    ///
    /// # Errors
    /// When all are taken.
    pub fn take(&self) -> Result<OwnedSemaphorePermit, NoTurn> {
        Arc::clone(&self.0).try_acquire_owned().map_err(|_| NoTurn)
    }
}

/// All turns are taken.
#[derive(Debug, Clone, Copy)]
pub struct NoTurn;

impl IntoResponse for NoTurn {
    fn into_response(self) -> Response {
        let come_back = [(header::RETRY_AFTER, COME_BACK)];
        (come_back, Problem::from(StatusCode::SERVICE_UNAVAILABLE)).into_response()
    }
}

/// The panic's text may hold what was asked, so only its place is logged (by the panic hook).
fn failed(_: Box<dyn std::any::Any + Send>) -> Response {
    Problem::from(StatusCode::INTERNAL_SERVER_ERROR).into_response()
}
