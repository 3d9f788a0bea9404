//! The folders that packing reads and writes, and reading from them.

use std::fs;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use crate::error::{Error, file_error};
use crate::site::format;

/// Where packing reads and writes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Folders {
    /// The browser's build, as `server/build` made it.
    pub front: PathBuf,
    /// The style sheets.
    pub style: PathBuf,
    /// Files served under their own names, the service worker, and the boot script with what it loads.
    pub public: PathBuf,
    /// The site to write.
    pub site: PathBuf,
    /// Whether files are also written in their compressed forms, which takes its time.
    pub compressed: bool,
}

/// Every file below a folder, by the address it would have, in a fixed order.
pub(super) fn walk(folder: &Path) -> Result<Vec<(String, PathBuf)>, Error> {
    let mut files = Vec::new();
    for entry in WalkDir::new(folder).sort_by_file_name() {
        let entry = entry.map_err(|error| Error::File {
            path: error.path().unwrap_or(folder).to_owned(),
            source: error.into(),
        })?;
        if entry.file_type().is_file() {
            let inner = entry.path().strip_prefix(folder).unwrap_or(entry.path());
            files.push((format::address(inner), entry.path().to_owned()));
        }
    }
    Ok(files)
}

/// A file's content.
pub(super) fn bytes(path: &Path) -> Result<Vec<u8>, Error> {
    fs::read(path).map_err(file_error(path))
}

/// A file's content as text.
pub(super) fn text(path: &Path) -> Result<String, Error> {
    fs::read_to_string(path).map_err(file_error(path))
}
