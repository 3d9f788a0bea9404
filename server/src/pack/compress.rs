//! Compressed forms: those of files as small as they get, those of pages made soon enough.

use std::io::{self, Write};

use flate2::Compression;
use flate2::write::GzEncoder;

/// Smaller files do not gain from it.
const WORTH: usize = 256;

/// Whether a file of this name and size is worth compressing: text and wasm, not pictures.
pub(super) fn worth(url: &str, size: usize) -> bool {
    let extension = url.rsplit('.').next().unwrap_or_default();
    let packs = [
        "css",
        "html",
        "js",
        "json",
        "svg",
        "txt",
        "wasm",
        "webmanifest",
    ];
    size >= WORTH && packs.contains(&extension)
}

/// gzip, at its best.
pub(crate) fn gzip(content: &[u8]) -> io::Result<Vec<u8>> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(content)?;
    encoder.finish()
}

/// Brotli, at its best.
pub(super) fn brotli(content: &[u8]) -> io::Result<Vec<u8>> {
    brotli_with(content, 11)
}

/// Brotli for what is compressed whenever the server starts: a little larger, many times sooner.
pub(crate) fn brotli_soon(content: &[u8]) -> io::Result<Vec<u8>> {
    brotli_with(content, 9)
}

fn brotli_with(content: &[u8], quality: i32) -> io::Result<Vec<u8>> {
    let mut packed = Vec::new();
    let parameters = brotli::enc::BrotliEncoderParams {
        quality,
        ..Default::default()
    };
    brotli::BrotliCompress(&mut io::Cursor::new(content), &mut packed, &parameters)?;
    Ok(packed)
}

#[cfg(test)]
mod tests {
    use std::io::Read;

    use super::*;

    #[test]
    fn both_forms_unpack_to_the_same() -> io::Result<()> {
        let content = b"knit one, purl one; ".repeat(100);
        let mut unpacked = Vec::new();
        flate2::read::GzDecoder::new(gzip(&content)?.as_slice()).read_to_end(&mut unpacked)?;
        assert_eq!(unpacked, content);
        for packed in [brotli(&content)?, brotli_soon(&content)?] {
            unpacked.clear();
            brotli::Decompressor::new(packed.as_slice(), 4096).read_to_end(&mut unpacked)?;
            assert_eq!(unpacked, content);
        }
        Ok(())
    }

    #[test]
    fn pictures_and_crumbs_are_left_alone() {
        assert!(worth("/pkg/evenloop_bg.0.wasm", 100_000));
        assert!(!worth("/icons/icon-192.png", 100_000));
        assert!(!worth("/pkg/boot.0.js", 100));
    }
}
