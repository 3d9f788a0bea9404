//! What packing starts from: everything that goes into a site.

use std::path::{Path, PathBuf};

use crate::error::Error;
use crate::site::pack::folders::{Folders, bytes, text, walk};
use crate::site::pack::front::Front;
use crate::site::pack::packed_file::PackedFile;

/// The style sheets that others build upon come first; the rest follow by name.
const FIRST_STYLES: [&str; 2] = ["tokens.css", "base.css"];
/// Files that are not served as they are: templates, what the boot script loads, and the service worker
/// with which an operator may replace the other.
const NOT_SERVED: [&str; 7] = [
    "/boot.js",
    "/echo.js",
    "/first.js",
    "/image.js",
    "/listening.js",
    "/sw.js",
    "/retire.js",
];

/// Everything that goes into a site.
#[derive(Debug)]
pub(super) struct Inputs {
    pub(super) front: Front,
    pub(super) boot: String,
    pub(super) echo: String,
    pub(super) image: String,
    pub(super) listening: String,
    pub(super) first: String,
    pub(super) worker: String,
    pub(super) styles: Vec<String>,
    pub(super) public: Vec<PackedFile>,
}

impl Inputs {
    pub(super) fn read(folders: &Folders) -> Result<Self, Error> {
        let styles = style_sheets(&folders.style)?
            .iter()
            .map(|path| text(path))
            .collect::<Result<_, _>>()?;
        Ok(Self {
            front: Front::read(&folders.front)?,
            boot: text(&folders.public.join("boot.js"))?,
            echo: text(&folders.public.join("echo.js"))?,
            image: text(&folders.public.join("image.js"))?,
            listening: text(&folders.public.join("listening.js"))?,
            first: text(&folders.public.join("first.js"))?,
            worker: text(&folders.public.join("sw.js"))?,
            styles,
            public: public_files(&folders.public)?,
        })
    }
}

/// The style sheets in the order in which they are joined.
fn style_sheets(folder: &Path) -> Result<Vec<PathBuf>, Error> {
    let mut names: Vec<String> = walk(folder)?
        .into_iter()
        .map(|(name, _)| name.trim_start_matches('/').to_owned())
        .filter(|name| Path::new(name).extension().is_some_and(|end| end == "css"))
        .collect();
    let rank = |name: &str| {
        FIRST_STYLES
            .iter()
            .position(|first| *first == name)
            .unwrap_or(FIRST_STYLES.len())
    };
    names.sort_by(|a, b| (rank(a), a).cmp(&(rank(b), b)));
    Ok(names.iter().map(|name| folder.join(name)).collect())
}

fn public_files(folder: &Path) -> Result<Vec<PackedFile>, Error> {
    walk(folder)?
        .into_iter()
        .filter(|(url, _)| !NOT_SERVED.contains(&url.as_str()))
        .map(|(url, path)| bytes(&path).map(|content| PackedFile { url, content }))
        .collect()
}
