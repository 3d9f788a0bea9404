//! How a server leaves without dropping anybody.
//!
//! Between two requests a caller cannot know that its connection is about to be closed, and its next
//! request would be lost. So there is a while in which all are still answered, each answer saying that
//! it is the last one over this connection.

use std::convert::Infallible;
use std::future::Future;
use std::pin::Pin;

use axum::Router;
use axum::body::Body;
use axum::http::{HeaderValue, Request, Response, Version, header};
use hyper::body::Incoming;
use hyper::service::Service;
use tokio::sync::watch;
use tower::ServiceExt;

/// How far the server is on its way out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Stage {
    /// Not at all.
    Serving,
    /// Nobody new is taken; who is here is answered for the last time.
    Leaving,
    /// Connections that are idle are closed.
    Closing,
}

/// The app over one connection.
#[derive(Debug, Clone)]
pub(crate) struct Answering {
    app: Router,
    stage: watch::Receiver<Stage>,
}

impl Answering {
    pub(crate) const fn new(app: Router, stage: watch::Receiver<Stage>) -> Self {
        Self { app, stage }
    }
}

impl Service<Request<Incoming>> for Answering {
    type Response = Response<Body>;
    type Error = Infallible;
    type Future = Pin<Box<dyn Future<Output = Result<Self::Response, Infallible>> + Send>>;

    fn call(&self, request: Request<Incoming>) -> Self::Future {
        let (app, stage) = (self.app.clone(), self.stage.clone());
        Box::pin(async move {
            // HTTP/2 says farewell in its own way and knows no such header.
            let is_http1 = request.version() <= Version::HTTP_11;
            let mut response = app.oneshot(request.map(Body::new)).await?;
            if is_http1 && *stage.borrow() > Stage::Serving {
                let last = HeaderValue::from_static("close");
                response.headers_mut().insert(header::CONNECTION, last);
            }
            Ok(response)
        })
    }
}
