//! Sockets: how many, how long a caller may take to ask, and how they end.
//!
//! axum's own loop has no time limit for the request head, so one slow caller could hold a
//! connection for ever; this one has.

use std::future::Future;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use tokio::net::TcpListener;
use tokio::sync::Semaphore;
use tokio::time::{sleep, timeout};

/// Open connections at once. More wait in the system's queue.
const MOST_CONNECTIONS: usize = 4096;
/// Time for a whole request head, and for an idle connection to ask again.
const HEAD_TIME: Duration = Duration::from_secs(15);
/// Room for a request head; larger ones are refused with 431.
const HEAD_BYTES: usize = 32 * 1024;
/// After a stop is asked for, time for answers under way.
const FAREWELL: Duration = Duration::from_secs(20);
/// Pause when the system has no more sockets to give.
const BREATH: Duration = Duration::from_millis(100);

/// Accepts and serves until `stop` completes, then lets every answer under way finish.
pub async fn serve(listener: TcpListener, app: Router, stop: impl Future<Output = ()>) {
    let permits = Arc::new(Semaphore::new(MOST_CONNECTIONS));
    let graceful = GracefulShutdown::new();
    let mut http = hyper::server::conn::http1::Builder::new();
    http.timer(TokioTimer::new())
        .header_read_timeout(HEAD_TIME)
        .max_buf_size(HEAD_BYTES);
    tokio::pin!(stop);
    loop {
        let accepted = tokio::select! {
            accepted = accept(&listener, &permits) => accepted,
            () = &mut stop => break,
        };
        let (stream, permit) = match accepted {
            Ok(accepted) => accepted,
            Err(error) => {
                tracing::warn!(%error, "no connection accepted");
                sleep(BREATH).await;
                continue;
            }
        };
        // Small answers should leave at once; if the system says no, they only leave later.
        let _ = stream.set_nodelay(true);
        let service = TowerToHyperService::new(app.clone());
        let connection = graceful.watch(http.serve_connection(TokioIo::new(stream), service));
        tokio::spawn(async move {
            if let Err(error) = connection.await {
                tracing::debug!(%error, "connection ended early");
            }
            drop(permit);
        });
    }
    drop(listener);
    tracing::info!(connections = graceful.count(), "stopping");
    if timeout(FAREWELL, graceful.shutdown()).await.is_err() {
        tracing::warn!("some answers took too long and were cut off");
    }
}

async fn accept(
    listener: &TcpListener,
    permits: &Arc<Semaphore>,
) -> std::io::Result<(tokio::net::TcpStream, tokio::sync::OwnedSemaphorePermit)> {
    let permit = Arc::clone(permits)
        .acquire_owned()
        .await
        .map_err(std::io::Error::other)?;
    let (stream, _) = listener.accept().await?;
    Ok((stream, permit))
}
