//! What a request asks of a stored answer: its preconditions (RFC 9110, 13) and the part that it wants
//! (RFC 9110, 14). Stored answers have entity tags and no dates, so conditions on dates are left alone.

use std::ops::Range;

use axum::http::{HeaderMap, HeaderName, HeaderValue, header};

/// Whether the request is to be answered, by its preconditions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Precondition {
    /// It is.
    Holds,
    /// The client's copy is still valid: 304.
    NotModified,
    /// The client wanted something else: 412.
    Failed,
}

/// Evaluates the preconditions of a GET or HEAD for what has this strong entity tag, in the order of
/// RFC 9110, 13.2.2.
pub fn precondition(request: &HeaderMap, etag: &HeaderValue) -> Precondition {
    // Strong comparison: a weak tag never matches.
    if request.contains_key(header::IF_MATCH)
        && !listed(request, &header::IF_MATCH).any(|tag| tag == "*" || tag == etag)
    {
        return Precondition::Failed;
    }
    // Weak comparison.
    let held = listed(request, &header::IF_NONE_MATCH)
        .any(|tag| tag == "*" || tag.trim_start_matches("W/") == etag);
    if held {
        Precondition::NotModified
    } else {
        Precondition::Holds
    }
}

fn listed<'a>(request: &'a HeaderMap, name: &HeaderName) -> impl Iterator<Item = &'a str> {
    request
        .get_all(name)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(','))
        .map(str::trim)
}

/// The part that is to be sent.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RequestedRange {
    /// All of it: no part is asked for, more than one, or one of something else.
    Whole,
    /// These bytes of it: 206.
    Bytes(Range<usize>),
    /// It has no such bytes: 416.
    Unsatisfiable,
}

/// The part of so many bytes with this strong entity tag that a GET asks for. Several ranges at once are
/// not sent in parts, which RFC 9110, 14.2 allows: a small request for many could cost a large answer.
pub fn part(request: &HeaderMap, etag: &HeaderValue, length: usize) -> RequestedRange {
    if request
        .get(header::IF_RANGE)
        .is_some_and(|held| held != etag)
    {
        return RequestedRange::Whole;
    }
    let mut ranges = request.get_all(header::RANGE).iter();
    let (Some(range), None) = (ranges.next(), ranges.next()) else {
        return RequestedRange::Whole;
    };
    range
        .to_str()
        .ok()
        .and_then(|range| bytes(range, length))
        .unwrap_or(RequestedRange::Whole)
}

/// `bytes=10-19`, `bytes=10-` or `bytes=-10`; `None` where it is none of these.
fn bytes(range: &str, length: usize) -> Option<RequestedRange> {
    let (unit, range) = range.split_once('=')?;
    let (first, last) = range.trim().split_once('-')?;
    if !unit.eq_ignore_ascii_case("bytes") {
        return None;
    }
    let range = if first.is_empty() {
        length.saturating_sub(position(last)?)..length
    } else if last.is_empty() {
        position(first)?..length
    } else {
        let (first, last) = (position(first)?, position(last)?);
        if last < first {
            return None;
        }
        first..length.min(last.saturating_add(1))
    };
    Some(if range.is_empty() {
        RequestedRange::Unsatisfiable
    } else {
        RequestedRange::Bytes(range)
    })
}

/// Digits as a number; one that is too large for any content is as good as the largest.
fn position(digits: &str) -> Option<usize> {
    let is_number = !digits.is_empty() && digits.bytes().all(|digit| digit.is_ascii_digit());
    is_number.then(|| digits.parse().unwrap_or(usize::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;

    const ETAG: HeaderValue = HeaderValue::from_static("\"a-identity\"");

    fn request<const N: usize>(headers: [(HeaderName, &'static str); N]) -> HeaderMap {
        let value = |(name, value)| (name, HeaderValue::from_static(value));
        headers.into_iter().map(value).collect()
    }

    #[test]
    fn tags_are_compared_as_each_header_asks() {
        for (name, value, expected) in [
            (
                header::IF_NONE_MATCH,
                "\"a-identity\"",
                Precondition::NotModified,
            ),
            (
                header::IF_NONE_MATCH,
                "\"x\", W/\"a-identity\"",
                Precondition::NotModified,
            ),
            (header::IF_NONE_MATCH, "*", Precondition::NotModified),
            (header::IF_NONE_MATCH, "\"x\"", Precondition::Holds),
            (header::IF_MATCH, "\"a-identity\"", Precondition::Holds),
            (
                header::IF_MATCH,
                "\"x\", \"a-identity\"",
                Precondition::Holds,
            ),
            (header::IF_MATCH, "*", Precondition::Holds),
            (header::IF_MATCH, "W/\"a-identity\"", Precondition::Failed),
            (header::IF_MATCH, "\"x\"", Precondition::Failed),
            (header::IF_MATCH, "", Precondition::Failed),
        ] {
            let request = request([(name, value)]);
            assert_eq!(precondition(&request, &ETAG), expected, "{request:?}");
        }
        let both = request([
            (header::IF_MATCH, "\"x\""),
            (header::IF_NONE_MATCH, "\"a-identity\""),
        ]);
        assert_eq!(precondition(&both, &ETAG), Precondition::Failed);
    }

    #[test]
    fn one_range_is_a_part_and_nonsense_is_none() {
        for (range, expected) in [
            ("bytes=0-0", RequestedRange::Bytes(0..1)),
            ("bytes=2-4", RequestedRange::Bytes(2..5)),
            ("Bytes=8-", RequestedRange::Bytes(8..10)),
            ("bytes=-3", RequestedRange::Bytes(7..10)),
            ("bytes=-30", RequestedRange::Bytes(0..10)),
            ("bytes=5-99999999999999999999", RequestedRange::Bytes(5..10)),
            ("bytes=10-", RequestedRange::Unsatisfiable),
            ("bytes=99999999999999999999-", RequestedRange::Unsatisfiable),
            ("bytes=-0", RequestedRange::Unsatisfiable),
            ("bytes=4-2", RequestedRange::Whole),
            ("bytes=0-1,3-4", RequestedRange::Whole),
            ("bytes=-", RequestedRange::Whole),
            ("bytes=a-b", RequestedRange::Whole),
            ("bytes=+1-2", RequestedRange::Whole),
            ("lines=1-2", RequestedRange::Whole),
            ("bytes", RequestedRange::Whole),
        ] {
            let request = request([(header::RANGE, range)]);
            assert_eq!(part(&request, &ETAG, 10), expected, "{range}");
        }
        let nothing = request([(header::RANGE, "bytes=0-")]);
        assert_eq!(part(&nothing, &ETAG, 0), RequestedRange::Unsatisfiable);
    }

    #[test]
    fn a_part_is_sent_only_to_go_with_what_is_held() {
        for (held, expected) in [
            ("\"a-identity\"", RequestedRange::Bytes(1..3)),
            ("W/\"a-identity\"", RequestedRange::Whole),
            ("\"b-identity\"", RequestedRange::Whole),
            ("Sat, 29 Oct 1994 19:43:31 GMT", RequestedRange::Whole),
        ] {
            let request = request([(header::RANGE, "bytes=1-2"), (header::IF_RANGE, held)]);
            assert_eq!(part(&request, &ETAG, 10), expected, "{held}");
        }
    }
}
