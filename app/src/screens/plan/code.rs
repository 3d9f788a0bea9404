//! An address as a QR code (ISO/IEC 18004), drawn as one path.

use std::fmt::Write as _;

use qrcodegen::{QrCode, QrCodeEcc};

/// Light modules that the standard asks for around a code.
const QUIET: i32 = 4;

/// A code: its side in modules, the quiet zone included, and the path of its dark modules.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Code {
    pub(super) side: i32,
    pub(super) path: String,
}

/// The code of a text; `None` when it is too long for one.
pub(super) fn of(text: &str) -> Option<Code> {
    let code = QrCode::encode_text(text, QrCodeEcc::Low).ok()?;
    let mut path = String::new();
    for y in 0..code.size() {
        let mut x = 0;
        while x < code.size() {
            let from = x;
            while code.get_module(x, y) {
                x += 1;
            }
            let run = x - from;
            if run > 0 {
                // Writing into a String cannot fail.
                let _ = write!(path, "M{} {}h{run}v1h-{run}z", from + QUIET, y + QUIET);
            }
            x += 1;
        }
    }
    Some(Code {
        side: code.size() + 2 * QUIET,
        path,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The three corners by which a camera finds a code: seven dark modules in a row.
    #[test]
    fn a_code_has_its_corners_and_its_margin() {
        let code = of("https://example.org/plan?r=1abc").expect("it is short");
        assert_eq!((code.side - 2 * QUIET - 17) % 4, 0, "{}", code.side);
        let far = code.side - QUIET - 7;
        for (x, y) in [(QUIET, QUIET), (far, QUIET), (QUIET, far)] {
            let corner = format!("M{x} {y}h7v1h-7z");
            assert!(code.path.contains(&corner), "{corner} {}", code.path);
        }
    }

    #[test]
    fn too_long_a_text_has_no_code() {
        assert_eq!(of(&"a".repeat(2954)), None);
        assert!(of(&"a".repeat(2953)).is_some());
    }
}
