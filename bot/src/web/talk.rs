//! What people send in: lines, presses and photos.

use axum::extract::multipart::MultipartError;
use axum::extract::rejection::JsonRejection;
use axum::extract::{Multipart, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::{Extension, Json};
use serde::Deserialize;
use serde_json::json;

use super::WebState;
use super::door::Session;
use super::log::mine;
use super::refusal::{refuse, unwell};
use crate::chat::porch::{PorchChat, Spoken};
use crate::house::{Input, Said};
use crate::photo::{PHOTO_BYTES_MAX, PhotoProblem, cleaned};
use crate::store::PhotoRow;

/// What a request with a photo may weigh: the photo, its line and the wrapping.
pub(super) const PHOTO_BODY_LIMIT: usize = PHOTO_BYTES_MAX + 64 * 1024;

/// A typed line.
#[derive(Deserialize)]
pub(super) struct SayBody {
    id: String,
    line: String,
}

/// A pressed answer.
#[derive(Deserialize)]
pub(super) struct PressBody {
    id: String,
    code: String,
    #[serde(default)]
    text: Option<String>,
}

/// Hears a typed line.
pub(super) async fn say(
    State(state): State<WebState>,
    Extension(session): Extension<Session>,
    body: Result<Json<SayBody>, JsonRejection>,
) -> Response {
    match body {
        Ok(Json(SayBody { id, line })) => hear(&state, &session, &id, Input::Line(line), None).await,
        Err(rejection) => unreadable(&state, rejection.status()),
    }
}

/// Hears a press.
pub(super) async fn press(
    State(state): State<WebState>,
    Extension(session): Extension<Session>,
    body: Result<Json<PressBody>, JsonRejection>,
) -> Response {
    match body {
        Ok(Json(PressBody { id, code, text })) => {
            hear(&state, &session, &id, Input::Press { code, text }, None).await
        }
        Err(rejection) => unreadable(&state, rejection.status()),
    }
}

/// Hears a line that comes with a photo.
pub(super) async fn photo(
    State(state): State<WebState>,
    Extension(session): Extension<Session>,
    form: Multipart,
) -> Response {
    let (id, line, bytes) = match unwrap(form).await {
        Ok(Some(parts)) => parts,
        Ok(None) => return unreadable(&state, StatusCode::BAD_REQUEST),
        Err(error) => return unreadable(&state, error.status()),
    };
    let photo = match cleaned(bytes) {
        Ok(photo) => photo,
        Err(PhotoProblem::TooLarge) => return unreadable(&state, StatusCode::PAYLOAD_TOO_LARGE),
        Err(problem @ PhotoProblem::UnknownKind) => {
            return refuse(&state, StatusCode::UNSUPPORTED_MEDIA_TYPE, problem.told());
        }
        Err(problem @ PhotoProblem::Damaged) => {
            return refuse(&state, StatusCode::UNPROCESSABLE_ENTITY, problem.told());
        }
    };
    hear(&state, &session, &id, Input::Line(line), Some(photo)).await
}

/// The id, the line and the photo of a form; `None` when one of them is missing.
async fn unwrap(mut form: Multipart) -> Result<Option<(String, String, Vec<u8>)>, MultipartError> {
    let (mut id, mut line, mut file) = (None, None, None);
    while let Some(field) = form.next_field().await? {
        match field.name() {
            Some("id") => id = Some(field.text().await?),
            Some("line") => line = Some(field.text().await?),
            Some("file") => file = Some(field.bytes().await?.to_vec()),
            _ => {}
        }
    }
    Ok(id.zip(line).zip(file).map(|((id, line), file)| (id, line, file)))
}

/// Has the house hear it, puts it into the transcript and hands back the lines that came of it.
async fn hear(
    state: &WebState,
    session: &Session,
    id: &str,
    input: Input,
    photo: Option<PhotoRow>,
) -> Response {
    if !is_fair_id(id) {
        return unreadable(state, StatusCode::BAD_REQUEST);
    }
    let Some(me) = state.house.me(session.place, session.carer).await else {
        return refuse(state, StatusCode::UNAUTHORIZED, "porch-refused-session");
    };
    // The page chooses the id; with the carer in it, nobody can call up the answer that another person got.
    let id = format!("porch:{}:{id}", session.carer);
    let line = match &input {
        Input::Line(line) => Some(line.clone()),
        Input::Press { .. } => None,
    };
    let said = Said {
        place: session.place,
        carer: session.carer,
        id: id.clone(),
        input,
        photo,
    };
    let answer = state.house.hear(said).await;
    let spoken = Spoken {
        place: session.place,
        carer: session.carer,
        who: &me.name,
        id: &id,
        line: line.as_deref(),
        answer: &answer,
        at_ms: state.house.now_ms(),
    };
    let porch = PorchChat {
        store: state.store.clone(),
        news: state.news.clone(),
    };
    match porch.record(spoken).await {
        Ok(rows) => Json(json!({"ok": answer.ok, "lines": mine(rows, session.carer)})).into_response(),
        Err(error) => unwell(state, &error),
    }
}

/// Whether an id has the form that the page gives it.
fn is_fair_id(id: &str) -> bool {
    (8..=64).contains(&id.len())
        && id
            .bytes()
            .all(|byte| byte.is_ascii_alphanumeric() || byte == b'-')
}

/// A request that could not be read, with the sentence that fits.
fn unreadable(state: &WebState, status: StatusCode) -> Response {
    let id = match status {
        StatusCode::PAYLOAD_TOO_LARGE => "porch-refused-size",
        _ => "porch-refused-form",
    };
    refuse(state, status, id)
}
