//! Ends the service workers of phones: the operator's way out when a build went wrong or the site
//! moves. Everything else is served as ever.

use std::sync::Arc;

use axum::http::HeaderValue;

use crate::headers::ASK_AGAIN;
use crate::site::Site;
use crate::stored::Stored;

/// Where browsers look for the worker.
const PATH: &str = "/sw.js";
/// What they find there instead.
const WORKER: &str = include_str!("../../public/retire.js");

/// The same site with a worker that ends itself and whatever it had stored.
#[must_use]
pub fn retiring(mut site: Site) -> Site {
    let kind = HeaderValue::from_static("text/javascript");
    let worker = Stored::new(kind, ASK_AGAIN, WORKER);
    Arc::make_mut(&mut site.files).insert(PATH.to_owned(), worker);
    site
}
