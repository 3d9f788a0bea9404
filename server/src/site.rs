//! A packed site, and the note that packing leaves beside it.

use std::collections::BTreeMap;
use std::io;
use std::path::PathBuf;
use std::sync::Arc;

use axum::body::Bytes;
use axum::http::HeaderValue;
use evenloop_app::base::Base;
use evenloop_app::shell::Assets;
use serde::{Deserialize, Serialize};

use crate::headers::{ASK_AGAIN, FOR_EVER};
use crate::pages::{self, Pages};
use crate::source::Source;
use crate::stored::Stored;

/// The folder, within a site, of everything that is served as it lies there.
pub const FILES: &str = "files";
/// The note, within a site, that names a build's files.
pub const NOTE: &str = "site.json";
/// Everything under here has a hash of its content in its name.
pub const HASHED: &str = "/pkg/";
/// Ending of a file's form in gzip, which lies beside it.
pub const GZIP: &str = ".gz";
/// Ending of a file's form in Brotli.
pub const BROTLI: &str = ".br";

/// What packing tells the server.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Note {
    /// The build's id: a hash over everything that is served.
    pub build: String,
    /// Address of the boot script.
    pub boot: String,
    /// Addresses of the app's scripts.
    pub modules: Vec<String>,
    /// Address of the app's wasm.
    pub wasm: String,
    /// Addresses of what each part of the app is made of, by the part's name.
    #[serde(default)]
    pub parts: BTreeMap<String, Vec<String>>,
    /// Address of the style sheet.
    pub style: String,
    /// Hash of every page, by path, as it was when the build's id was made.
    pub pages: BTreeMap<String, String>,
}

impl Note {
    /// The names as the document shell wants them.
    pub fn assets(&self) -> Assets {
        Assets {
            build: self.build.clone(),
            boot: self.boot.clone(),
            modules: self.modules.clone(),
            wasm: self.wasm.clone(),
            parts: self.parts.clone(),
            style: self.style.clone(),
        }
    }
}

/// Why a site cannot be served.
#[derive(Debug, thiserror::Error)]
pub enum SiteError {
    /// Nothing was packed there.
    #[error("There is no packed site in {0}. Run server/start --build first (server/start does).")]
    Missing(PathBuf),
    /// The site cannot be read.
    #[error("The site in {folder} cannot be read: {source}. Run server/start --build again.")]
    Unreadable {
        /// Where.
        folder: PathBuf,
        /// What went wrong.
        source: io::Error,
    },
    /// This server renders other pages than those the site was packed with.
    #[error(
        "The site in {0} was packed by another build of this server. Run server/start --build again."
    )]
    Stranger(PathBuf),
}

/// A site that is ready to be served, all of it in memory. Cheap to clone.
#[derive(Debug, Clone)]
pub struct Site {
    /// The build's names.
    pub assets: Arc<Assets>,
    /// Where on its host it is served.
    pub base: Base,
    /// The files, by address.
    pub files: Arc<BTreeMap<String, Stored>>,
    /// The pages, rendered.
    pub pages: Pages,
}

impl Site {
    /// Opens a packed site and makes sure that it and this server are of one build: phones store
    /// pages and files as one set, and would be left with a broken one otherwise.
    ///
    /// # Errors
    /// When nothing is packed there, or by another server.
    pub fn open(source: &Source, base: &Base) -> Result<Self, SiteError> {
        let unreadable = |error| SiteError::Unreadable {
            folder: source.path().to_owned(),
            source: error,
        };
        let found = match source.read() {
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                return Err(SiteError::Missing(source.path().to_owned()));
            }
            found => found.map_err(unreadable)?,
        };
        let note: Note = serde_json::from_slice(&found.note)
            .map_err(io::Error::from)
            .map_err(unreadable)?;
        let assets = note.assets();
        if pages::hashes(&assets) != note.pages {
            return Err(SiteError::Stranger(source.path().to_owned()));
        }
        Ok(Self {
            pages: Pages::render(&assets, base).map_err(unreadable)?,
            base: base.clone(),
            assets: Arc::new(assets),
            files: Arc::new(stored(found.files)),
        })
    }
}

/// The files as they are answered with. One that lies beside another as its compressed form has no
/// address of its own.
fn stored(mut found: BTreeMap<String, Vec<u8>>) -> BTreeMap<String, Stored> {
    let addresses: Vec<String> = found.keys().cloned().collect();
    let mut files = BTreeMap::new();
    for address in addresses {
        let Some(content) = found.remove(&address) else {
            continue;
        };
        let mut form = |suffix| found.remove(&format!("{address}{suffix}")).map(Bytes::from);
        let (gzip, brotli) = (form(GZIP), form(BROTLI));
        let file = Stored::new(kind(&address), keep(&address), content).with_forms(gzip, brotli);
        files.insert(address, file);
    }
    files
}

/// The media type of a file.
fn kind(address: &str) -> HeaderValue {
    let kind = mime_guess::from_path(address).first_or_octet_stream();
    HeaderValue::try_from(kind.as_ref())
        .unwrap_or(HeaderValue::from_static("application/octet-stream"))
}

fn keep(address: &str) -> HeaderValue {
    if address.starts_with(HASHED) {
        FOR_EVER
    } else {
        ASK_AGAIN
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::encoding::Encoding;

    #[test]
    fn compressed_forms_belong_to_their_file() {
        let found = ["/a.js", "/a.js.gz", "/b.js", "/b.js.br", "/c.br"];
        let files = stored(found.map(|name| (name.to_owned(), name.into())).into());
        let names: Vec<&String> = files.keys().collect();
        assert_eq!(names, ["/a.js", "/b.js", "/c.br"]);
        assert!(files["/a.js"].form(Encoding::Gzip).is_some());
        assert!(files["/a.js"].form(Encoding::Brotli).is_none());
        assert!(files["/b.js"].form(Encoding::Brotli).is_some());
    }

    #[test]
    fn only_names_with_a_hash_are_kept_for_ever() {
        assert_eq!(keep("/pkg/boot.0.js"), FOR_EVER);
        assert_eq!(keep("/sw.js"), ASK_AGAIN);
        assert_eq!(kind("/a.wasm"), "application/wasm");
        assert_eq!(kind("/strange"), "application/octet-stream");
    }
}
