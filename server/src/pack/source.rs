//! What packing starts from.

use std::fs;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use super::front::Front;
use super::{File, Folders, PackError};

/// The sheets that others build upon come first; the rest follow by name.
const FIRST: [&str; 2] = ["tokens.css", "base.css"];
/// Templates, what the boot script loads, and the worker that an operator may put in the other's place:
/// not served as they are.
const TEMPLATES: [&str; 4] = ["/boot.js", "/echo.js", "/sw.js", "/retire.js"];

/// Everything that goes into a site.
pub(super) struct Sources {
    pub(super) front: Front,
    pub(super) boot: String,
    pub(super) echo: String,
    pub(super) worker: String,
    pub(super) styles: Vec<String>,
    pub(super) public: Vec<File>,
}

impl Sources {
    pub(super) fn read(folders: &Folders) -> Result<Self, PackError> {
        let styles = style_order(&folders.style)?
            .iter()
            .map(|path| text(path))
            .collect::<Result<_, _>>()?;
        Ok(Self {
            front: Front::read(&folders.front)?,
            boot: text(&folders.public.join("boot.js"))?,
            echo: text(&folders.public.join("echo.js"))?,
            worker: text(&folders.public.join("sw.js"))?,
            styles,
            public: public_files(&folders.public)?,
        })
    }
}

fn style_order(folder: &Path) -> Result<Vec<PathBuf>, PackError> {
    let mut names: Vec<String> = walk(folder)?
        .into_iter()
        .map(|(name, _)| name.trim_start_matches('/').to_owned())
        .filter(|name| Path::new(name).extension().is_some_and(|end| end == "css"))
        .collect();
    let place = |name: &str| {
        FIRST
            .iter()
            .position(|first| *first == name)
            .unwrap_or(FIRST.len())
    };
    names.sort_by(|a, b| (place(a), a).cmp(&(place(b), b)));
    Ok(names.iter().map(|name| folder.join(name)).collect())
}

fn public_files(folder: &Path) -> Result<Vec<File>, PackError> {
    walk(folder)?
        .into_iter()
        .filter(|(url, _)| !TEMPLATES.contains(&url.as_str()))
        .map(|(url, path)| bytes(&path).map(|content| File { url, content }))
        .collect()
}

/// Every file below a folder, by the address it would have, in a fixed order.
pub(super) fn walk(folder: &Path) -> Result<Vec<(String, PathBuf)>, PackError> {
    let mut found = Vec::new();
    for entry in WalkDir::new(folder).sort_by_file_name() {
        let entry = entry.map_err(|error| PackError::File {
            path: error.path().unwrap_or(folder).to_owned(),
            source: error.into(),
        })?;
        if entry.file_type().is_file() {
            let inner = entry.path().strip_prefix(folder).unwrap_or(entry.path());
            let parts: Vec<_> = inner.iter().map(|part| part.to_string_lossy()).collect();
            found.push((format!("/{}", parts.join("/")), entry.path().to_owned()));
        }
    }
    Ok(found)
}

pub(super) fn bytes(path: &Path) -> Result<Vec<u8>, PackError> {
    fs::read(path).map_err(|source| PackError::File {
        path: path.to_owned(),
        source,
    })
}

fn text(path: &Path) -> Result<String, PackError> {
    fs::read_to_string(path).map_err(|source| PackError::File {
        path: path.to_owned(),
        source,
    })
}
