//! Draining: stopping without losing a request.
//!
//! Between two requests a client cannot know that its connection is about to be closed, and its next
//! request would be lost. So for a while every request is still answered, each answer saying that it is
//! the last one over its connection.

use std::convert::Infallible;
use std::future::Future;
use std::pin::Pin;
use std::sync::Arc;

use axum::Router;
use axum::body::Body;
use axum::http::{HeaderValue, Request, Response, Version, header};
use hyper::body::Incoming;
use hyper::service::Service;
use tokio::sync::watch;
use tower::ServiceExt;

use crate::http::activity::{Activity, RequestBody, RequestInProgress, ResponseBody};

/// How far the server has got with stopping. Later stages are greater.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum DrainStage {
    /// It is not stopping.
    Serving,
    /// No new connections are accepted; each answer is the last one over its connection.
    Draining,
    /// Idle connections are closed.
    ClosingIdle,
}

/// The app as the service of one connection, which says what it is doing.
#[derive(Debug, Clone)]
pub(crate) struct DrainingService {
    app: Router,
    activity: Arc<Activity>,
    drain_stage: watch::Receiver<DrainStage>,
}

impl DrainingService {
    pub(crate) const fn new(
        app: Router,
        activity: Arc<Activity>,
        drain_stage: watch::Receiver<DrainStage>,
    ) -> Self {
        Self {
            app,
            activity,
            drain_stage,
        }
    }
}

impl Service<Request<Incoming>> for DrainingService {
    type Response = Response<ResponseBody>;
    type Error = Infallible;
    type Future = Pin<Box<dyn Future<Output = Result<Self::Response, Infallible>> + Send>>;

    fn call(&self, request: Request<Incoming>) -> Self::Future {
        let (app, drain_stage) = (self.app.clone(), self.drain_stage.clone());
        let in_progress = RequestInProgress::begin(&self.activity);
        let request = request.map(|body| Body::new(RequestBody::new(body, &self.activity)));
        Box::pin(async move {
            // HTTP/2 has GOAWAY instead and forbids this header.
            let is_http1 = request.version() <= Version::HTTP_11;
            let mut response = app.oneshot(request).await?;
            if is_http1 && *drain_stage.borrow() > DrainStage::Serving {
                let close = HeaderValue::from_static("close");
                response.headers_mut().insert(header::CONNECTION, close);
            }
            Ok(response.map(|body| ResponseBody::new(body, in_progress)))
        })
    }
}
