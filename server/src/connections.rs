//! Sockets: how many, how long a caller may keep one without saying or taking anything, and how they
//! end.
//!
//! axum's own loop has no time limit for the request head, so one slow caller could hold a
//! connection for ever; this one has.

use std::future::Future;
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

use crate::farewell::{Answering, Stage};
use crate::tls::{self, Tls};

/// Open connections at once. More wait in the system's queue.
const MOST_CONNECTIONS: u32 = 4096;
/// Time for a whole request head, for an idle connection to ask again, and for a TLS handshake.
const HEAD_TIME: Duration = Duration::from_secs(15);
/// Room for a request head; larger ones are refused with 431.
const HEAD_BYTES: usize = 32 * 1024;
/// The same as HTTP/2 has it.
const HEAD_LIST: u32 = 32 * 1024;
/// Requests at once over one HTTP/2 connection.
const MOST_STREAMS: u32 = 128;
/// A connection over which nothing moves for so long is given up.
const SILENCE: Duration = Duration::from_mins(1);
/// After a stop is asked for, time in which callers with an open connection are still answered, and
/// told with each answer that it was the last.
const LAST_WORDS: Duration = Duration::from_secs(1);
/// After that, time for answers under way.
const FAREWELL: Duration = Duration::from_secs(20);
/// Pause when the system has no more sockets to give.
const BREATH: Duration = Duration::from_millis(100);

/// Accepts and serves until `stop` completes, then lets every answer under way finish. With `tls`
/// everything is spoken over TLS.
pub async fn serve(
    listener: TcpListener,
    tls: Option<Tls>,
    app: Router,
    stop: impl Future<Output = ()>,
) {
    let permits = Arc::new(Semaphore::new(MOST_CONNECTIONS as usize));
    let (tell, stage) = watch::channel(Stage::Serving);
    let house = House { tls, app, stage };
    let mut stop = pin!(stop);
    loop {
        let accepted = tokio::select! {
            accepted = accept(&listener, &permits) => accepted,
            () = &mut stop => break,
        };
        house.welcome(accepted).await;
    }
    // Who stands in the system's queue has been told that we are here.
    while let Ok(accepted) = timeout(Duration::ZERO, accept(&listener, &permits)).await {
        house.welcome(accepted).await;
    }
    drop(listener);
    let open = MOST_CONNECTIONS as usize - permits.available_permits();
    tracing::info!(connections = open, "stopping");
    let all_gone = permits.acquire_many(MOST_CONNECTIONS);
    let mut all_gone = pin!(timeout(LAST_WORDS + FAREWELL, all_gone));
    // The house holds the other end, so there is somebody to tell.
    tell.send_replace(Stage::Leaving);
    if timeout(LAST_WORDS, &mut all_gone).await.is_ok() {
        return;
    }
    tell.send_replace(Stage::Closing);
    if all_gone.await.is_err() {
        tracing::warn!("some answers took too long and were cut off");
    }
}

async fn accept(
    listener: &TcpListener,
    permits: &Arc<Semaphore>,
) -> std::io::Result<(TcpStream, OwnedSemaphorePermit)> {
    let permit = Arc::clone(permits)
        .acquire_owned()
        .await
        .map_err(std::io::Error::other)?;
    let (stream, _) = listener.accept().await?;
    Ok((stream, permit))
}

/// What every connection needs.
#[derive(Clone)]
struct House {
    tls: Option<Tls>,
    app: Router,
    stage: watch::Receiver<Stage>,
}

impl House {
    /// Has an accepted caller served by a task of its own; the permit ends with it.
    async fn welcome(&self, accepted: std::io::Result<(TcpStream, OwnedSemaphorePermit)>) {
        match accepted {
            Ok((stream, permit)) => {
                let house = self.clone();
                tokio::spawn(async move {
                    house.serve(stream).await;
                    drop(permit);
                });
            }
            Err(error) => {
                tracing::warn!(%error, "no connection accepted");
                sleep(BREATH).await;
            }
        }
    }

    async fn serve(self, stream: TcpStream) {
        // Small answers should leave at once; if the system says no, they only leave later.
        let _ = stream.set_nodelay(true);
        let Some(tls) = self.tls.clone() else {
            return self.http1(watched(stream)).await;
        };
        if !matches!(timeout(HEAD_TIME, tls::begins(&stream)).await, Ok(true)) {
            // Most likely a browser that was given the address without its https.
            let mut stream = stream;
            let _ = timeout(HEAD_TIME, stream.write_all(tls::PLAIN_REFUSED)).await;
            return;
        }
        match timeout(HEAD_TIME, tls.accept(watched(stream))).await {
            Ok(Ok(stream)) if tls::is_http2(&stream) => self.http2(stream).await,
            Ok(Ok(stream)) => self.http1(stream).await,
            Ok(Err(error)) => tracing::debug!(%error, "no TLS"),
            Err(_) => tracing::debug!("the TLS handshake took too long"),
        }
    }

    async fn http1(self, stream: impl AsyncRead + AsyncWrite + Send + Unpin + 'static) {
        let answering = Answering::new(self.app, self.stage.clone());
        let connection = http1::Builder::new()
            .timer(TokioTimer::new())
            .header_read_timeout(HEAD_TIME)
            .max_buf_size(HEAD_BYTES)
            .serve_connection(TokioIo::new(stream), answering);
        // Each answer says by itself that it is the last one; only the idle have to be closed.
        until_done(connection, self.stage, Stage::Closing).await;
    }

    async fn http2(self, stream: impl AsyncRead + AsyncWrite + Send + Unpin + 'static) {
        let answering = Answering::new(self.app, self.stage.clone());
        let connection = http2::Builder::new(TokioExecutor::new())
            .timer(TokioTimer::new())
            .max_header_list_size(HEAD_LIST)
            .max_concurrent_streams(MOST_STREAMS)
            .serve_connection(TokioIo::new(stream), answering);
        // HTTP/2 has a farewell of its own, in which nothing is lost.
        until_done(connection, self.stage, Stage::Leaving).await;
    }
}

/// A stream that breaks off when nothing moves.
fn watched(stream: TcpStream) -> Pin<Box<TimeoutStream<TcpStream>>> {
    let mut stream = TimeoutStream::new(stream);
    stream.set_read_timeout(Some(SILENCE));
    stream.set_write_timeout(Some(SILENCE));
    Box::pin(stream)
}

/// Drives a connection to its end; from a stage on it is asked to end.
async fn until_done<C: GracefulConnection>(
    connection: C,
    mut stage: watch::Receiver<Stage>,
    end: Stage,
) where
    C::Error: std::fmt::Display,
{
    let mut connection = pin!(connection);
    // What it hands over is a lock, and is let go of at once.
    let mut asked = pin!(async { drop(stage.wait_for(|stage| *stage >= end).await) });
    let ended = tokio::select! {
        ended = connection.as_mut() => ended,
        () = &mut asked => {
            connection.as_mut().graceful_shutdown();
            connection.await
        }
    };
    if let Err(error) = ended {
        tracing::debug!(%error, "connection ended early");
    }
}
