//! Compressed forms, made once as small as they get.

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
pub(super) fn gzip(content: &[u8]) -> io::Result<Vec<u8>> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(content)?;
    encoder.finish()
}

/// Brotli, at its best.
pub(super) fn brotli(content: &[u8]) -> io::Result<Vec<u8>> {
    let mut packed = Vec::new();
    let best = brotli::enc::BrotliEncoderParams::default();
    brotli::BrotliCompress(&mut io::Cursor::new(content), &mut packed, &best)?;
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
        unpacked.clear();
        brotli::Decompressor::new(brotli(&content)?.as_slice(), 4096).read_to_end(&mut unpacked)?;
        assert_eq!(unpacked, content);
        Ok(())
    }

    #[test]
    fn pictures_and_crumbs_are_left_alone() {
        assert!(worth("/pkg/evenloop_bg.0.wasm", 100_000));
        assert!(!worth("/icons/icon-192.png", 100_000));
        assert!(!worth("/pkg/boot.0.js", 100));
    }
}
