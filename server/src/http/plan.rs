//! `POST /api/plan`: a recipe in, a plan out. All knowledge is the engine's; this file only
//! turns bytes into text and refusals into problems.

use axum::body::{Body, to_bytes};
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use evenloop_engine::plan::PlanError;
use evenloop_engine::wire;
use http_body_util::LengthLimitError;
use serde::de::IgnoredAny;

use crate::http::headers::NO_STORE;
use crate::http::limits::{MAX_BODY_BYTES, Overloaded, WorkLimit};
use crate::http::problem::Problem;

const JSON: &str = "application/json";

/// The handler.
///
/// # Errors
/// When the work limit is reached.
pub async fn plan(
    State(work_limit): State<WorkLimit>,
    request: Request,
) -> Result<Response, Overloaded> {
    // Before the body is read: bodies take memory.
    let _permit = work_limit.try_acquire()?;
    Ok(match answer(request).await {
        Ok(document) => (
            [
                (header::CONTENT_TYPE, HeaderValue::from_static(JSON)),
                (header::CACHE_CONTROL, NO_STORE),
            ],
            document,
        )
            .into_response(),
        Err(problem) => problem.into_response(),
    })
}

async fn answer(request: Request) -> Result<String, Problem> {
    let (parts, body) = request.into_parts();
    if !is_json(&parts.headers) {
        return Err(Problem::new(
            StatusCode::UNSUPPORTED_MEDIA_TYPE,
            "A recipe is sent as application/json.",
        ));
    }
    let recipe = recipe_text(body).await?;
    // A whole sock is simulated: milliseconds, but not on a thread that others wait for.
    let planned = tokio::task::spawn_blocking(move || wire::plan_document(&recipe)).await;
    match planned {
        Ok(Ok(document)) => Ok(document),
        Ok(Err(error)) => Err(refused(&error)),
        Err(_) => Err(Problem::from(StatusCode::INTERNAL_SERVER_ERROR)),
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
async fn recipe_text(body: Body) -> Result<String, Problem> {
    let bytes = to_bytes(body, MAX_BODY_BYTES).await.map_err(|error| {
        if is_too_long(&error) {
            Problem::from(StatusCode::PAYLOAD_TOO_LARGE)
        } else {
            Problem::new(StatusCode::BAD_REQUEST, "The request's body broke off.")
        }
    })?;
    let text = String::from_utf8(bytes.into()).map_err(|error| {
        let place = error.utf8_error().valid_up_to();
        Problem::new(
            StatusCode::BAD_REQUEST,
            format!("The recipe is not UTF-8 text: byte {place} begins no character."),
        )
    })?;
    serde_json::from_str::<IgnoredAny>(&text).map_err(|error| {
        Problem::new(
            StatusCode::BAD_REQUEST,
            format!("The recipe is not JSON: {error}."),
        )
    })?;
    Ok(text)
}

/// The limit's error sits somewhere below the wrappers that the body has passed through.
fn is_too_long(error: &axum::Error) -> bool {
    let mut cause: Option<&dyn std::error::Error> = Some(error);
    while let Some(error) = cause {
        if error.is::<LengthLimitError>() {
            return true;
        }
        cause = error.source();
    }
    false
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
            "reason": "there are not enough stitches left for this",
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
