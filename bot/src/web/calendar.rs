//! A carer's turns as a calendar, for whoever has its address.

use axum::extract::{Path, State};
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE, ETAG, IF_NONE_MATCH};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use sha2::{Digest, Sha256};

use super::WebState;
use super::door::hex;
use super::refusal::{refuse, unwell};

/// The ending of the last part of an address.
const ENDING: &str = ".ics";

/// The calendar of an address; nothing of it again where the reader has the same already.
pub(super) async fn calendar(
    State(state): State<WebState>,
    Path(file): Path<String>,
    headers: HeaderMap,
) -> Response {
    let nowhere = || refuse(&state, StatusCode::NOT_FOUND, "porch-refused-calendar");
    let Some(token) = file.strip_suffix(ENDING) else {
        return nowhere();
    };
    let text = match state.house.calendar(token).await {
        Ok(Some(text)) => text,
        Ok(None) => return nowhere(),
        Err(error) => return unwell(&state, &error),
    };
    let tag = format!("\"{}\"", hex(&Sha256::digest(&text)[..16]));
    let about = [
        (ETAG, tag.clone()),
        (CACHE_CONTROL, "private, no-cache".to_owned()),
    ];
    if holds(&headers, &tag) {
        return (StatusCode::NOT_MODIFIED, about).into_response();
    }
    let kind = [(CONTENT_TYPE, "text/calendar; charset=utf-8")];
    (about, kind, text).into_response()
}

/// Whether the reader says that they have what this tag stands for (RFC 9110, section 13.1.2): tags compare weakly
/// there, and `*` stands for any.
fn holds(headers: &HeaderMap, tag: &str) -> bool {
    let values = headers.get_all(IF_NONE_MATCH).iter();
    values.filter_map(|value| value.to_str().ok()).any(|list| {
        let mut tags = list.split(',').map(str::trim);
        tags.any(|one| one == "*" || one.strip_prefix("W/").unwrap_or(one) == tag)
    })
}
