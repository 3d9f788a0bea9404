//! Errors as problem documents (RFC 9457): every refusal says what was wrong and what would help.

use axum::http::{self, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use evenloop_engine::error::FieldError;
use evenloop_engine::plan::PlanBug;
use evenloop_engine::refused::{RefusedField, refused_field};
use serde::Serialize;

/// The media type of RFC 9457.
pub const MEDIA_TYPE: HeaderValue = HeaderValue::from_static("application/problem+json");

/// One refusal. `type` stays "about:blank": the status and the text say it all.
#[derive(Debug, Clone, Serialize)]
pub struct Problem {
    r#type: &'static str,
    title: &'static str,
    status: u16,
    detail: String,
    /// What went wrong, for programs, with its arguments.
    #[serde(flatten, skip_serializing_if = "Option::is_none")]
    failure: Option<Failure>,
    /// For a refused recipe, one entry a field.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    errors: Vec<RefusedField>,
}

/// A failure of the server's own.
#[derive(Debug, Clone, Serialize)]
struct Failure {
    /// Never changed.
    code: &'static str,
    arguments: Arguments,
}

/// Where planning failed: the section by its stored name, the step from 1, and the code of what the
/// simulator refused.
#[derive(Debug, Clone, Serialize)]
struct Arguments {
    section: &'static str,
    step: usize,
    reason: &'static str,
}

impl Problem {
    /// A problem with a detail of its own.
    pub fn new(status: StatusCode, detail: impl Into<String>) -> Self {
        Self {
            r#type: "about:blank",
            title: status.canonical_reason().unwrap_or("Error"),
            status: status.as_u16(),
            detail: detail.into(),
            failure: None,
            errors: Vec::new(),
        }
    }

    /// A recipe for which something was planned that cannot be knitted. It is not the recipe's fault.
    pub fn planned_wrongly(bug: &PlanBug) -> Self {
        let failure = Failure {
            code: "planned-wrongly",
            arguments: Arguments {
                section: bug.section.key(),
                step: bug.step + 1,
                reason: bug.refusal.code(),
            },
        };
        Self {
            failure: Some(failure),
            ..Self::new(
                StatusCode::INTERNAL_SERVER_ERROR,
                "Evenloop made a mistake here: it planned what cannot be knitted. The recipe is not at fault.",
            )
        }
    }

    /// The same problem, with the fields that are wrong.
    #[must_use]
    pub fn with_errors(self, errors: &[FieldError]) -> Self {
        Self {
            errors: errors.iter().map(refused_field).collect(),
            ..self
        }
    }
}

impl From<StatusCode> for Problem {
    fn from(status: StatusCode) -> Self {
        Self::new(status, usual_detail(status))
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        let status = StatusCode::from_u16(self.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
        match serde_json::to_vec(&self) {
            Ok(body) => (status, [(header::CONTENT_TYPE, MEDIA_TYPE)], body).into_response(),
            Err(_) => status.into_response(),
        }
    }
}

/// What to say of a status for which no more is known.
fn usual_detail(status: StatusCode) -> &'static str {
    match status {
        StatusCode::NOT_FOUND => "Nothing lives at this address.",
        StatusCode::METHOD_NOT_ALLOWED => {
            "This address does not answer to that method; the Allow header names those it knows."
        }
        StatusCode::REQUEST_TIMEOUT => "The request took too long to arrive. Please try again.",
        StatusCode::PRECONDITION_FAILED => {
            "What is here now is not what If-Match names. Please fetch it anew."
        }
        StatusCode::RANGE_NOT_SATISFIABLE => {
            "There are no such bytes; the Content-Range header says how many there are."
        }
        StatusCode::PAYLOAD_TOO_LARGE => "A recipe is at most 16 KiB.",
        StatusCode::SERVICE_UNAVAILABLE => {
            "Too many requests at once. Please try again in a moment."
        }
        StatusCode::INTERNAL_SERVER_ERROR => "The server failed. It has been noted.",
        _ => "The request could not be answered.",
    }
}

/// Turns an error that a library answered as plain text (or with an empty body) into a problem document.
pub fn replace_plain_error<B>(response: http::Response<B>) -> Response
where
    http::Response<B>: IntoResponse,
{
    let response = response.into_response();
    let status = response.status();
    if !status.is_client_error() && !status.is_server_error() {
        return response;
    }
    let kind = response.headers().get(header::CONTENT_TYPE);
    let is_ours =
        kind.is_some_and(|kind| *kind == MEDIA_TYPE || kind.as_bytes().starts_with(b"text/html"));
    if is_ours {
        return response;
    }
    let (mut parts, _) = response.into_parts();
    let problem = Problem::from(status).into_response();
    parts.headers.remove(header::CONTENT_LENGTH);
    for (name, value) in problem.headers() {
        parts.headers.insert(name, value.clone());
    }
    Response::from_parts(parts, problem.into_body())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_problem_has_the_members_of_the_standard() {
        let problem = Problem::new(StatusCode::UNPROCESSABLE_ENTITY, "Two fields are wrong.")
            .with_errors(&[FieldError::new(
                "heel.rows",
                evenloop_engine::error::Problem::FlapRowsOdd { rows: 31 },
            )]);
        let json = serde_json::to_value(problem).unwrap_or_default();
        assert_eq!(json["type"], "about:blank");
        assert_eq!(json["title"], "Unprocessable Entity");
        assert_eq!(json["status"], 422);
        assert_eq!(json["detail"], "Two fields are wrong.");
        let error = &json["errors"][0];
        assert_eq!(error["field"], "heel.rows");
        assert_eq!(error["code"], "flap-rows-odd");
        assert_eq!(error["arguments"], serde_json::json!({"rows": 31}));
        assert_eq!(error["message"], "The flap’s rows (31) are an odd number.");
    }

    #[test]
    fn no_empty_list_of_errors() {
        let json = serde_json::to_value(Problem::from(StatusCode::NOT_FOUND)).unwrap_or_default();
        assert!(json.get("errors").is_none());
    }
}
