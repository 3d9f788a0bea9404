//! How much one request may take: bytes, time, and its share of the server.

use std::time::Duration;

use axum::BoxError;
use axum::Router;
use axum::error_handling::HandleErrorLayer;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use evenloop_engine::wire;
use tower::ServiceBuilder;
use tower::limit::GlobalConcurrencyLimitLayer;
use tower::load_shed::LoadShedLayer;
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::limit::RequestBodyLimitLayer;
use tower_http::timeout::TimeoutLayer;

use crate::problem::Problem;

/// Largest request body: a recipe is all that is ever sent.
pub const BODY_BYTES: usize = wire::RECIPE_LIMIT;
/// Time to read a request and begin its answer.
const ANSWER_TIME: Duration = Duration::from_secs(10);
/// Requests worked on at once; the next one is told to come back.
const AT_ONCE: usize = 512;
/// When a turned-away caller should come back.
const COME_BACK: HeaderValue = HeaderValue::from_static("1");

/// Puts the limits around every route.
pub fn limited(router: Router) -> Router {
    let shed = ServiceBuilder::new()
        .layer(HandleErrorLayer::new(overloaded))
        .layer(LoadShedLayer::new())
        .layer(GlobalConcurrencyLimitLayer::new(AT_ONCE));
    router
        .layer(RequestBodyLimitLayer::new(BODY_BYTES))
        .layer(TimeoutLayer::with_status_code(
            StatusCode::REQUEST_TIMEOUT,
            ANSWER_TIME,
        ))
        .layer(CatchPanicLayer::custom(failed))
        .layer(shed)
}

async fn overloaded(_: BoxError) -> Response {
    let mut response = Problem::from(StatusCode::SERVICE_UNAVAILABLE).into_response();
    response
        .headers_mut()
        .insert(header::RETRY_AFTER, COME_BACK);
    response
}

/// The panic's text may hold what was asked, so only its place is logged (by the panic hook).
fn failed(_: Box<dyn std::any::Any + Send>) -> Response {
    Problem::from(StatusCode::INTERNAL_SERVER_ERROR).into_response()
}
