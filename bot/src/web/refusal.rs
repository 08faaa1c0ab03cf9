//! How the web says no: a status, and a sentence from the text files.

use axum::Json;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use serde_json::{Value, json};

use super::WebState;

/// A text of the page by its id; the id itself where the text is missing, so that the gap is seen.
pub(super) fn word(words: &Value, id: &str) -> String {
    words.get(id).and_then(Value::as_str).unwrap_or(id).to_owned()
}

/// A refusal that a person can read.
pub(super) fn refuse(state: &WebState, status: StatusCode, id: &str) -> Response {
    refuse_with(status, &word(&state.house.words(), id))
}

/// A refusal in a sentence that is told already.
pub(super) fn refuse_with(status: StatusCode, sentence: &str) -> Response {
    (status, Json(json!({"error": sentence}))).into_response()
}

/// The store failed; the caller may try the same again.
pub(super) fn unwell(state: &WebState, error: &crate::store::StoreError) -> Response {
    tracing::warn!(%error, "the porch could not reach the store");
    refuse(state, StatusCode::SERVICE_UNAVAILABLE, "porch-refused-store")
}
