//! What the page asks for beside the transcript: completions, photos, who one is, texts and assets.

use std::sync::atomic::Ordering;

use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum::{Extension, Json};
use serde::Deserialize;

use super::WebState;
use super::door::Session;
use super::refusal::{refuse, unwell};

/// A file that the page is built of; it holds nothing that a stranger may not see.
pub(super) struct Asset {
    /// Where it is found.
    pub(super) path: &'static str,
    kind: &'static str,
    text: &'static str,
}

/// An asset by its file name.
macro_rules! asset {
    ($name:literal, $kind:literal) => {
        Asset {
            path: concat!("/", $name),
            kind: $kind,
            text: include_str!(concat!("assets/", $name)),
        }
    };
}

/// All assets.
pub(super) static ASSETS: [Asset; 9] = [
    asset!("porch.svg", "image/svg+xml"),
    asset!("porch.css", "text/css; charset=utf-8"),
    asset!("sheet.css", "text/css; charset=utf-8"),
    asset!("porch.js", "text/javascript; charset=utf-8"),
    asset!("porch-base.js", "text/javascript; charset=utf-8"),
    asset!("porch-draw.js", "text/javascript; charset=utf-8"),
    asset!("porch-line.js", "text/javascript; charset=utf-8"),
    asset!("porch-log.js", "text/javascript; charset=utf-8"),
    asset!("porch-send.js", "text/javascript; charset=utf-8"),
];

/// The line so far.
#[derive(Deserialize)]
pub(super) struct Begun {
    line: String,
}

/// How a line may go on.
pub(super) async fn complete(
    State(state): State<WebState>,
    Extension(session): Extension<Session>,
    Query(begun): Query<Begun>,
) -> Response {
    Json(
        state
            .house
            .complete(session.place, session.carer, &begun.line)
            .await,
    )
    .into_response()
}

/// A photo of the session's own place.
pub(super) async fn photo(
    State(state): State<WebState>,
    Extension(session): Extension<Session>,
    Path(seq): Path<i64>,
) -> Response {
    match state.house.may_see(session.place, session.carer, seq).await {
        Ok(true) => {}
        // That there is one is not told either.
        Ok(false) => return refuse(&state, StatusCode::NOT_FOUND, "porch-refused-photo-none"),
        Err(error) => return unwell(&state, &error),
    }
    match state.store.photo(session.place, seq).await {
        Ok(Some(photo)) => ([(CONTENT_TYPE, photo.media_type)], photo.bytes).into_response(),
        Ok(None) => refuse(&state, StatusCode::NOT_FOUND, "porch-refused-photo-none"),
        Err(error) => unwell(&state, &error),
    }
}

/// Who one is.
pub(super) async fn me(State(state): State<WebState>, Extension(session): Extension<Session>) -> Response {
    match state.house.me(session.place, session.carer).await {
        Some(me) => Json(me).into_response(),
        None => refuse(&state, StatusCode::UNAUTHORIZED, "porch-refused-session"),
    }
}

/// The page's texts.
pub(super) async fn words(State(state): State<WebState>) -> Response {
    Json(state.house.words()).into_response()
}

/// That the server stands; it says nothing more, for it says it to anyone.
pub(super) async fn health() -> &'static str {
    "ok"
}

/// Whether there is work to be done here: the store answers, and the platform is connected to where there is one.
pub(super) async fn ready(State(state): State<WebState>) -> Response {
    if let Err(error) = state.store.next_moment().await {
        tracing::warn!(%error, "not ready: the store does not answer");
        return (StatusCode::SERVICE_UNAVAILABLE, "the store does not answer").into_response();
    }
    let connected = state.connected.as_ref();
    if connected.is_some_and(|connected| !connected.load(Ordering::SeqCst)) {
        return (StatusCode::SERVICE_UNAVAILABLE, "the platform is not connected").into_response();
    }
    "ready".into_response()
}

/// An asset of the page; asked for anew each time, so that page and scripts are always of one version.
pub(super) async fn asset(asset: &'static Asset) -> Response {
    (
        [(CONTENT_TYPE, asset.kind), (CACHE_CONTROL, "no-cache")],
        asset.text,
    )
        .into_response()
}
