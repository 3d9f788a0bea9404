//! The log line of each answer. It tells what the server did, never who asked or what was measured: no
//! client addresses, no query strings, no bodies.

use std::time::Duration;

use axum::body::Body;
use axum::http::{Request, Response};
use tower_http::classify::{ServerErrorsAsFailures, SharedClassifier};
use tower_http::trace::TraceLayer;
use tracing::Span;

type MakeSpan = fn(&Request<Body>) -> Span;
type OnResponse = fn(&Response<Body>, Duration, &Span);

/// The layer that logs each answer with its method, path, status and time. The path is logged without
/// its query, which may hold a recipe and with it somebody's measurements.
pub fn layer()
-> TraceLayer<SharedClassifier<ServerErrorsAsFailures>, MakeSpan, (), OnResponse, (), (), ()> {
    let make_span: MakeSpan = |request| tracing::info_span!("request", method = %request.method(), path = request.uri().path());
    let on_response: OnResponse = |response, latency, _| {
        tracing::info!(
            status = response.status().as_u16(),
            micros = u64::try_from(latency.as_micros()).unwrap_or(u64::MAX),
            "answered"
        );
    };
    TraceLayer::new_for_http()
        .make_span_with(make_span)
        .on_request(())
        .on_response(on_response)
        .on_body_chunk(())
        .on_eos(())
        .on_failure(())
}
