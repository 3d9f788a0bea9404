//! Compression: files are compressed once, as small as possible; pages at every start, fast enough; what is
//! made for one request sooner still.

use std::io::{self, Write};

use flate2::Compression;
use flate2::write::GzEncoder;

/// Smaller files gain nothing from compression.
pub(crate) const MIN_SIZE: usize = 256;

/// Whether a file of this name and size is worth compressing: text and wasm, not pictures.
pub(crate) fn is_worthwhile(url: &str, size: usize) -> bool {
    let extension = url.rsplit('.').next().unwrap_or_default();
    let compressible = [
        "css",
        "html",
        "js",
        "json",
        "svg",
        "txt",
        "wasm",
        "webmanifest",
    ];
    size >= MIN_SIZE && compressible.contains(&extension)
}

/// gzip at its highest level.
pub(crate) fn gzip(content: &[u8]) -> io::Result<Vec<u8>> {
    gzip_with(content, Compression::best())
}

/// gzip while a client waits.
pub(crate) fn gzip_now(content: &[u8]) -> io::Result<Vec<u8>> {
    gzip_with(content, Compression::default())
}

fn gzip_with(content: &[u8], level: Compression) -> io::Result<Vec<u8>> {
    let mut encoder = GzEncoder::new(Vec::new(), level);
    encoder.write_all(content)?;
    encoder.finish()
}

/// Brotli at its highest quality.
pub(crate) fn brotli(content: &[u8]) -> io::Result<Vec<u8>> {
    brotli_with(content, 11, LARGEST_WINDOW)
}

/// Brotli for what is compressed whenever the server starts: a little larger, many times faster.
pub(crate) fn brotli_fast(content: &[u8]) -> io::Result<Vec<u8>> {
    brotli_with(content, 9, LARGEST_WINDOW)
}

/// Brotli while a client waits. The window, and with it the memory, is small: many may wait at once.
pub(crate) fn brotli_now(content: &[u8]) -> io::Result<Vec<u8>> {
    brotli_with(content, 4, 18)
}

/// The largest window of RFC 7932, as a power of two.
const LARGEST_WINDOW: i32 = 22;

fn brotli_with(content: &[u8], quality: i32, window: i32) -> io::Result<Vec<u8>> {
    let mut compressed = Vec::new();
    let parameters = brotli::enc::BrotliEncoderParams {
        quality,
        lgwin: window,
        ..Default::default()
    };
    brotli::BrotliCompress(&mut io::Cursor::new(content), &mut compressed, &parameters)?;
    Ok(compressed)
}

#[cfg(test)]
mod tests {
    use std::io::Read;

    use super::*;

    #[test]
    fn compressing_loses_nothing() -> io::Result<()> {
        let content = b"knit one, purl one; ".repeat(100);
        let mut decompressed = Vec::new();
        for compressed in [gzip(&content)?, gzip_now(&content)?] {
            decompressed.clear();
            flate2::read::GzDecoder::new(compressed.as_slice()).read_to_end(&mut decompressed)?;
            assert_eq!(decompressed, content);
        }
        for compressed in [
            brotli(&content)?,
            brotli_fast(&content)?,
            brotli_now(&content)?,
        ] {
            decompressed.clear();
            brotli::Decompressor::new(compressed.as_slice(), 4096)
                .read_to_end(&mut decompressed)?;
            assert_eq!(decompressed, content);
        }
        Ok(())
    }

    #[test]
    fn pictures_and_tiny_files_are_not_compressed() {
        assert!(is_worthwhile("/pkg/evenloop_bg.0.wasm", 100_000));
        assert!(!is_worthwhile("/icons/icon-192.png", 100_000));
        assert!(!is_worthwhile("/pkg/boot.0.js", 100));
    }
}
