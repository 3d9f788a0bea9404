//! Where a packed site is read from: a folder that `pack` wrote, or the end of the server's own
//! executable, where `bundle` put one.

use std::collections::BTreeMap;
use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use crate::bundle;
use crate::site::{FILES, NOTE};

/// Where a site is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Source {
    /// In a folder.
    Folder(PathBuf),
    /// Behind the program in an executable.
    Executable(PathBuf),
}

/// What was found there: the note, and every file's content by its address.
#[derive(Debug)]
pub struct Found {
    pub(crate) note: Vec<u8>,
    pub(crate) files: BTreeMap<String, Vec<u8>>,
}

impl Source {
    /// The folder that was asked for; else the site in this executable, where there is one; else the
    /// folder that `server/start --build` fills.
    ///
    /// # Errors
    /// When the executable cannot be read.
    pub fn choose(asked: Option<PathBuf>) -> io::Result<Self> {
        if let Some(folder) = asked {
            return Ok(Self::Folder(folder));
        }
        let own = std::env::current_exe()?;
        Ok(if bundle::is_in(&own)? {
            Self::Executable(own)
        } else {
            Self::Folder(PathBuf::from("target/site"))
        })
    }

    /// The path to name when something is wrong with it.
    pub fn path(&self) -> &Path {
        match self {
            Self::Folder(path) | Self::Executable(path) => path,
        }
    }

    /// Reads all of it.
    ///
    /// # Errors
    /// When something cannot be read; of kind `NotFound` where there is no note.
    pub fn read(&self) -> io::Result<Found> {
        match self {
            Self::Folder(folder) => read_folder(folder),
            Self::Executable(program) => read_bundle(program),
        }
    }
}

fn read_folder(folder: &Path) -> io::Result<Found> {
    let note = fs::read(folder.join(NOTE))?;
    let root = folder.join(FILES);
    let mut files = BTreeMap::new();
    for entry in WalkDir::new(&root) {
        let entry = entry?;
        if !entry.file_type().is_file() {
            continue;
        }
        let inner = entry.path().strip_prefix(&root).unwrap_or(entry.path());
        files.insert(address(inner), fs::read(entry.path())?);
    }
    Ok(Found { note, files })
}

fn read_bundle(program: &Path) -> io::Result<Found> {
    let mut note = None;
    let mut files = BTreeMap::new();
    let archive = bundle::open(program)?.ok_or(io::ErrorKind::NotFound)?;
    for entry in tar::Archive::new(archive).entries()? {
        let mut entry = entry?;
        let path = entry.path()?.into_owned();
        let mut content = Vec::new();
        entry.read_to_end(&mut content)?;
        match path.strip_prefix(FILES) {
            Ok(inner) => drop(files.insert(address(inner), content)),
            Err(_) if path == Path::new(NOTE) => note = Some(content),
            Err(_) => {}
        }
    }
    let note = note.ok_or(io::ErrorKind::NotFound)?;
    Ok(Found { note, files })
}

/// `pkg/a.js` within the files is `/pkg/a.js` to a reader.
fn address(inner: &Path) -> String {
    let parts: Vec<_> = inner.iter().map(|part| part.to_string_lossy()).collect();
    format!("/{}", parts.join("/"))
}
