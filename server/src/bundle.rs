//! One file that is all of it: the server's own executable with a packed site behind the program.
//!
//! Systems load a program by its headers and never look at what follows, so a tar archive of the site
//! may stand there; a trailer at the very end says how long it is. Tools that rewrite executables
//! (such as `strip`) drop it: run them before.

use std::fs::{self, File};
use std::io::{self, Read, Seek, SeekFrom, Take, Write};
use std::path::Path;

use evenloop_app::base::Base;

use crate::site::{FILES, NOTE, Site, SiteError};
use crate::source::{Found, Source};
use crate::start::StartError;

/// The last bytes of an executable with a site; before them stands the archive's length.
const MARK: [u8; 16] = *b"\nevenloop-bundle";
/// Length of the archive, and the mark.
const TRAILER: u64 = 8 + 16;

/// Writes this executable and a packed site as one executable file.
///
/// # Errors
/// When the site cannot be used, or something cannot be read or written.
pub fn run(source: &Source, out: &Path) -> Result<(), StartError> {
    // What this server cannot serve is not worth carrying.
    Site::open(source, &Base::default())?;
    let failed = |source| StartError::File {
        path: out.to_owned(),
        source,
    };
    let own = std::env::current_exe()?;
    let archive = source
        .read()
        .and_then(|found| archive(&found))
        .map_err(|error| SiteError::Unreadable {
            folder: source.path().to_owned(),
            source: error,
        })?;
    // Beside it first: a half-written program must not be started, and this one may be running there.
    let new = out.with_extension("new");
    write(&own, &archive, &new)
        .and_then(|()| fs::rename(&new, out))
        .map_err(failed)
}

fn write(own: &Path, archive: &[u8], out: &Path) -> io::Result<()> {
    let mut program = File::open(own)?;
    let length = program.metadata()?.len() - behind(&mut program)?.map_or(0, |all| all + TRAILER);
    program.rewind()?;
    let mut file = File::create(out)?;
    io::copy(&mut program.take(length), &mut file)?;
    file.write_all(archive)?;
    file.write_all(&u64::try_from(archive.len()).unwrap_or(0).to_le_bytes())?;
    file.write_all(&MARK)?;
    file.set_permissions(fs::metadata(own)?.permissions())?;
    file.sync_all()
}

fn archive(found: &Found) -> io::Result<Vec<u8>> {
    let mut archive = tar::Builder::new(Vec::new());
    let mut put = |path: &str, content: &[u8]| {
        // No times, no owners: the same site makes the same file, whoever packed it and when.
        let mut header = tar::Header::new_gnu();
        header.set_size(u64::try_from(content.len()).unwrap_or(0));
        header.set_mode(0o644);
        archive.append_data(&mut header, path, content)
    };
    put(NOTE, &found.note)?;
    for (address, content) in &found.files {
        put(&format!("{FILES}{address}"), content)?;
    }
    archive.into_inner()
}

/// Whether an executable carries a site.
///
/// # Errors
/// When it cannot be read.
pub fn is_in(program: &Path) -> io::Result<bool> {
    Ok(behind(&mut File::open(program)?)?.is_some())
}

/// The archive that an executable carries, ready to be read.
///
/// # Errors
/// When it cannot be read.
pub fn open(program: &Path) -> io::Result<Option<Take<File>>> {
    let mut file = File::open(program)?;
    let Some(length) = behind(&mut file)? else {
        return Ok(None);
    };
    let start = file.metadata()?.len() - TRAILER - length;
    file.seek(SeekFrom::Start(start))?;
    Ok(Some(file.take(length)))
}

/// Length of the archive at the end of a file, if there is one.
fn behind(file: &mut File) -> io::Result<Option<u64>> {
    let all = file.metadata()?.len();
    let Some(most) = all.checked_sub(TRAILER) else {
        return Ok(None);
    };
    file.seek(SeekFrom::Start(most))?;
    let (mut length, mut mark) = ([0; 8], MARK.map(|_| 0));
    file.read_exact(&mut length)?;
    file.read_exact(&mut mark)?;
    let length = u64::from_le_bytes(length);
    Ok((mark == MARK && length <= most).then_some(length))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_trailer_is_not_believed_blindly() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let program = folder.path().join("program");
        for (content, expected) in [
            (Vec::new(), false),
            (b"too short".to_vec(), false),
            (vec![0; 1000], false),
            ([&b"abc"[..], &3u64.to_le_bytes(), &MARK].concat(), true),
            ([&b"abc"[..], &4u64.to_le_bytes(), &MARK].concat(), false),
            (
                [&b"abc"[..], &u64::MAX.to_le_bytes(), &MARK].concat(),
                false,
            ),
        ] {
            fs::write(&program, &content)?;
            assert_eq!(is_in(&program)?, expected, "{content:?}");
        }
        Ok(())
    }
}
