//! Writes a site beside the old one, then swaps the two, so that a server or a phone never sees half a
//! build.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use crate::error::{Error, file_error};
use crate::site::compress;
use crate::site::encoding::Encoding;
use crate::site::format::{BUILD_MANIFEST, BuildManifest, FILES};
use crate::site::pack::folders::Folders;
use crate::site::pack::packed_file::PackedFile;

/// Writes the site, unless it already holds this build.
pub(super) fn write_site(
    folders: &Folders,
    manifest: &BuildManifest,
    files: &[PackedFile],
) -> Result<(), Error> {
    let folder = folders.site.as_path();
    if is_up_to_date(folder, manifest) {
        return Ok(());
    }
    let new = folder.with_extension("new");
    let old = folder.with_extension("old");
    remove(&new)?;
    for file in files {
        write_encodings(&new.join(FILES), file, folders.compressed)?;
    }
    let text = serde_json::to_vec_pretty(manifest)
        .map_err(io::Error::from)
        .map_err(file_error(&new))?;
    // Last: a folder without a build manifest is not taken for a site.
    write(&new.join(BUILD_MANIFEST), &text)?;
    remove(&old)?;
    if folder.exists() {
        fs::rename(folder, &old).map_err(file_error(folder))?;
    }
    fs::rename(&new, folder).map_err(file_error(folder))?;
    remove(&old)
}

fn is_up_to_date(folder: &Path, manifest: &BuildManifest) -> bool {
    let text = fs::read(folder.join(BUILD_MANIFEST)).unwrap_or_default();
    serde_json::from_slice::<BuildManifest>(&text).is_ok_and(|present| present == *manifest)
}

/// Compresses content.
type Compress = fn(&[u8]) -> io::Result<Vec<u8>>;

fn write_encodings(folder: &Path, file: &PackedFile, compressed: bool) -> Result<(), Error> {
    let path = folder.join(file.url.trim_start_matches('/'));
    write(&path, &file.content)?;
    if !compressed || !compress::is_worthwhile(&file.url, file.content.len()) {
        return Ok(());
    }
    let encodings: [(Encoding, Compress); 2] = [
        (Encoding::Brotli, compress::brotli),
        (Encoding::Gzip, compress::gzip),
    ];
    for (encoding, compress) in encodings {
        let mut name = path.clone().into_os_string();
        name.push(encoding.file_suffix());
        let name = PathBuf::from(name);
        let compressed = compress(&file.content).map_err(file_error(&name))?;
        write(&name, &compressed)?;
    }
    Ok(())
}

fn write(path: &Path, content: &[u8]) -> Result<(), Error> {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(file_error(folder))?;
    }
    fs::write(path, content).map_err(file_error(path))
}

fn remove(folder: &Path) -> Result<(), Error> {
    match fs::remove_dir_all(folder) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(file_error(folder)(error)),
        _ => Ok(()),
    }
}
