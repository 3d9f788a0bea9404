//! A packed site on disk, and the note that packing leaves beside it.

use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};

use evenloop_app::shell::Assets;
use serde::{Deserialize, Serialize};

use crate::pages::{self, Pages};

/// The folder, within a site, of everything that is served as it lies there.
pub const FILES: &str = "files";
/// The note, within a site, that names a build's files.
pub const NOTE: &str = "site.json";

/// What packing tells the server.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Note {
    /// The build's id: a hash over everything that is served.
    pub build: String,
    /// Address of the boot script.
    pub boot: String,
    /// Address of the app's script.
    pub script: String,
    /// Address of the app's wasm.
    pub wasm: String,
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
            script: self.script.clone(),
            wasm: self.wasm.clone(),
            style: self.style.clone(),
        }
    }
}

/// Why a site cannot be served.
#[derive(Debug, thiserror::Error)]
pub enum SiteError {
    /// Nothing was packed there.
    #[error("There is no packed site in {0}. Run server/build first (server/start does).")]
    Missing(PathBuf),
    /// The note cannot be read.
    #[error("The site in {folder} cannot be read: {source}. Run server/build again.")]
    Unreadable {
        /// Where.
        folder: PathBuf,
        /// What went wrong.
        source: io::Error,
    },
    /// This server renders other pages than those the site was packed with.
    #[error("The site in {0} was packed by another build of this server. Run server/build again.")]
    Stranger(PathBuf),
}

/// A site that is ready to be served.
#[derive(Debug, Clone)]
pub struct Site {
    /// The build's names.
    pub assets: Assets,
    /// Where the files lie.
    pub files: PathBuf,
    /// The pages, rendered.
    pub pages: Pages,
}

impl Site {
    /// Opens a packed site and makes sure that it and this server are of one build: phones store
    /// pages and files as one set, and would be left with a broken one otherwise.
    ///
    /// # Errors
    /// When nothing is packed there, or by another server.
    pub fn open(folder: &Path) -> Result<Self, SiteError> {
        let text = match std::fs::read_to_string(folder.join(NOTE)) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                return Err(SiteError::Missing(folder.to_owned()));
            }
            text => text,
        };
        let note: Note = text
            .and_then(|text| serde_json::from_str(&text).map_err(io::Error::from))
            .map_err(|source| SiteError::Unreadable {
                folder: folder.to_owned(),
                source,
            })?;
        if pages::hashes(&note.assets()) != note.pages {
            return Err(SiteError::Stranger(folder.to_owned()));
        }
        Ok(Self {
            assets: note.assets(),
            files: folder.join(FILES),
            pages: Pages::render(&note.assets()),
        })
    }
}
