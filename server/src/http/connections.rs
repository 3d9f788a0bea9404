//! Accepts connections, limits their number and their idle time, and drains them when the server stops.
//!
//! axum's own accept loop has no timeout for the request head, so one slow client could hold a
//! connection for ever; this one has.

use std::future::Future;
use std::io;
use std::pin::{Pin, pin};
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use hyper::server::conn::{http1, http2};
use hyper_util::rt::{TokioExecutor, TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulConnection;
use tokio::io::{AsyncRead, AsyncWrite, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{OwnedSemaphorePermit, Semaphore, watch};
use tokio::time::{sleep, timeout};
use tokio_io_timeout::TimeoutStream;

use crate::http::drain::{DrainStage, DrainingService};
use crate::http::tls::{self, Tls};

/// Open connections at once. Further ones wait in the system's accept queue.
const MAX_CONNECTIONS: u32 = 4096;
/// Time for a whole request head, and for an idle connection to send its next one.
const HEADER_READ_TIMEOUT: Duration = Duration::from_secs(15);
/// Time for a TLS handshake.
const TLS_HANDSHAKE_TIMEOUT: Duration = Duration::from_secs(15);
/// Largest request head over HTTP/1; a larger one is refused with 431.
const MAX_HEADER_BYTES: usize = 32 * 1024;
/// Largest header list over HTTP/2.
const MAX_HEADER_LIST_BYTES: u32 = 32 * 1024;
/// Requests at once over one HTTP/2 connection.
const MAX_CONCURRENT_STREAMS: u32 = 128;
/// A connection over which nothing is read or written for so long is closed.
const IO_TIMEOUT: Duration = Duration::from_mins(1);
/// After a stop is asked for, time in which requests over open connections are still answered, each
/// answer saying that it is the last one over its connection.
const DRAIN_NOTICE: Duration = Duration::from_secs(1);
/// After that, time for answers in progress.
const DRAIN_TIMEOUT: Duration = Duration::from_secs(20);
/// Pause after a failed accept, as when the process has no file descriptors left.
const ACCEPT_BACKOFF: Duration = Duration::from_millis(100);

/// Accepts and serves connections until `stop` completes, then lets every answer in progress finish.
/// With `tls` all connections are TLS.
pub async fn serve(
    listener: TcpListener,
    tls: Option<Tls>,
    app: Router,
    stop: impl Future<Output = ()>,
) {
    let permits = Arc::new(Semaphore::new(MAX_CONNECTIONS as usize));
    let (drain, drain_stage) = watch::channel(DrainStage::Serving);
    let handler = ConnectionHandler {
        tls,
        app,
        drain_stage,
    };
    let mut stop = pin!(stop);
    loop {
        let accepted = tokio::select! {
            accepted = accept(&listener, &permits) => accepted,
            () = &mut stop => break,
        };
        handler.handle(accepted).await;
    }
    // The system has completed the handshake with those in the accept queue, so they expect an answer.
    while let Ok(accepted) = timeout(Duration::ZERO, accept(&listener, &permits)).await {
        handler.handle(accepted).await;
    }
    drop(listener);
    let open = MAX_CONNECTIONS as usize - permits.available_permits();
    tracing::info!(connections = open, "stopping");
    let all_closed = permits.acquire_many(MAX_CONNECTIONS);
    let mut all_closed = pin!(timeout(DRAIN_NOTICE + DRAIN_TIMEOUT, all_closed));
    // `send` would fail without a receiver; `send_replace` cannot.
    drain.send_replace(DrainStage::Draining);
    if timeout(DRAIN_NOTICE, &mut all_closed).await.is_ok() {
        return;
    }
    drain.send_replace(DrainStage::ClosingIdle);
    if all_closed.await.is_err() {
        tracing::warn!("some answers took too long and were cut off");
    }
}

/// A connection, and the permit that is released when it closes.
type Accepted = io::Result<(TcpStream, OwnedSemaphorePermit)>;

async fn accept(listener: &TcpListener, permits: &Arc<Semaphore>) -> Accepted {
    let permit = Arc::clone(permits)
        .acquire_owned()
        .await
        .map_err(io::Error::other)?;
    let (stream, _) = listener.accept().await?;
    Ok((stream, permit))
}

/// What every connection needs. Cheap to clone.
#[derive(Clone)]
struct ConnectionHandler {
    tls: Option<Tls>,
    app: Router,
    drain_stage: watch::Receiver<DrainStage>,
}

impl ConnectionHandler {
    /// Serves an accepted connection in a task of its own; after a failed accept waits a moment.
    async fn handle(&self, accepted: Accepted) {
        match accepted {
            Ok((stream, permit)) => {
                let handler = self.clone();
                tokio::spawn(async move {
                    handler.serve(stream).await;
                    drop(permit);
                });
            }
            Err(error) => {
                tracing::warn!(%error, "no connection accepted");
                sleep(ACCEPT_BACKOFF).await;
            }
        }
    }

    async fn serve(self, mut stream: TcpStream) {
        // Small answers should leave at once. Where the system refuses, they only leave later.
        let _ = stream.set_nodelay(true);
        let Some(tls) = self.tls.clone() else {
            return self.serve_http1(with_io_timeout(stream)).await;
        };
        let starts_tls = timeout(TLS_HANDSHAKE_TIMEOUT, tls::starts_handshake(&stream)).await;
        if !matches!(starts_tls, Ok(true)) {
            // Most likely a browser that was given the address without its https.
            let refusal = stream.write_all(tls::PLAIN_HTTP_REFUSAL);
            let _ = timeout(TLS_HANDSHAKE_TIMEOUT, refusal).await;
            return;
        }
        match timeout(TLS_HANDSHAKE_TIMEOUT, tls.accept(with_io_timeout(stream))).await {
            Ok(Ok(stream)) if tls::is_http2(&stream) => self.serve_http2(stream).await,
            Ok(Ok(stream)) => self.serve_http1(stream).await,
            Ok(Err(error)) => tracing::debug!(%error, "no TLS"),
            Err(_) => tracing::debug!("the TLS handshake took too long"),
        }
    }

    async fn serve_http1(self, stream: impl AsyncRead + AsyncWrite + Send + Unpin + 'static) {
        let service = DrainingService::new(self.app, self.drain_stage.clone());
        let connection = http1::Builder::new()
            .timer(TokioTimer::new())
            .header_read_timeout(HEADER_READ_TIMEOUT)
            .max_buf_size(MAX_HEADER_BYTES)
            .serve_connection(TokioIo::new(stream), service);
        // Each answer carries `Connection: close` while draining; only idle connections are closed here.
        drive(connection, self.drain_stage, DrainStage::ClosingIdle).await;
    }

    async fn serve_http2(self, stream: impl AsyncRead + AsyncWrite + Send + Unpin + 'static) {
        let service = DrainingService::new(self.app, self.drain_stage.clone());
        let connection = http2::Builder::new(TokioExecutor::new())
            .timer(TokioTimer::new())
            .max_header_list_size(MAX_HEADER_LIST_BYTES)
            .max_concurrent_streams(MAX_CONCURRENT_STREAMS)
            .serve_connection(TokioIo::new(stream), service);
        // GOAWAY tells the client which requests were taken, so none is lost.
        drive(connection, self.drain_stage, DrainStage::Draining).await;
    }
}

/// The stream with a timeout for each read and write.
fn with_io_timeout(stream: TcpStream) -> Pin<Box<TimeoutStream<TcpStream>>> {
    let mut stream = TimeoutStream::new(stream);
    stream.set_read_timeout(Some(IO_TIMEOUT));
    stream.set_write_timeout(Some(IO_TIMEOUT));
    Box::pin(stream)
}

/// Drives a connection until it closes, and shuts it down gracefully once draining is at `shutdown_at`.
async fn drive<C: GracefulConnection>(
    connection: C,
    mut drain_stage: watch::Receiver<DrainStage>,
    shutdown_at: DrainStage,
) where
    C::Error: std::fmt::Display,
{
    let mut connection = pin!(connection);
    // `wait_for` returns a read lock, which must not be held.
    let mut shutdown =
        pin!(async { drop(drain_stage.wait_for(|stage| *stage >= shutdown_at).await) });
    let closed = tokio::select! {
        closed = connection.as_mut() => closed,
        () = &mut shutdown => {
            connection.as_mut().graceful_shutdown();
            connection.await
        }
    };
    if let Err(error) = closed {
        tracing::debug!(%error, "connection ended early");
    }
}
