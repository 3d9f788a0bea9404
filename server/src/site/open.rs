//! A packed site in memory, ready to be served or exported.

use std::collections::BTreeMap;
use std::io;

use axum::body::Bytes;
use evenloop_app::base::Base;
use evenloop_app::shell::Assets;

use crate::error::Error;
use crate::site::content::Content;
use crate::site::encoding::Encoding;
use crate::site::format::{BuildManifest, StoredSite};
use crate::site::pages::{self, Pages};
use crate::site::source::SiteSource;

/// A site, all of it in memory.
#[derive(Debug)]
pub struct Site {
    /// The build's id and the addresses of its assets.
    pub assets: Assets,
    /// The path on its host below which it is served.
    pub base: Base,
    /// The files, by address.
    pub files: BTreeMap<String, Content>,
    /// The pages, rendered.
    pub pages: Pages,
}

impl Site {
    /// Opens a packed site and makes sure that it and this server are of one build: phones store
    /// pages and files as one set, and would be left with a broken one otherwise.
    ///
    /// # Errors
    /// When nothing is packed there, or it was packed by another build of the server.
    pub fn open(source: &SiteSource, base: &Base) -> Result<Self, Error> {
        let stored = read_checked(source)?;
        let assets = stored.assets;
        let pages = Pages::render(&assets, base, None).map_err(unreadable(source))?;
        Ok(Self {
            pages,
            base: base.clone(),
            assets,
            files: with_compressed_forms(stored.site.files),
        })
    }
}

/// A stored site of this server's own build.
#[derive(Debug)]
pub struct CheckedSite {
    /// The build's id and the addresses of its assets.
    pub assets: Assets,
    /// The site as it is stored.
    pub site: StoredSite,
}

/// Reads a site and refuses one that was packed by another build of the server.
///
/// # Errors
/// When nothing is packed there, or it was packed by another build of the server.
pub fn read_checked(source: &SiteSource) -> Result<CheckedSite, Error> {
    let site = match source.read() {
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            return Err(Error::SiteMissing(source.path().to_owned()));
        }
        site => site.map_err(unreadable(source))?,
    };
    let manifest: BuildManifest = serde_json::from_slice(&site.manifest)
        .map_err(io::Error::from)
        .map_err(unreadable(source))?;
    let assets = manifest.assets();
    if pages::hashes(&assets) != manifest.pages {
        return Err(Error::SiteOfAnotherBuild(source.path().to_owned()));
    }
    Ok(CheckedSite { assets, site })
}

fn unreadable(source: &SiteSource) -> impl FnOnce(io::Error) -> Error {
    let path = source.path().to_owned();
    |source| Error::SiteUnreadable { path, source }
}

/// The files with their compressed forms. The compressed form of a file has no address of
/// its own.
fn with_compressed_forms(mut stored: BTreeMap<String, Vec<u8>>) -> BTreeMap<String, Content> {
    let addresses: Vec<String> = stored.keys().cloned().collect();
    let mut files = BTreeMap::new();
    for address in addresses {
        let Some(content) = stored.remove(&address) else {
            continue;
        };
        let mut compressed = |encoding: Encoding| {
            let beside = format!("{address}{}", encoding.file_suffix());
            stored.remove(&beside).map(Bytes::from)
        };
        let (gzip, brotli) = (compressed(Encoding::Gzip), compressed(Encoding::Brotli));
        let content = Content::new(content).with_compressed(gzip, brotli);
        files.insert(address, content);
    }
    files
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn compressed_forms_belong_to_their_file() {
        let stored = ["/a.js", "/a.js.gz", "/b.js", "/b.js.br", "/c.br"];
        let files = with_compressed_forms(stored.map(|name| (name.to_owned(), name.into())).into());
        let names: Vec<&String> = files.keys().collect();
        assert_eq!(names, ["/a.js", "/b.js", "/c.br"]);
        assert!(files["/a.js"].encoded(Encoding::Gzip).is_some());
        assert!(files["/a.js"].encoded(Encoding::Brotli).is_none());
        assert!(files["/b.js"].encoded(Encoding::Brotli).is_some());
    }
}
