//! Where a packed site is read from: a folder that `pack` wrote, or the server's own executable, to
//! which `bundle` appended one.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use crate::site::bundle;
use crate::site::format::{BUILD_MANIFEST, FILES, StoredSite, address};

/// The folder that `server/start` writes.
const DEFAULT_FOLDER: &str = "target/site";

/// Where a packed site is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SiteSource {
    /// In a folder.
    Folder(PathBuf),
    /// Appended to an executable.
    Executable(PathBuf),
}

impl SiteSource {
    /// The folder that was asked for; else this executable, where it carries a site; else the folder that
    /// `server/start` writes.
    ///
    /// # Errors
    /// When the executable cannot be read.
    pub fn choose(folder: Option<PathBuf>) -> io::Result<Self> {
        if let Some(folder) = folder {
            return Ok(Self::Folder(folder));
        }
        let executable = std::env::current_exe()?;
        Ok(if bundle::has_site(&executable)? {
            Self::Executable(executable)
        } else {
            Self::Folder(PathBuf::from(DEFAULT_FOLDER))
        })
    }

    /// The path to name when something is wrong with the site.
    pub fn path(&self) -> &Path {
        match self {
            Self::Folder(path) | Self::Executable(path) => path,
        }
    }

    /// Reads the whole site.
    ///
    /// # Errors
    /// When something cannot be read; of kind `NotFound` where there is no build manifest.
    pub fn read(&self) -> io::Result<StoredSite> {
        match self {
            Self::Folder(folder) => read_folder(folder),
            Self::Executable(executable) => {
                bundle::read(executable)?.ok_or_else(|| io::ErrorKind::NotFound.into())
            }
        }
    }
}

fn read_folder(folder: &Path) -> io::Result<StoredSite> {
    let manifest = fs::read(folder.join(BUILD_MANIFEST))?;
    let root = folder.join(FILES);
    let mut files = BTreeMap::new();
    for entry in WalkDir::new(&root) {
        let entry = entry?;
        if !entry.file_type().is_file() {
            continue;
        }
        let path = entry.path().strip_prefix(&root).unwrap_or(entry.path());
        files.insert(address(path), fs::read(entry.path())?);
    }
    Ok(StoredSite { manifest, files })
}
