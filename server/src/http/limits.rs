//! How much one request may take: bytes, time, and its share of the server.

use std::sync::Arc;
use std::time::Duration;

use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use evenloop_engine::wire;
use tokio::sync::{Semaphore, oneshot};
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

/// Does the work that needs the processor on threads of its own, and refuses what is too much. Stored pages
/// and files take no work, and are still served then. Clones share one limit.
#[derive(Debug, Clone)]
pub struct WorkLimit(Arc<Semaphore>);

/// Why there is no result.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WorkError {
    /// Too much work is in progress or waits. Answered with 503.
    Overloaded,
    /// The work panicked. Answered with 500.
    Failed,
}

impl Default for WorkLimit {
    fn default() -> Self {
        Self(Arc::new(Semaphore::new(MAX_CONCURRENT_WORK)))
    }
}

impl WorkLimit {
    /// Does some work. To be called when the request has arrived as a whole, so that no caller holds a turn
    /// by being slow.
    ///
    /// # Errors
    /// When there is too much of it, or it panics.
    pub async fn run<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, WorkError> {
        let permit = Arc::clone(&self.0).try_acquire_owned();
        let permit = permit.map_err(|_| WorkError::Overloaded)?;
        let (result, receiver) = oneshot::channel();
        tokio::task::spawn_blocking(move || {
            // Held by the work and not by its caller, who may be gone before it is begun.
            let _permit = permit;
            if !result.is_closed() {
                // The caller may have gone meanwhile.
                let _ = result.send(work());
            }
        });
        receiver.await.map_err(|_| WorkError::Failed)
    }
}

impl IntoResponse for WorkError {
    fn into_response(self) -> Response {
        match self {
            Self::Overloaded => overloaded(),
            Self::Failed => Problem::from(StatusCode::INTERNAL_SERVER_ERROR).into_response(),
        }
    }
}

/// The answer to a request that is one too many.
pub(crate) fn overloaded() -> Response {
    let retry_after = [(header::RETRY_AFTER, RETRY_AFTER)];
    let problem = Problem::from(StatusCode::SERVICE_UNAVAILABLE);
    (retry_after, problem).into_response()
}

#[cfg(test)]
mod tests {
    use std::sync::mpsc;

    use super::*;

    #[tokio::test]
    async fn work_that_is_too_much_is_refused_until_some_is_done() {
        let limit = WorkLimit(Arc::new(Semaphore::new(1)));
        let (finish, finished) = mpsc::channel::<()>();
        let slow = tokio::spawn({
            let limit = limit.clone();
            async move { limit.run(move || finished.recv().is_ok()).await }
        });
        while limit.0.available_permits() > 0 {
            tokio::task::yield_now().await;
        }
        assert_eq!(limit.run(|| ()).await, Err(WorkError::Overloaded));
        assert!(finish.send(()).is_ok());
        assert!(matches!(slow.await, Ok(Ok(true))));
        while limit.0.available_permits() == 0 {
            tokio::task::yield_now().await;
        }
        assert_eq!(limit.run(|| 7).await, Ok(7));
    }

    #[tokio::test]
    async fn a_turn_is_held_until_the_work_is_done_though_its_caller_is_gone() {
        let limit = WorkLimit(Arc::new(Semaphore::new(1)));
        let (finish, finished) = mpsc::channel::<()>();
        let (begin, has_begun) = oneshot::channel();
        let caller = tokio::spawn({
            let limit = limit.clone();
            async move {
                let work = move || begin.send(()).is_ok() && finished.recv().is_ok();
                limit.run(work).await
            }
        });
        assert!(has_begun.await.is_ok());
        caller.abort();
        assert!(caller.await.is_err());
        assert_eq!(limit.run(|| ()).await, Err(WorkError::Overloaded));
        assert!(finish.send(()).is_ok());
    }

    #[tokio::test]
    async fn work_that_panics_has_failed_and_frees_its_turn() {
        let limit = WorkLimit(Arc::new(Semaphore::new(1)));
        let failed: Result<(), _> = limit.run(|| panic!("as it should here")).await;
        assert_eq!(failed, Err(WorkError::Failed));
        while limit.0.available_permits() == 0 {
            tokio::task::yield_now().await;
        }
    }
}
