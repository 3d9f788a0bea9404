//! A service worker that ends itself: the operator's way out when a build went wrong or the site moves.
//! Everything else is served as before.

use crate::site::content::Content;
use crate::site::open::Site;

/// Where browsers look for the service worker.
const WORKER_ADDRESS: &str = "/sw.js";
/// The script that unregisters itself and removes what the service worker stored.
const RETIRING_WORKER: &str = include_str!("../../../public/retire.js");

/// Replaces a site's service worker by one that unregisters itself.
pub fn replace_worker(site: &mut Site) {
    let worker = Content::new(RETIRING_WORKER);
    site.files.insert(WORKER_ADDRESS.to_owned(), worker);
}
