//! Writes the site as files that any static host can serve: every page as the index of its own
//! folder, the page for lost addresses, and all files as they lie in the packed site. The phone makes
//! the plans itself then.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use crate::encoding::Encoding;
use crate::site::{BROTLI, GZIP, Site};
use crate::start::StartError;
use crate::stored::Stored;

/// Writes the site into a folder that does not exist yet or is empty.
///
/// # Errors
/// When the folder holds something already, or cannot be written.
pub fn run(site: &Site, folder: &Path) -> Result<(), StartError> {
    if fs::read_dir(folder).is_ok_and(|mut there| there.next().is_some()) {
        return Err(StartError::NotEmpty(folder.to_owned()));
    }
    for (address, file) in site.files.iter() {
        write_forms(&folder.join(address.trim_start_matches('/')), file)?;
    }
    for (path, page) in site.pages.all() {
        write_forms(&page_file(folder, path), page)?;
    }
    write_forms(&folder.join("404.html"), &site.pages.not_found)
}

/// A static host may know to send the compressed form that lies beside a file.
const FORMS: [(&str, Encoding); 3] = [
    ("", Encoding::Identity),
    (GZIP, Encoding::Gzip),
    (BROTLI, Encoding::Brotli),
];

fn write_forms(path: &Path, stored: &Stored) -> Result<(), StartError> {
    for (suffix, encoding) in FORMS {
        if let Some(content) = stored.form(encoding) {
            write(&with_suffix(path, suffix), content)?;
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
