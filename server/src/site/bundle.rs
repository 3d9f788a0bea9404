//! Program and packed site in one file: the server's own executable with an archive of a site appended.
//!
//! Systems load a program by its headers and never look at what follows, so a tar archive may follow it;
//! a trailer at the very end says how long the archive is. Tools that rewrite executables (such as
//! `strip`) drop both: run them before.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, Read, Seek, SeekFrom, Take, Write};
use std::path::Path;

use crate::error::{Error, file_error};
use crate::site::format::{BUILD_MANIFEST, FILES, StoredSite, address};

/// The last bytes of an executable with a site. The archive's length, in eight bytes, precedes them.
const TRAILER_MAGIC: [u8; 16] = *b"\nevenloop-bundle";
/// Length of the trailer: the archive's length and the magic bytes.
const TRAILER_LENGTH: u64 = 8 + 16;

/// Writes this executable and a packed site as one executable file.
///
/// # Errors
/// When something cannot be read or written.
pub fn write(site: &StoredSite, out: &Path) -> Result<(), Error> {
    let executable = std::env::current_exe()?;
    let archive = archive(site)?;
    // A temporary file first: `out` may be the running program, and must never be half written.
    let new = out.with_extension("new");
    write_executable(&executable, &archive, &new)
        .and_then(|()| fs::rename(&new, out))
        .map_err(file_error(out))
}

fn write_executable(executable: &Path, archive: &[u8], out: &Path) -> io::Result<()> {
    let mut program = File::open(executable)?;
    let appended = archive_length(&mut program)?.map_or(0, |length| length + TRAILER_LENGTH);
    let length = program.metadata()?.len() - appended;
    program.rewind()?;
    let mut file = File::create(out)?;
    io::copy(&mut program.take(length), &mut file)?;
    file.write_all(archive)?;
    file.write_all(&u64::try_from(archive.len()).unwrap_or(0).to_le_bytes())?;
    file.write_all(&TRAILER_MAGIC)?;
    file.set_permissions(fs::metadata(executable)?.permissions())?;
    file.sync_all()
}

fn archive(site: &StoredSite) -> io::Result<Vec<u8>> {
    let mut archive = tar::Builder::new(Vec::new());
    let mut append = |path: &str, content: &[u8]| {
        // Neither times nor owners: the same site makes the same file, whoever packed it and when.
        let mut header = tar::Header::new_gnu();
        header.set_size(u64::try_from(content.len()).unwrap_or(0));
        header.set_mode(0o644);
        archive.append_data(&mut header, path, content)
    };
    append(BUILD_MANIFEST, &site.manifest)?;
    for (address, content) in &site.files {
        append(&format!("{FILES}{address}"), content)?;
    }
    archive.into_inner()
}

/// Whether an executable carries a site.
///
/// # Errors
/// When it cannot be read.
pub fn has_site(executable: &Path) -> io::Result<bool> {
    Ok(archive_length(&mut File::open(executable)?)?.is_some())
}

/// The site that an executable carries, if it carries one.
///
/// # Errors
/// When it cannot be read; of kind `NotFound` where the archive has no build manifest.
pub fn read(executable: &Path) -> io::Result<Option<StoredSite>> {
    let Some(archive) = open_archive(executable)? else {
        return Ok(None);
    };
    let mut manifest = None;
    let mut files = BTreeMap::new();
    for entry in tar::Archive::new(archive).entries()? {
        let mut entry = entry?;
        let path = entry.path()?.into_owned();
        let mut content = Vec::new();
        entry.read_to_end(&mut content)?;
        match path.strip_prefix(FILES) {
            Ok(path) => drop(files.insert(address(path), content)),
            Err(_) if path == Path::new(BUILD_MANIFEST) => manifest = Some(content),
            Err(_) => {}
        }
    }
    let manifest = manifest.ok_or(io::ErrorKind::NotFound)?;
    Ok(Some(StoredSite { manifest, files }))
}

/// The part of an executable that is its archive.
fn open_archive(executable: &Path) -> io::Result<Option<Take<File>>> {
    let mut file = File::open(executable)?;
    let Some(length) = archive_length(&mut file)? else {
        return Ok(None);
    };
    let start = file.metadata()?.len() - TRAILER_LENGTH - length;
    file.seek(SeekFrom::Start(start))?;
    Ok(Some(file.take(length)))
}

/// Length of the archive at the end of a file, if there is one.
fn archive_length(file: &mut File) -> io::Result<Option<u64>> {
    let Some(trailer) = file.metadata()?.len().checked_sub(TRAILER_LENGTH) else {
        return Ok(None);
    };
    file.seek(SeekFrom::Start(trailer))?;
    let (mut length, mut magic) = ([0; 8], [0; TRAILER_MAGIC.len()]);
    file.read_exact(&mut length)?;
    file.read_exact(&mut magic)?;
    let length = u64::from_le_bytes(length);
    Ok((magic == TRAILER_MAGIC && length <= trailer).then_some(length))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_trailer_with_an_impossible_length_is_ignored() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let program = folder.path().join("program");
        for (content, expected) in [
            (Vec::new(), false),
            (b"too short".to_vec(), false),
            (vec![0; 1000], false),
            (
                [&b"abc"[..], &3u64.to_le_bytes(), &TRAILER_MAGIC].concat(),
                true,
            ),
            (
                [&b"abc"[..], &4u64.to_le_bytes(), &TRAILER_MAGIC].concat(),
                false,
            ),
            (
                [&b"abc"[..], &u64::MAX.to_le_bytes(), &TRAILER_MAGIC].concat(),
                false,
            ),
        ] {
            fs::write(&program, &content)?;
            assert_eq!(has_site(&program)?, expected, "{content:?}");
        }
        Ok(())
    }
}
