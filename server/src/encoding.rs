//! Which compressed form a reader can unpack, by its `Accept-Encoding` (RFC 9110, 12.5.3).

use axum::http::{HeaderMap, header};

/// A form of content.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Encoding {
    /// As it is.
    Identity,
    /// gzip.
    Gzip,
    /// Brotli.
    Brotli,
}

impl Encoding {
    /// The compressed forms, the smaller one first.
    const PACKED: [Self; 2] = [Self::Brotli, Self::Gzip];

    /// Its name in headers.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Identity => "identity",
            Self::Gzip => "gzip",
            Self::Brotli => "br",
        }
    }
}

/// The form a reader likes best among those that are there; of equals the smaller one. What is there
/// as it is serves everybody, so a reader that refuses it gets it all the same.
pub fn wanted(asked: &HeaderMap, there: impl Fn(Encoding) -> bool) -> Encoding {
    let mut best = (0, Encoding::Identity);
    for encoding in Encoding::PACKED {
        let liking = liking(asked, encoding.name());
        if liking > best.0 && there(encoding) {
            best = (liking, encoding);
        }
    }
    best.1
}

/// How much a reader likes an encoding, in thousandths; 0 is not at all.
fn liking(asked: &HeaderMap, name: &str) -> u16 {
    let offers = asked
        .get_all(header::ACCEPT_ENCODING)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(','))
        .map(offer);
    let mut any = 0;
    for (offered, liking) in offers {
        if offered.eq_ignore_ascii_case(name) {
            return liking;
        }
        if offered == "*" {
            any = liking;
        }
    }
    any
}

/// `br;q=0.8` is 800 thousandths of `br`.
fn offer(text: &str) -> (&str, u16) {
    let (name, parameter) = text.split_once(';').unwrap_or((text, "q=1"));
    let weight = parameter.trim().strip_prefix("q=").unwrap_or("1");
    (name.trim(), thousandths(weight).unwrap_or(0))
}

fn thousandths(weight: &str) -> Option<u16> {
    let (whole, part) = weight.split_once('.').unwrap_or((weight, ""));
    let digits = format!("{part:0<3}");
    let digits = digits.get(..3)?;
    let all: u16 = format!("{whole}{digits}").parse().ok()?;
    Some(all.min(1000))
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::http::HeaderValue;

    fn wanted_by(accept: &'static str) -> Encoding {
        let asked =
            HeaderMap::from_iter([(header::ACCEPT_ENCODING, HeaderValue::from_static(accept))]);
        wanted(&asked, |_| true)
    }

    #[test]
    fn the_smallest_that_can_be_unpacked_is_sent() {
        for (accept, expected) in [
            ("gzip, deflate, br, zstd", Encoding::Brotli),
            ("gzip", Encoding::Gzip),
            ("GZIP;q=0.5", Encoding::Gzip),
            ("br;q=0.5, gzip;q=0.8", Encoding::Gzip),
            ("br;q=0, gzip;q=0.001", Encoding::Gzip),
            ("*", Encoding::Brotli),
            ("br;q=0, *;q=0.1", Encoding::Gzip),
            ("identity", Encoding::Identity),
            ("", Encoding::Identity),
            ("br;q=0", Encoding::Identity),
            ("br;q=nonsense", Encoding::Identity),
            ("br;q=-1, gzip;q=1.0000", Encoding::Gzip),
            (";;;,,,=q", Encoding::Identity),
        ] {
            assert_eq!(wanted_by(accept), expected, "{accept}");
        }
    }

    #[test]
    fn only_what_is_there_is_sent() {
        let asked = HeaderMap::from_iter([(
            header::ACCEPT_ENCODING,
            HeaderValue::from_static("br, gzip"),
        )]);
        let gzip_only = wanted(&asked, |encoding| encoding == Encoding::Gzip);
        assert_eq!(gzip_only, Encoding::Gzip);
        assert_eq!(wanted(&asked, |_| false), Encoding::Identity);
    }
}
