//! Writes a site beside the old one, then changes places, so that a server or a phone never sees
//! half a build.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::{File, Folders, PackError, compress};
use crate::site::{BROTLI, FILES, GZIP, NOTE, Note};

/// Writes the site, unless it already holds this build.
pub(super) fn site(folders: &Folders, note: &Note, files: &[File]) -> Result<(), PackError> {
    let folder = folders.site.as_path();
    if holds(folder, note) {
        return Ok(());
    }
    let new = folder.with_extension("new");
    let old = folder.with_extension("old");
    remove(&new)?;
    for file in files {
        write_forms(&new.join(FILES), file, folders.compressed)?;
    }
    let text = serde_json::to_vec_pretty(note).map_err(|error| failed(&new, error.into()))?;
    // The note comes last: a site without one is not a site.
    write(&new.join(NOTE), &text)?;
    remove(&old)?;
    if folder.exists() {
        fs::rename(folder, &old).map_err(|error| failed(folder, error))?;
    }
    fs::rename(&new, folder).map_err(|error| failed(folder, error))?;
    remove(&old)
}

fn holds(folder: &Path, note: &Note) -> bool {
    let text = fs::read(folder.join(NOTE)).unwrap_or_default();
    serde_json::from_slice::<Note>(&text).is_ok_and(|there| there == *note)
}

/// A way to write a file smaller.
type Form = fn(&[u8]) -> io::Result<Vec<u8>>;

fn write_forms(folder: &Path, file: &File, compressed: bool) -> Result<(), PackError> {
    let path = folder.join(file.url.trim_start_matches('/'));
    write(&path, &file.content)?;
    if !compressed || !compress::worth(&file.url, file.content.len()) {
        return Ok(());
    }
    let forms: [(&str, Form); 2] = [(BROTLI, compress::brotli), (GZIP, compress::gzip)];
    for (suffix, form) in forms {
        let mut name = path.clone().into_os_string();
        name.push(suffix);
        let name = PathBuf::from(name);
        let packed = form(&file.content).map_err(|error| failed(&name, error))?;
        write(&name, &packed)?;
    }
    Ok(())
}

fn write(path: &Path, content: &[u8]) -> Result<(), PackError> {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(|error| failed(folder, error))?;
    }
    fs::write(path, content).map_err(|error| failed(path, error))
}

fn remove(folder: &Path) -> Result<(), PackError> {
    match fs::remove_dir_all(folder) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(failed(folder, error)),
        _ => Ok(()),
    }
}

fn failed(path: &Path, source: io::Error) -> PackError {
    PackError::File {
        path: path.to_owned(),
        source,
    }
}
