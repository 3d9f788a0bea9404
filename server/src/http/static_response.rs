//! Answers that are the same for everybody: their headers and bodies are made once, in every encoding.

use std::ops::Range;

use axum::body::{Body, Bytes};
use axum::http::{HeaderMap, HeaderValue, Method, Request, StatusCode, header};
use axum::response::{IntoResponse, Response};

use crate::http::conditions::{self, Precondition, RequestedRange};
use crate::http::content_negotiation;
use crate::http::problem::Problem;
use crate::site::content::Content;
use crate::site::encoding::Encoding;

/// Room for the headers of a variant and those that every answer carries, so that none of them makes the
/// map grow.
const HEADERS: usize = 16;

/// An answer in all its encodings.
#[derive(Debug)]
pub struct StaticResponse {
    identity: Variant,
    gzip: Option<Variant>,
    brotli: Option<Variant>,
}

/// An answer in one encoding.
#[derive(Debug)]
struct Variant {
    /// Entity tag: the hash of the content, with the encoding's name.
    etag: HeaderValue,
    /// The headers of an answer with a body.
    headers: HeaderMap,
    body: Bytes,
}

impl StaticResponse {
    /// The answers with this content.
    pub fn new(content: &Content, media_type: &HeaderValue, cache_control: &HeaderValue) -> Self {
        let variant = |encoding: Encoding, body: &Bytes| {
            let etag = format!("\"{}-{}\"", content.hash(), encoding.name());
            // A hash and a name are always a header's value; without one there are no conditional answers.
            let etag = HeaderValue::try_from(etag).unwrap_or(HeaderValue::from_static("\"\""));
            let mut headers = HeaderMap::with_capacity(HEADERS);
            headers.insert(header::CACHE_CONTROL, cache_control.clone());
            headers.insert(header::ETAG, etag.clone());
            headers.insert(header::ACCEPT_RANGES, HeaderValue::from_static("bytes"));
            // A shared cache must not hand out Brotli to clients that cannot decompress it.
            headers.insert(header::VARY, HeaderValue::from_static("accept-encoding"));
            headers.insert(header::CONTENT_TYPE, media_type.clone());
            if encoding != Encoding::Identity {
                let name = HeaderValue::from_static(encoding.name());
                headers.insert(header::CONTENT_ENCODING, name);
            }
            Variant {
                etag,
                headers,
                body: body.clone(),
            }
        };
        let encoded = |encoding| {
            content
                .encoded(encoding)
                .map(|body| variant(encoding, body))
        };
        Self {
            identity: variant(Encoding::Identity, content.identity()),
            gzip: encoded(Encoding::Gzip),
            brotli: encoded(Encoding::Brotli),
        }
    }

    /// The answer to a GET or HEAD: in the encoding that its client prefers, or what its conditions ask for
    /// instead. A part is one of the content as it is, whatever the client prefers: encoded, the same
    /// bytes would mean something else.
    pub fn respond<B>(&self, request: &Request<B>) -> Response {
        let headers = request.headers();
        let part = match *request.method() {
            Method::GET => conditions::part(headers, &self.identity.etag, self.identity.body.len()),
            _ => RequestedRange::Whole,
        };
        let variant = match part {
            RequestedRange::Whole => self.preferred(headers),
            RequestedRange::Bytes(_) | RequestedRange::Unsatisfiable => &self.identity,
        };
        match conditions::precondition(headers, &variant.etag) {
            Precondition::Failed => Problem::from(StatusCode::PRECONDITION_FAILED).into_response(),
            Precondition::NotModified => variant.not_modified(),
            Precondition::Holds => match part {
                RequestedRange::Whole => variant.whole(),
                RequestedRange::Bytes(range) => variant.part(range),
                RequestedRange::Unsatisfiable => variant.unsatisfiable(),
            },
        }
    }

    fn preferred(&self, request: &HeaderMap) -> &Variant {
        let encoding =
            content_negotiation::negotiate(request, |encoding| self.variant(encoding).is_some());
        self.variant(encoding).unwrap_or(&self.identity)
    }

    /// The same answer with another status, without regard to the client's copies.
    pub fn respond_with(&self, status: StatusCode) -> Response {
        let mut response = Response::new(Body::from(self.identity.body.clone()));
        *response.status_mut() = status;
        if let Some(media_type) = self.identity.headers.get(header::CONTENT_TYPE) {
            let headers = response.headers_mut();
            headers.insert(header::CONTENT_TYPE, media_type.clone());
        }
        response
    }

    const fn variant(&self, encoding: Encoding) -> Option<&Variant> {
        match encoding {
            Encoding::Identity => Some(&self.identity),
            Encoding::Gzip => self.gzip.as_ref(),
            Encoding::Brotli => self.brotli.as_ref(),
        }
    }
}

impl Variant {
    fn whole(&self) -> Response {
        let mut response = Response::new(Body::from(self.body.clone()));
        *response.headers_mut() = self.headers.clone();
        response
    }

    fn not_modified(&self) -> Response {
        let mut headers = self.headers.clone();
        headers.remove(header::CONTENT_TYPE);
        headers.remove(header::CONTENT_ENCODING);
        let mut response = Response::new(Body::empty());
        *response.status_mut() = StatusCode::NOT_MODIFIED;
        *response.headers_mut() = headers;
        response
    }

    /// Bytes that the content has.
    fn part(&self, range: Range<usize>) -> Response {
        let length = self.body.len();
        let content_range = format!("bytes {}-{}/{length}", range.start, range.end - 1);
        let mut response = self.whole();
        *response.status_mut() = StatusCode::PARTIAL_CONTENT;
        *response.body_mut() = Body::from(self.body.slice(range));
        insert_content_range(&mut response, content_range);
        response
    }

    fn unsatisfiable(&self) -> Response {
        let mut response = Problem::from(StatusCode::RANGE_NOT_SATISFIABLE).into_response();
        insert_content_range(&mut response, format!("bytes */{}", self.body.len()));
        response
    }
}

fn insert_content_range(response: &mut Response, content_range: String) {
    // Digits and signs always make a header's value.
    if let Ok(value) = HeaderValue::try_from(content_range) {
        response.headers_mut().insert(header::CONTENT_RANGE, value);
    }
}

#[cfg(test)]
mod tests {
    use std::io;

    use super::*;

    fn response() -> io::Result<StaticResponse> {
        let content = Content::new("a { b: c } ".repeat(50)).compressed()?;
        Ok(StaticResponse::new(
            &content,
            &HeaderValue::from_static("text/css"),
            &HeaderValue::from_static("no-cache"),
        ))
    }

    fn request(name: header::HeaderName, value: &HeaderValue) -> Request<()> {
        let mut request = Request::new(());
        request.headers_mut().insert(name, value.clone());
        request
    }

    #[test]
    fn each_encoding_has_its_own_etag_and_a_valid_copy_is_not_sent_again() -> io::Result<()> {
        let static_response = response()?;
        let mut etags = Vec::new();
        for encoding in ["identity", "gzip", "br"] {
            let accepted = HeaderValue::from_static(encoding);
            let mut request = request(header::ACCEPT_ENCODING, &accepted);
            let response = static_response.respond(&request);
            assert_eq!(response.status(), StatusCode::OK);
            assert_eq!(response.headers()[header::CONTENT_TYPE], "text/css");
            let etag = response.headers()[header::ETAG].clone();
            let headers = request.headers_mut();
            headers.insert(header::IF_NONE_MATCH, etag.clone());
            let again = static_response.respond(&request);
            assert_eq!(again.status(), StatusCode::NOT_MODIFIED, "{encoding}");
            assert_eq!(again.headers()[header::ETAG], etag);
            assert!(!again.headers().contains_key(header::CONTENT_TYPE));
            assert!(!again.headers().contains_key(header::CONTENT_ENCODING));
            etags.push(etag);
        }
        etags.sort();
        etags.dedup();
        assert_eq!(etags.len(), 3);
        Ok(())
    }

    #[test]
    fn another_copy_is_replaced() -> io::Result<()> {
        for held in ["\"another\"", "another", "", "W/\"x\", \"y\""] {
            let request = request(header::IF_NONE_MATCH, &HeaderValue::from_static(held));
            let status = response()?.respond(&request).status();
            assert_eq!(status, StatusCode::OK, "{held}");
        }
        let any = request(header::IF_NONE_MATCH, &HeaderValue::from_static("*"));
        assert_eq!(response()?.respond(&any).status(), StatusCode::NOT_MODIFIED);
        Ok(())
    }

    #[test]
    fn a_part_is_one_of_the_content_as_it_is() -> io::Result<()> {
        let static_response = response()?;
        let mut request = request(header::RANGE, &HeaderValue::from_static("bytes=2-5"));
        let headers = request.headers_mut();
        headers.insert(header::ACCEPT_ENCODING, HeaderValue::from_static("br"));
        let part = static_response.respond(&request);
        assert_eq!(part.status(), StatusCode::PARTIAL_CONTENT);
        assert_eq!(part.headers()[header::CONTENT_RANGE], "bytes 2-5/550");
        assert!(!part.headers().contains_key(header::CONTENT_ENCODING));
        assert_eq!(part.headers()[header::ETAG], static_response.identity.etag);
        *request.method_mut() = Method::HEAD;
        let head = static_response.respond(&request);
        assert_eq!(head.status(), StatusCode::OK);
        assert_eq!(head.headers()[header::CONTENT_ENCODING], "br");
        Ok(())
    }
}
