//! Answers that are made for one request: a text, compressed as its client prefers.
//!
//! To be made where the text is made, on a thread for work: compressing takes as long as planning.

use std::io;

use axum::body::Body;
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};

use crate::site::compress;
use crate::site::encoding::Encoding;

/// A text in the encoding in which it is sent.
#[derive(Debug)]
pub struct Rendered {
    body: Vec<u8>,
    encoding: Encoding,
}

impl Rendered {
    /// The text in an encoding; as it is where compressing gains nothing or fails.
    pub fn new(text: String, encoding: Encoding) -> Self {
        match compressed(&text, encoding) {
            Ok(Some(body)) => Self { body, encoding },
            _ => Self {
                body: text.into_bytes(),
                encoding: Encoding::Identity,
            },
        }
    }

    /// The answer with it.
    pub fn into_response(self, media_type: HeaderValue, cache_control: HeaderValue) -> Response {
        let mut response = Body::from(self.body).into_response();
        let headers = response.headers_mut();
        headers.insert(header::CONTENT_TYPE, media_type);
        headers.insert(header::CACHE_CONTROL, cache_control);
        headers.insert(header::VARY, HeaderValue::from_static("accept-encoding"));
        if self.encoding != Encoding::Identity {
            let name = HeaderValue::from_static(self.encoding.name());
            headers.insert(header::CONTENT_ENCODING, name);
        }
        response
    }
}

fn compressed(text: &str, encoding: Encoding) -> io::Result<Option<Vec<u8>>> {
    if text.len() < compress::MIN_SIZE {
        return Ok(None);
    }
    match encoding {
        Encoding::Identity => Ok(None),
        Encoding::Gzip => compress::gzip_now(text.as_bytes()).map(Some),
        Encoding::Brotli => compress::brotli_now(text.as_bytes()).map(Some),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_gains_from_it_is_compressed() {
        let long = "knit one, purl one; ".repeat(100);
        for encoding in Encoding::ALL {
            let rendered = Rendered::new(long.clone(), encoding);
            assert_eq!(rendered.encoding, encoding);
            assert_eq!(
                rendered.body.len() < long.len(),
                encoding != Encoding::Identity
            );
            let short = Rendered::new("knit".to_owned(), encoding);
            assert_eq!(short.encoding, Encoding::Identity);
        }
    }
}
