//! A packed site: what it is, how it is made, read and exported.
//!
//! May use the app (to render its pages) and `error`; must not know HTTP beyond the names of content
//! encodings, nor the command line.
//!
//! - `format`: what packing writes and serving reads: names of folders and files, the build manifest
//! - `hash`, `encoding`, `compress`, `content`: content with its hash and its compressed forms
//! - `policy`: what a page may load and run
//! - `pages`: the app's pages, rendered
//! - `pack`: turns the browser's build, style sheets and public files into a packed site
//! - `bundle`, `source`: where a packed site is read from: the server's own executable, or a folder
//! - `open`: a packed site in memory, checked against this server
//! - `retire`: a service worker that ends itself
//! - `export`: the site as plain files for a static host

pub mod bundle;
pub mod compress;
pub mod content;
pub mod encoding;
pub mod export;
pub mod format;
pub mod hash;
pub mod open;
pub mod pack;
pub mod pages;
pub mod policy;
pub mod retire;
pub mod source;
