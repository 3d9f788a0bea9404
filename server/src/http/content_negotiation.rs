//! Which encoding of an answer a client prefers, by its `Accept-Encoding` (RFC 9110, 12.5.3).

use axum::http::{HeaderMap, header};

use crate::site::encoding::Encoding;

/// A quality value (RFC 9110, 12.4.2), in thousandths: 1000 is preferred, 0 is not acceptable.
type Quality = u32;

/// The available encoding with the highest quality value; of equal ones the one with smaller results. A
/// client that refuses `identity` gets it all the same where nothing else is acceptable.
pub fn negotiate(request: &HeaderMap, is_available: impl Fn(Encoding) -> bool) -> Encoding {
    let mut best = (0, Encoding::Identity);
    for encoding in Encoding::COMPRESSED {
        let quality = quality(request, encoding.name());
        if quality > best.0 && is_available(encoding) {
            best = (quality, encoding);
        }
    }
    best.1
}

/// The quality value of an encoding.
fn quality(request: &HeaderMap, name: &str) -> Quality {
    let preferences = request
        .get_all(header::ACCEPT_ENCODING)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(','))
        .map(parse_preference);
    let mut wildcard = 0;
    for (encoding, quality) in preferences {
        if encoding.eq_ignore_ascii_case(name) {
            return quality;
        }
        if encoding == "*" {
            wildcard = quality;
        }
    }
    wildcard
}

/// `br;q=0.8` is `br` with a quality value of 800 thousandths.
fn parse_preference(text: &str) -> (&str, Quality) {
    let (name, parameter) = text.split_once(';').unwrap_or((text, "q=1"));
    let weight = parameter.trim().strip_prefix("q=").unwrap_or("1");
    (name.trim(), parse_quality(weight).unwrap_or(0))
}

/// Digits after the third are ignored, and a value above 1 counts as 1.
fn parse_quality(weight: &str) -> Option<Quality> {
    let (whole, fraction) = weight.split_once('.').unwrap_or((weight, ""));
    let mut thousandths = Quality::from(whole.parse::<u8>().ok()?) * 1000;
    let mut place = 100;
    for digit in fraction.chars().take(3) {
        thousandths += digit.to_digit(10)? * place;
        place /= 10;
    }
    Some(thousandths.min(1000))
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::http::HeaderValue;

    fn request(accept: &'static str) -> HeaderMap {
        HeaderMap::from_iter([(header::ACCEPT_ENCODING, HeaderValue::from_static(accept))])
    }

    #[test]
    fn the_highest_quality_value_wins() {
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
            ("br;q=0.x", Encoding::Identity),
            ("br;q=0.0009, gzip;q=0.001", Encoding::Gzip),
            ("br;q=1., gzip;q=0.999", Encoding::Brotli),
            ("br;q=9, gzip;q=1", Encoding::Brotli),
            ("br;q=-1, gzip;q=1.0000", Encoding::Gzip),
            (";;;,,,=q", Encoding::Identity),
        ] {
            let encoding = negotiate(&request(accept), |_| true);
            assert_eq!(encoding, expected, "{accept}");
        }
    }

    #[test]
    fn only_available_encodings_are_chosen() {
        let request = request("br, gzip");
        let gzip_only = negotiate(&request, |encoding| encoding == Encoding::Gzip);
        assert_eq!(gzip_only, Encoding::Gzip);
        assert_eq!(negotiate(&request, |_| false), Encoding::Identity);
    }
}
