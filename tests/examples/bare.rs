//! The least that axum can be: one word to everybody. A yardstick for `tests/load`.
//! Listens on the address it is given.

use axum::Router;
use axum::routing::get;
use tokio::net::TcpListener;

#[tokio::main]
async fn main() -> std::io::Result<()> {
    let address = std::env::args().nth(1).unwrap_or_default();
    let app = Router::new().route("/", get(async || "hello"));
    axum::serve(TcpListener::bind(address).await?, app).await
}
