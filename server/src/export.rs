//! Writes the site as files that any static host can serve: every page as the index of its own
//! folder, the page for lost addresses, and all files as they lie in the packed site. The phone makes
//! the plans itself then.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use crate::site::Site;
use crate::start::StartError;

/// Writes the site into a folder that does not exist yet or is empty.
///
/// # Errors
/// When the folder holds something already, or cannot be written.
pub fn run(site: &Site, folder: &Path) -> Result<(), StartError> {
    if fs::read_dir(folder).is_ok_and(|mut there| there.next().is_some()) {
        return Err(StartError::NotEmpty(folder.to_owned()));
    }
    copy_all(&site.files, folder)?;
    for path in site.pages.paths() {
        if let Some(page) = site.pages.at(path) {
            write(&page_file(folder, path), page.as_bytes())?;
        }
    }
    write(&folder.join("404.html"), site.pages.not_found.as_bytes())
}

/// `/` is `index.html`, `/measure` is `measure/index.html`.
fn page_file(folder: &Path, path: &str) -> PathBuf {
    folder.join(path.trim_matches('/')).join("index.html")
}

fn copy_all(from: &Path, to: &Path) -> Result<(), StartError> {
    for entry in walkdir::WalkDir::new(from) {
        let entry = entry.map_err(|error| failed(from, error.into()))?;
        if !entry.file_type().is_file() {
            continue;
        }
        let Ok(name) = entry.path().strip_prefix(from) else {
            continue;
        };
        let content = fs::read(entry.path()).map_err(|error| failed(entry.path(), error))?;
        write(&to.join(name), &content)?;
    }
    Ok(())
}

fn write(path: &Path, content: &[u8]) -> Result<(), StartError> {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(|error| failed(folder, error))?;
    }
    fs::write(path, content).map_err(|error| failed(path, error))
}

fn failed(path: &Path, source: io::Error) -> StartError {
    StartError::File {
        path: path.to_owned(),
        source,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_page_is_the_index_of_its_folder() {
        let folder = Path::new("out");
        assert_eq!(page_file(folder, "/"), Path::new("out/index.html"));
        assert_eq!(
            page_file(folder, "/measure"),
            Path::new("out/measure/index.html")
        );
    }
}
