//! Answers that are the same for everybody: their headers and bodies are made once, in every encoding.

use axum::body::{Body, Bytes};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::Response;

use crate::http::content_negotiation;
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

    /// The answer to a request with these headers: in the encoding that it prefers, or 304 where the
    /// client's copy is still valid.
    pub fn respond(&self, request: &HeaderMap) -> Response {
        let encoding =
            content_negotiation::negotiate(request, |encoding| self.variant(encoding).is_some());
        let variant = self.variant(encoding).unwrap_or(&self.identity);
        let is_valid = if_none_match(request, &variant.etag);
        let mut headers = variant.headers.clone();
        if is_valid {
            headers.remove(header::CONTENT_TYPE);
            headers.remove(header::CONTENT_ENCODING);
            let mut response = Response::new(Body::empty());
            *response.status_mut() = StatusCode::NOT_MODIFIED;
            *response.headers_mut() = headers;
            return response;
        }
        let mut response = Response::new(Body::from(variant.body.clone()));
        *response.headers_mut() = headers;
        response
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

/// Whether `If-None-Match` names this entity tag. Compared weakly, as RFC 9110, 13.1.2 asks.
fn if_none_match(request: &HeaderMap, etag: &HeaderValue) -> bool {
    request
        .get_all(header::IF_NONE_MATCH)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(','))
        .map(str::trim)
        .any(|held| held == "*" || held.trim_start_matches("W/") == etag)
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

    fn request(name: header::HeaderName, value: &HeaderValue) -> HeaderMap {
        HeaderMap::from_iter([(name, value.clone())])
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
            request.insert(header::IF_NONE_MATCH, etag.clone());
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
}
