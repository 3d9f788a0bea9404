//! Answers that are the same for everybody, held in memory in every form a reader may want: as they
//! are, in gzip and in Brotli. Nothing is read or compressed while somebody waits.

use std::io;

use axum::body::{Body, Bytes};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::Response;

use crate::encoding::{self, Encoding};
use crate::pack::{compress, hash};

/// One answer in all its forms.
#[derive(Debug, Clone)]
pub struct Stored {
    kind: HeaderValue,
    keep: HeaderValue,
    /// Hash of the content; with the form's name it tells a cache whether its copy is still right.
    hash: String,
    plain: Bytes,
    gzip: Option<Bytes>,
    brotli: Option<Bytes>,
}

impl Stored {
    /// An answer of this media type that caches may keep as `keep` says.
    pub fn new(kind: HeaderValue, keep: HeaderValue, content: impl Into<Bytes>) -> Self {
        let plain = content.into();
        Self {
            kind,
            keep,
            hash: hash::of(&plain),
            plain,
            gzip: None,
            brotli: None,
        }
    }

    /// The same with its compressed forms, made now.
    ///
    /// # Errors
    /// When compressing fails.
    pub fn compressed(self) -> io::Result<Self> {
        let gzip = compress::gzip(&self.plain)?.into();
        let brotli = compress::brotli_soon(&self.plain)?.into();
        Ok(self.with_forms(Some(gzip), Some(brotli)))
    }

    /// The same with compressed forms that were made before.
    #[must_use]
    pub fn with_forms(self, gzip: Option<Bytes>, brotli: Option<Bytes>) -> Self {
        Self {
            gzip,
            brotli,
            ..self
        }
    }

    /// The content as it is.
    pub fn plain(&self) -> &Bytes {
        &self.plain
    }

    /// The form in an encoding, where there is one.
    pub fn form(&self, encoding: Encoding) -> Option<&Bytes> {
        match encoding {
            Encoding::Identity => Some(&self.plain),
            Encoding::Gzip => self.gzip.as_ref(),
            Encoding::Brotli => self.brotli.as_ref(),
        }
    }

    /// The answer to a request with these headers: in the form it likes best, or only the news that
    /// its copy is still right.
    pub fn answer(&self, asked: &HeaderMap) -> Response {
        let wanted = encoding::wanted(asked, |encoding| self.form(encoding).is_some());
        let content = self.form(wanted).unwrap_or(&self.plain);
        let tag = format!("\"{}-{}\"", self.hash, wanted.name());
        let fresh = holds(asked, &tag);
        let body = if fresh { Bytes::new() } else { content.clone() };
        let mut response = Response::new(Body::from(body));
        let headers = response.headers_mut();
        headers.insert(header::CACHE_CONTROL, self.keep.clone());
        if let Ok(tag) = HeaderValue::try_from(tag) {
            headers.insert(header::ETAG, tag);
        }
        // A cache between us and the reader must not hand out Brotli to those who cannot unpack it.
        headers.insert(header::VARY, HeaderValue::from_static("accept-encoding"));
        if fresh {
            *response.status_mut() = StatusCode::NOT_MODIFIED;
            return response;
        }
        headers.insert(header::CONTENT_TYPE, self.kind.clone());
        if wanted != Encoding::Identity {
            let name = HeaderValue::from_static(wanted.name());
            headers.insert(header::CONTENT_ENCODING, name);
        }
        response
    }
}

/// Whether the reader says that it holds a copy with this tag. Compared weakly, as RFC 9110 asks for
/// reading (section 13.1.2).
fn holds(asked: &HeaderMap, tag: &str) -> bool {
    asked
        .get_all(header::IF_NONE_MATCH)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(','))
        .map(str::trim)
        .any(|held| held == "*" || held.trim_start_matches("W/") == tag)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stored() -> io::Result<Stored> {
        Stored::new(
            HeaderValue::from_static("text/css"),
            HeaderValue::from_static("no-cache"),
            "a { b: c } ".repeat(50),
        )
        .compressed()
    }

    fn asking(name: header::HeaderName, value: &HeaderValue) -> HeaderMap {
        HeaderMap::from_iter([(name, value.clone())])
    }

    #[test]
    fn each_form_has_a_tag_of_its_own_and_a_copy_is_not_sent_twice() -> io::Result<()> {
        let stored = stored()?;
        let mut tags = Vec::new();
        for encoding in ["identity", "gzip", "br"] {
            let mut asked = asking(header::ACCEPT_ENCODING, &HeaderValue::from_static(encoding));
            let response = stored.answer(&asked);
            assert_eq!(response.status(), StatusCode::OK);
            let tag = response.headers()[header::ETAG].clone();
            asked.insert(header::IF_NONE_MATCH, tag.clone());
            let again = stored.answer(&asked);
            assert_eq!(again.status(), StatusCode::NOT_MODIFIED, "{encoding}");
            assert_eq!(again.headers()[header::ETAG], tag);
            assert!(!again.headers().contains_key(header::CONTENT_TYPE));
            tags.push(tag);
        }
        tags.sort();
        tags.dedup();
        assert_eq!(tags.len(), 3);
        Ok(())
    }

    #[test]
    fn another_copy_is_replaced() -> io::Result<()> {
        for held in ["\"another\"", "another", "", "W/\"x\", \"y\""] {
            let asked = asking(header::IF_NONE_MATCH, &HeaderValue::from_static(held));
            assert_eq!(stored()?.answer(&asked).status(), StatusCode::OK, "{held}");
        }
        let any = asking(header::IF_NONE_MATCH, &HeaderValue::from_static("*"));
        assert_eq!(stored()?.answer(&any).status(), StatusCode::NOT_MODIFIED);
        Ok(())
    }
}
