//! Which handler answers which address.

use std::any::Any;
use std::io;
use std::sync::Arc;

use axum::Router;
use axum::extract::{FromRef, Request, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use evenloop_app::base::Base;
use evenloop_app::shell::{self, Assets};
use tower::ServiceBuilder;
use tower_http::catch_panic::CatchPanicLayer;

use crate::http::content_negotiation::negotiate;
use crate::http::headers::{self, NO_CACHE, NO_STORE};
use crate::http::limits::{self, WorkLimit};
use crate::http::problem::{self, Problem};
use crate::http::rendered::Rendered;
use crate::http::request_bodies::RequestBodies;
use crate::http::static_response::StaticResponse;
use crate::http::static_site::{self, HTML, StaticSite};
use crate::http::{openapi, plan, request_log};
use crate::site::open::Site;

/// What the handlers need. There is one of it, which all requests share.
#[derive(Debug)]
struct AppState {
    static_site: StaticSite,
    openapi: StaticResponse,
    assets: Assets,
    base: Base,
    work_limit: WorkLimit,
    request_bodies: RequestBodies,
}

impl FromRef<Arc<AppState>> for WorkLimit {
    fn from_ref(state: &Arc<AppState>) -> Self {
        state.work_limit.clone()
    }
}

impl FromRef<Arc<AppState>> for RequestBodies {
    fn from_ref(state: &Arc<AppState>) -> Self {
        state.request_bodies.clone()
    }
}

/// The whole server as one service.
///
/// # Errors
/// When a static answer cannot be made.
pub fn router(site: Site) -> io::Result<Router> {
    let static_site = StaticSite::new(&site);
    let Site {
        assets,
        base,
        pages,
        ..
    } = site;
    let mut router = Router::new();
    for (path, _) in pages.all() {
        router = router.route(&base.of(path), get(page));
    }
    if base != Base::default() {
        router = router.route(base.as_str(), get(redirect_to_base));
    }
    let router = router
        .route(&base.of("/api/plan"), post(plan::plan))
        .route(&base.of("/api/openapi.json"), get(api_description))
        .route(&base.of("/healthz"), get(health))
        .fallback(file)
        .method_not_allowed_fallback(async || Problem::from(StatusCode::METHOD_NOT_ALLOWED))
        .with_state(Arc::new(AppState {
            static_site,
            openapi: openapi::response()?,
            assets,
            base,
            work_limit: WorkLimit::default(),
            request_bodies: RequestBodies::default(),
        }));
    // One layer of many rather than many layers: axum allocates for each of its layers at each request.
    Ok(router.layer(
        ServiceBuilder::new()
            .layer(request_log::layer())
            .map_response(headers::add_security_headers)
            .map_response(problem::replace_plain_error)
            .layer(limits::body_limit())
            .layer(CatchPanicLayer::custom(panicked))
            .layer(limits::time_limit()),
    ))
}

/// A screen, as it is before the app starts in the browser.
async fn page(State(state): State<Arc<AppState>>, request: Request) -> Response {
    let uri = request.uri();
    let path = state.base.within(uri.path()).unwrap_or("/");
    if uri.query().is_none()
        && let Some(response) = state.static_site.page(path, &request)
    {
        return response;
    }
    let path = path.to_owned();
    let query = uri.query().map(str::to_owned);
    let encoding = negotiate(request.headers(), |_| true);
    let work_limit = state.work_limit.clone();
    // A recipe in the address is planned and simulated as a whole: too long for a thread that serves others.
    let rendered = work_limit.run(move || {
        let html = shell::render(&state.assets, &state.base, &path, query.as_deref(), None);
        Rendered::new(html, encoding)
    });
    match rendered.await {
        Ok(page) => page.into_response(HTML, NO_CACHE),
        Err(error) => error.into_response(),
    }
}

/// A file of the site, or what is answered where there is none.
async fn file(State(state): State<Arc<AppState>>, request: Request) -> Response {
    state.static_site.file(&request)
}

/// The description of the endpoints, for programs.
async fn api_description(State(state): State<Arc<AppState>>, request: Request) -> Response {
    state.openapi.respond(&request)
}

/// People type the base without its slash at the end.
async fn redirect_to_base(State(state): State<Arc<AppState>>, request: Request) -> Response {
    static_site::redirect_to(&state.base.of("/"), request.uri())
}

/// For balancers and watchdogs: the process answers.
async fn health() -> impl IntoResponse {
    ([(header::CACHE_CONTROL, NO_STORE)], "ok\n")
}

/// The panic's message may contain parts of the request, so only its place is logged, by the panic hook.
fn panicked(_: Box<dyn Any + Send>) -> Response {
    Problem::from(StatusCode::INTERNAL_SERVER_ERROR).into_response()
}
