//! Exports a site as files that any static host can serve: every page as the index of its own folder,
//! the page for unknown addresses, and all files as they are. The phone makes the plans itself then. Each page
//! says its own security policy, since no header of ours will.

use std::fs;
use std::path::{Path, PathBuf};

use crate::error::{Error, file_error};
use crate::site::content::Content;
use crate::site::encoding::Encoding;
use crate::site::open::Site;
use crate::site::pages::Pages;
use crate::site::policy;

/// What static hosts look for where there is no file.
const NOT_FOUND_FILE: &str = "404.html";

/// Writes the site into a folder that does not exist yet or is empty.
///
/// # Errors
/// When the folder is not empty, or cannot be written.
pub fn export(site: &Site, folder: &Path) -> Result<(), Error> {
    if fs::read_dir(folder).is_ok_and(|mut entries| entries.next().is_some()) {
        return Err(Error::NotEmpty(folder.to_owned()));
    }
    for (address, file) in &site.files {
        write_encodings(&folder.join(address.trim_start_matches('/')), file)?;
    }
    let pages = Pages::render(&site.assets, &site.base, Some(policy::IN_PAGE));
    let pages = pages.map_err(file_error(folder))?;
    for (path, page) in pages.all() {
        write_encodings(&page_file(folder, path), page)?;
    }
    write_encodings(&folder.join(NOT_FOUND_FILE), &pages.not_found)
}

/// Static hosts can be set up to send the compressed file in place of the other.
fn write_encodings(path: &Path, content: &Content) -> Result<(), Error> {
    for encoding in Encoding::ALL {
        if let Some(bytes) = content.encoded(encoding) {
            write(&with_suffix(path, encoding.file_suffix()), bytes)?;
        }
    }
    Ok(())
}

fn with_suffix(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    name.into()
}

/// `/` is `index.html`, `/measure` is `measure/index.html`.
fn page_file(folder: &Path, path: &str) -> PathBuf {
    folder.join(path.trim_matches('/')).join("index.html")
}

fn write(path: &Path, content: &[u8]) -> Result<(), Error> {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(file_error(folder))?;
    }
    fs::write(path, content).map_err(file_error(path))
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
