//! What is answered where.

use std::io;

use axum::Router;
use axum::extract::{FromRef, Request, State};
use axum::http::{StatusCode, header};
use axum::middleware::from_fn;
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use evenloop_app::base::Base;
use evenloop_app::shell;
use tokio::task::spawn_blocking;
use tower_http::compression::CompressionLayer;

use crate::description::{self, Description};
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
    description: Description,
}

/// The whole server as one service.
///
/// # Errors
/// When what is handed out cannot be made ready.
pub fn router(site: Site) -> io::Result<Router> {
    let base = site.base.clone();
    let mut pages = Router::new();
    for (path, _) in site.pages.all() {
        pages = pages.route(&base.of(path), get(page));
    }
    if base != Base::default() {
        pages = pages.route(base.as_str(), get(to_the_base));
    }
    let shared = Shared {
        site,
        turns: Turns::default(),
        description: Description::new()?,
    };
    let answers = pages
        .route(&base.of("/api/plan"), post(plan::plan))
        // What is stored has its compressed forms; these answers are compressed as they go.
        .layer(CompressionLayer::new())
        .route(&base.of("/api/openapi.json"), get(description::description))
        .route(&base.of("/healthz"), get(health))
        .fallback(assets::file)
        .method_not_allowed_fallback(async || Problem::from(StatusCode::METHOD_NOT_ALLOWED))
        .with_state(shared);
    Ok(limits::limited(answers)
        .layer(from_fn(problem::dress))
        .layer(from_fn(headers::secure))
        .layer(logs::layer()))
}

/// A screen, as it is before the browser wakes it.
async fn page(
    State(Shared { site, turns, .. }): State<Shared>,
    request: Request,
) -> Result<Response, NoTurn> {
    let uri = request.uri();
    let path = site.base.within(uri.path()).unwrap_or("/").to_owned();
    if let (None, Some(page)) = (uri.query(), site.pages.at(&path)) {
        return Ok(page.answer(request.headers()));
    }
    let _turn = turns.take()?;
    let query = uri.query().map(str::to_owned);
    // A recipe in the address is planned and simulated whole: not on a thread that others wait for.
    let rendered =
        spawn_blocking(move || shell::render(&site.assets, &site.base, &path, query.as_deref()));
    Ok(match rendered.await {
        Ok(html) => ([(header::CACHE_CONTROL, ASK_AGAIN)], Html(html)).into_response(),
        Err(_) => Problem::from(StatusCode::INTERNAL_SERVER_ERROR).into_response(),
    })
}

/// The base without its last slash is an address that people type.
async fn to_the_base(State(site): State<Site>) -> Redirect {
    Redirect::permanent(&site.base.of("/"))
}

/// For balancers and watchdogs: the process answers.
async fn health() -> impl IntoResponse {
    ([(header::CACHE_CONTROL, KEEP_NOT)], "ok\n")
}
