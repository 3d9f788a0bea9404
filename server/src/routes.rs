//! What is answered where.

use axum::Router;
use axum::extract::{FromRef, Request, State};
use axum::http::{StatusCode, header};
use axum::middleware::from_fn;
use axum::response::{Html, IntoResponse, Response};
use axum::routing::{get, post};
use evenloop_app::shell;
use tokio::task::spawn_blocking;
use tower_http::compression::CompressionLayer;

use crate::headers::{self, ASK_AGAIN, KEEP_NOT};
use crate::limits::{NoTurn, Turns};
use crate::problem::{self, Problem};
use crate::site::Site;
use crate::{assets, limits, logs, plan};

/// What the handlers share.
#[derive(Debug, Clone, FromRef)]
struct Shared {
    site: Site,
    turns: Turns,
}

/// The whole server as one service.
pub fn router(site: Site) -> Router {
    let mut pages = Router::new();
    for (path, _) in site.pages.all() {
        pages = pages.route(path, get(page));
    }
    let turns = Turns::default();
    let answers = pages
        .route("/api/plan", post(plan::plan))
        // What is stored has its compressed forms; these answers are compressed as they go.
        .layer(CompressionLayer::new())
        .route("/healthz", get(health))
        .fallback(assets::file)
        .method_not_allowed_fallback(async || Problem::from(StatusCode::METHOD_NOT_ALLOWED))
        .with_state(Shared { site, turns });
    limits::limited(answers)
        .layer(from_fn(problem::dress))
        .layer(from_fn(headers::secure))
        .layer(logs::layer())
}

/// A screen, as it is before the browser wakes it.
async fn page(
    State(Shared { site, turns }): State<Shared>,
    request: Request,
) -> Result<Response, NoTurn> {
    let uri = request.uri();
    if let (None, Some(page)) = (uri.query(), site.pages.at(uri.path())) {
        return Ok(page.answer(request.headers()));
    }
    let _turn = turns.take()?;
    let (path, query) = (uri.path().to_owned(), uri.query().map(str::to_owned));
    // A recipe in the address is planned and simulated whole: not on a thread that others wait for.
    let rendered = spawn_blocking(move || shell::render(&site.assets, &path, query.as_deref()));
    Ok(match rendered.await {
        Ok(html) => ([(header::CACHE_CONTROL, ASK_AGAIN)], Html(html)).into_response(),
        Err(_) => Problem::from(StatusCode::INTERNAL_SERVER_ERROR).into_response(),
    })
}

/// For balancers and watchdogs: the process answers.
async fn health() -> impl IntoResponse {
    ([(header::CACHE_CONTROL, KEEP_NOT)], "ok\n")
}
