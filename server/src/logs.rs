//! Structured logs. They tell what the server did, never who asked or what was measured: no
//! addresses of readers, no query strings, no bodies.

use std::io::IsTerminal;
use std::time::Duration;

use axum::body::Body;
use axum::http::{Request, Response};
use tower_http::classify::{ServerErrorsAsFailures, SharedClassifier};
use tower_http::trace::TraceLayer;
use tracing::Span;
use tracing_subscriber::EnvFilter;

/// A logging setting that cannot be understood.
#[derive(Debug, thiserror::Error)]
pub enum LogsError {
    /// Not a filter.
    #[error("EVENLOOP_LOG is \"{0}\", which is no filter. Use error, warn, info, debug or trace.")]
    Filter(String),
    /// Neither text nor json.
    #[error("EVENLOOP_LOG_FORMAT is \"{0}\". Use text or json.")]
    Format(String),
}

/// Starts logging to standard error, as `EVENLOOP_LOG` and `EVENLOOP_LOG_FORMAT` ask.
///
/// # Errors
/// When either variable cannot be understood.
pub fn start() -> Result<(), LogsError> {
    let filter = std::env::var("EVENLOOP_LOG").unwrap_or_else(|_| "info".to_owned());
    let filter = EnvFilter::try_new(&filter).map_err(|_| LogsError::Filter(filter))?;
    let format = std::env::var("EVENLOOP_LOG_FORMAT").unwrap_or_else(|_| "text".to_owned());
    let builder = tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_ansi(std::io::stderr().is_terminal())
        .with_writer(std::io::stderr);
    // A second subscriber (only tests could have set one) is no reason not to serve.
    let _ = match format.as_str() {
        "text" => builder.compact().try_init(),
        "json" => builder.json().try_init(),
        _ => return Err(LogsError::Format(format)),
    };
    Ok(())
}

type MakeSpan = fn(&Request<Body>) -> Span;
type OnResponse = fn(&Response<Body>, Duration, &Span);

/// One line an answer: method, path, status, time. The path goes without its query, which may
/// hold a recipe and with it somebody's measurements.
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
