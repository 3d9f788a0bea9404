//! Accepts connections, limits their number and their idle time, and drains them when the server stops.
//!
//! axum's own accept loop has no timeout for the request head, so one slow client could hold a
//! connection for ever; this one has.

use std::future::Future;
use std::io;
use std::net::SocketAddr;
use std::pin::{Pin, pin};
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use hyper::server::conn::{http1, http2};
use hyper_util::rt::{TokioExecutor, TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulConnection;
use tokio::io::{AsyncRead, AsyncWrite, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::watch;
use tokio::time::{sleep, timeout};
use tokio_io_timeout::TimeoutStream;
use tokio_rustls::server::TlsStream;

use crate::http::activity::{Activity, GivenUp, Patience};
use crate::http::drain::{DrainStage, DrainingService};
use crate::http::open_connections::{
    ConnectionLimits, OpenConnection, OpenConnections, Place, TooManyOfOneAddress,
};
use crate::http::tls::{self, Tls};

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
/// So is one over which nothing is asked, or of which no answer is taken, whatever else is sent over it.
const PATIENCE: Patience = Patience {
    idle: Duration::from_secs(30),
    stalled: IO_TIMEOUT,
};
/// Time for a connection that has stalled to end in order: to say so, and to finish a request that came
/// meanwhile.
const STALLED_GRACE: Duration = Duration::from_secs(1);
/// The same for one that was shed. Half a request would take all of it, and callers wait for the place.
const SHED_GRACE: Duration = Duration::from_millis(50);
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
    limits: ConnectionLimits,
    app: Router,
    stop: impl Future<Output = ()>,
) {
    let connections = OpenConnections::new(limits);
    let (drain, drain_stage) = watch::channel(DrainStage::Serving);
    let handler = ConnectionHandler {
        tls,
        app,
        drain_stage,
    };
    let mut stop = pin!(stop);
    loop {
        let accepted = tokio::select! {
            accepted = accept(&listener, &connections) => accepted,
            () = &mut stop => break,
        };
        handler.handle(&connections, accepted).await;
    }
    // The system has completed the handshake with those in the accept queue, so they expect an answer.
    while let Ok(accepted) = timeout(Duration::ZERO, accept(&listener, &connections)).await {
        handler.handle(&connections, accepted).await;
    }
    drop(listener);
    tracing::info!(connections = connections.count(), "stopping");
    let mut all_closed = pin!(timeout(
        DRAIN_NOTICE + DRAIN_TIMEOUT,
        connections.all_closed()
    ));
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

/// A connection, whose it is, and its place.
type Accepted = io::Result<(TcpStream, SocketAddr, Place)>;

async fn accept(listener: &TcpListener, connections: &OpenConnections) -> Accepted {
    let place = connections.place().await;
    let place = place.ok_or_else(|| io::Error::other("no connections are served any more"))?;
    let (stream, peer) = listener.accept().await?;
    Ok((stream, peer, place))
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
    async fn handle(&self, connections: &OpenConnections, accepted: Accepted) {
        match accepted {
            Ok((stream, peer, place)) => match connections.open(place, peer.ip()) {
                Ok(connection) => {
                    tokio::spawn(self.clone().serve(stream, connection));
                }
                // Closed without a word: it would have to be said over TLS, which takes work.
                Err(TooManyOfOneAddress) => {
                    tracing::debug!("one address has as many connections as it may");
                }
            },
            Err(error) => {
                tracing::warn!(%error, "no connection accepted");
                sleep(ACCEPT_BACKOFF).await;
            }
        }
    }

    async fn serve(self, stream: TcpStream, connection: OpenConnection) {
        let activity = &connection.activity;
        // Small answers should leave at once. Where the system refuses, they only leave later.
        let _ = stream.set_nodelay(true);
        let Some(tls) = &self.tls else {
            return self.serve_http1(with_io_timeout(stream), activity).await;
        };
        let opened = tokio::select! {
            opened = open_tls(tls, stream) => opened,
            _ = activity.until_given_up(PATIENCE) => None,
        };
        match opened {
            Some(stream) if tls::is_http2(&stream) => self.serve_http2(stream, activity).await,
            Some(stream) => self.serve_http1(stream, activity).await,
            None => {}
        }
    }

    async fn serve_http1(
        &self,
        stream: impl AsyncRead + AsyncWrite + Send + Unpin + 'static,
        activity: &Arc<Activity>,
    ) {
        let service = self.service(activity);
        let connection = http1::Builder::new()
            .timer(TokioTimer::new())
            .header_read_timeout(HEADER_READ_TIMEOUT)
            .max_buf_size(MAX_HEADER_BYTES)
            .serve_connection(TokioIo::new(stream), service);
        // Each answer carries `Connection: close` while draining; only idle connections are closed here.
        self.drive(connection, activity, DrainStage::ClosingIdle)
            .await;
    }

    async fn serve_http2(
        &self,
        stream: impl AsyncRead + AsyncWrite + Send + Unpin + 'static,
        activity: &Arc<Activity>,
    ) {
        let service = self.service(activity);
        let connection = http2::Builder::new(TokioExecutor::new())
            .timer(TokioTimer::new())
            .max_header_list_size(MAX_HEADER_LIST_BYTES)
            .max_concurrent_streams(MAX_CONCURRENT_STREAMS)
            .serve_connection(TokioIo::new(stream), service);
        // GOAWAY tells the client which requests were taken, so none is lost.
        self.drive(connection, activity, DrainStage::Draining).await;
    }

    fn service(&self, activity: &Arc<Activity>) -> DrainingService {
        let (app, activity) = (self.app.clone(), Arc::clone(activity));
        DrainingService::new(app, activity, self.drain_stage.clone())
    }

    /// Drives a connection until it closes. It is shut down gracefully once draining is at `shutdown_at`,
    /// and closed soon where it was shed or stalled.
    async fn drive<C: GracefulConnection>(
        &self,
        connection: C,
        activity: &Activity,
        shutdown_at: DrainStage,
    ) where
        C::Error: std::fmt::Display,
    {
        let mut connection = pin!(connection);
        let mut drain_stage = self.drain_stage.clone();
        // `wait_for` returns a read lock, which must not be held.
        let mut shutdown =
            pin!(async { drop(drain_stage.wait_for(|stage| *stage >= shutdown_at).await) });
        let mut given_up = pin!(activity.until_given_up(PATIENCE));
        let ended = tokio::select! {
            closed = connection.as_mut() => Ok(closed),
            why = &mut given_up => Err(why),
            () = &mut shutdown => {
                connection.as_mut().graceful_shutdown();
                tokio::select! {
                    closed = connection.as_mut() => Ok(closed),
                    why = &mut given_up => Err(why),
                }
            }
        };
        let closed = match ended {
            Ok(closed) => Some(closed),
            Err(why) => {
                let grace = match why {
                    GivenUp::Shed => SHED_GRACE,
                    GivenUp::Stalled => STALLED_GRACE,
                };
                connection.as_mut().graceful_shutdown();
                timeout(grace, connection).await.ok()
            }
        };
        if let Some(Err(error)) = closed {
            tracing::debug!(%error, "connection ended early");
        }
    }
}

/// TLS over a connection; `None` where the client speaks none, or not in time.
async fn open_tls(
    tls: &Tls,
    mut stream: TcpStream,
) -> Option<TlsStream<Pin<Box<TimeoutStream<TcpStream>>>>> {
    let starts_tls = timeout(TLS_HANDSHAKE_TIMEOUT, tls::starts_handshake(&stream)).await;
    if !matches!(starts_tls, Ok(true)) {
        // Most likely a browser that was given the address without its https.
        let refusal = stream.write_all(tls::PLAIN_HTTP_REFUSAL);
        let _ = timeout(TLS_HANDSHAKE_TIMEOUT, refusal).await;
        return None;
    }
    match timeout(TLS_HANDSHAKE_TIMEOUT, tls.accept(with_io_timeout(stream))).await {
        Ok(Ok(stream)) => return Some(stream),
        Ok(Err(error)) => tracing::debug!(%error, "no TLS"),
        Err(_) => tracing::debug!("the TLS handshake took too long"),
    }
    None
}

/// The stream with a timeout for each read and write.
fn with_io_timeout(stream: TcpStream) -> Pin<Box<TimeoutStream<TcpStream>>> {
    let mut stream = TimeoutStream::new(stream);
    stream.set_read_timeout(Some(IO_TIMEOUT));
    stream.set_write_timeout(Some(IO_TIMEOUT));
    Box::pin(stream)
}
