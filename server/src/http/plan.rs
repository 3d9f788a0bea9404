//! `POST /api/plan`: a recipe in, a plan out. All knowledge is the engine's; this file only
//! turns bytes into text and refusals into problems.

use axum::body::Body;
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use evenloop_engine::plan::PlanError;
use evenloop_engine::wire;
use serde::de::IgnoredAny;

use crate::http::content_negotiation::negotiate;
use crate::http::headers::NO_STORE;
use crate::http::limits::{self, MAX_BODY_BYTES, WorkLimit};
use crate::http::problem::Problem;
use crate::http::rendered::Rendered;
use crate::http::request_bodies::{BodyError, RequestBodies};

const JSON: &str = "application/json";

/// The handler.
pub async fn plan(
    State(work_limit): State<WorkLimit>,
    State(bodies): State<RequestBodies>,
    request: Request,
) -> Response {
    let (parts, body) = request.into_parts();
    if !is_json(&parts.headers) {
        let kind = StatusCode::UNSUPPORTED_MEDIA_TYPE;
        return Problem::new(kind, "A recipe is sent as application/json.").into_response();
    }
    let recipe = match recipe_text(&bodies, body).await {
        Ok(recipe) => recipe,
        Err(refusal) => return refusal,
    };
    let encoding = negotiate(&parts.headers, |_| true);
    // A whole sock is simulated: milliseconds, but not on a thread that others wait for.
    let planned = work_limit.run(move || {
        wire::plan_document(&recipe).map(|document| Rendered::new(document, encoding))
    });
    match planned.await {
        Ok(Ok(plan)) => plan.into_response(HeaderValue::from_static(JSON), NO_STORE),
        Ok(Err(error)) => refused(&error).into_response(),
        Err(error) => error.into_response(),
    }
}

/// No plan: fields that the sender can mend, or a mistake that only Evenloop can, which is logged.
fn refused(error: &PlanError) -> Problem {
    match error {
        PlanError::Impossible(fields) => {
            let detail = match fields.len() {
                1 => "One field of the recipe needs another value.".to_owned(),
                count => format!("{count} fields of the recipe need other values."),
            };
            Problem::new(StatusCode::UNPROCESSABLE_ENTITY, detail).with_errors(fields)
        }
        PlanError::Bug(bug) => {
            tracing::error!(%bug, "planned what cannot be knitted");
            Problem::planned_wrongly(bug)
        }
    }
}

/// Reads the body and makes sure that it is JSON at all, so that what the engine refuses is
/// always a matter of fields.
async fn recipe_text(bodies: &RequestBodies, body: Body) -> Result<String, Response> {
    let bytes = bodies.read(body, MAX_BODY_BYTES).await;
    let bytes = bytes.map_err(|error| match error {
        BodyError::TooLong => Problem::from(StatusCode::PAYLOAD_TOO_LARGE).into_response(),
        BodyError::BrokenOff => bad_request("The request's body broke off."),
        BodyError::Shed => limits::overloaded(),
    })?;
    let text = String::from_utf8(bytes.into()).map_err(|error| {
        let place = error.utf8_error().valid_up_to();
        bad_request(format!(
            "The recipe is not UTF-8 text: byte {place} begins no character."
        ))
    })?;
    serde_json::from_str::<IgnoredAny>(&text)
        .map_err(|error| bad_request(format!("The recipe is not JSON: {error}.")))?;
    Ok(text)
}

fn bad_request(detail: impl Into<String>) -> Response {
    Problem::new(StatusCode::BAD_REQUEST, detail).into_response()
}

fn is_json(headers: &HeaderMap) -> bool {
    headers
        .get(header::CONTENT_TYPE)
        .and_then(|value| value.to_str().ok())
        .and_then(|value| value.split(';').next())
        .is_some_and(|kind| kind.trim().eq_ignore_ascii_case(JSON))
}

#[cfg(test)]
mod tests {
    use evenloop_engine::error::{FieldError, Problem as Wrong};
    use evenloop_engine::knit::Refusal;
    use evenloop_engine::plan::{PlanBug, SectionKind};

    use super::*;

    #[test]
    fn what_the_sender_can_mend_is_no_failure_of_the_server() {
        let error = FieldError::new("heel.rows", Wrong::FlapRowsOdd { rows: 31 });
        let problem = serde_json::to_value(refused(&error.into())).unwrap_or_default();
        assert_eq!(problem["status"], 422);
        assert_eq!(problem["errors"][0]["field"], "heel.rows");
        assert!(problem.get("code").is_none());
    }

    #[test]
    fn a_mistake_in_planning_is_the_servers_own_and_says_where() {
        let bug = PlanBug {
            section: SectionKind::HeelFlap,
            step: 6,
            refusal: Refusal::OutOfStitches,
        };
        let problem = serde_json::to_value(refused(&bug.into())).unwrap_or_default();
        assert_eq!(problem["status"], 500);
        assert_eq!(problem["title"], "Internal Server Error");
        assert_eq!(problem["code"], "planned-wrongly");
        let arguments = serde_json::json!({
            "section": "heel-flap",
            "step": 7,
            "reason": "out-of-stitches",
        });
        assert_eq!(problem["arguments"], arguments);
        assert!(problem.get("errors").is_none());
        let response = refused(&bug.into()).into_response();
        assert_eq!(response.status(), StatusCode::INTERNAL_SERVER_ERROR);
    }

    #[test]
    fn json_with_parameters_is_json() {
        for (kind, expected) in [
            ("application/json", true),
            ("Application/JSON; charset=utf-8", true),
            ("text/plain", false),
            ("application/jsonp", false),
        ] {
            let mut headers = HeaderMap::new();
            headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(kind));
            assert_eq!(is_json(&headers), expected, "{kind}");
        }
        assert!(!is_json(&HeaderMap::new()));
    }
}
