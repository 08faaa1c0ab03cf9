//! The door of the porch: which requests come in, and what every response carries.

use axum::extract::{Request, State};
use axum::http::header::{
    CACHE_CONTROL, CONTENT_SECURITY_POLICY, COOKIE, HOST, HeaderName, ORIGIN, REFERRER_POLICY,
    X_CONTENT_TYPE_OPTIONS,
};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode};
use axum::middleware::Next;
use axum::response::Response;
use sha2::{Digest, Sha256};

use super::WebState;
use super::asides::ASSETS;
use super::refusal::{refuse, refuse_with, unwell};
use crate::house::CALENDAR_PATH;
use crate::store::PlaceId;

/// How long a session lasts.
pub(super) const SESSION_MS: i64 = 30 * 24 * 60 * 60 * 1000;

/// The cookie that carries a session's key.
pub(super) const COOKIE_NAME: &str = "wrackline";

/// Only what this server itself hands out may run, be shown or be asked for, and no page may frame it.
const POLICY: &str = "default-src 'self'; base-uri 'none'; object-src 'none'; form-action 'self'; \
                      frame-ancestors 'none'";

/// Whom a request speaks for.
#[derive(Clone, Debug)]
pub(super) struct Session {
    /// Their place: nothing of another place may be reached.
    pub(super) place: PlaceId,
    /// Who they are.
    pub(super) carer: u32,
    /// The hash of their key, to ask again whether it still holds.
    pub(super) key: String,
}

/// Lets a request in or turns it away, and dresses the response either way.
pub(super) async fn guard(State(state): State<WebState>, mut request: Request, next: Next) -> Response {
    let mut response = match admit(&state, &mut request).await {
        Ok(()) => next.run(request).await,
        Err(refused) => refused,
    };
    dress(response.headers_mut());
    response
}

/// Checks name, origin and session, in this order: a stranger learns nothing of sessions.
async fn admit(state: &WebState, request: &mut Request) -> Result<(), Response> {
    let Some(host) = known_host(state, request) else {
        return Err(refuse(
            state,
            StatusCode::MISDIRECTED_REQUEST,
            "porch-refused-host",
        ));
    };
    if !matches!(*request.method(), Method::GET | Method::HEAD) && !from_own_page(request.headers(), &host) {
        return Err(refuse(state, StatusCode::FORBIDDEN, "porch-refused-origin"));
    }
    let path = request.uri().path();
    let asset = ASSETS.iter().any(|asset| asset.path == path);
    // Whoever follows a link or an address has no session: what is in it lets them in, or nothing does.
    let has_key = ["/enter/", CALENDAR_PATH]
        .iter()
        .any(|start| path.starts_with(start));
    if asset || has_key || matches!(path, "/healthz" | "/readyz") {
        return Ok(());
    }
    let session = session(state, request.headers())
        .await
        .map_err(|error| unwell(state, &error))?;
    match session {
        Some(session) => {
            // A session outlives the span of its sitter; the front page tells it in its own way.
            let ended = state.house.ended(session.place, session.carer).await;
            if let Some(sentence) = ended.filter(|_| path != "/") {
                return Err(refuse_with(StatusCode::UNAUTHORIZED, &sentence));
            }
            request.extensions_mut().insert(session);
            Ok(())
        }
        // The front page shows a stranger how to get in.
        None if path == "/" => Ok(()),
        None => Err(refuse(state, StatusCode::UNAUTHORIZED, "porch-refused-session")),
    }
}

/// The request's host where it is one of ours. A page elsewhere can point its own name at this machine; only the
/// name in the request gives that away.
fn known_host(state: &WebState, request: &Request) -> Option<String> {
    let host = only(request.headers(), &HOST)?;
    let named = request
        .uri()
        .authority()
        .is_none_or(|named| named.as_str().eq_ignore_ascii_case(host));
    let ours = state
        .allowed_hosts
        .iter()
        .any(|allowed| allowed.eq_ignore_ascii_case(host));
    (named && ours).then(|| host.to_owned())
}

/// Whether a request that changes something comes from a page of this very host.
fn from_own_page(headers: &HeaderMap, host: &str) -> bool {
    let Some(origin) = only(headers, &ORIGIN) else {
        return false;
    };
    // Both schemes: a proxy in front may speak TLS where this server does not.
    let named = origin
        .strip_prefix("http://")
        .or_else(|| origin.strip_prefix("https://"));
    named.is_some_and(|named| named.eq_ignore_ascii_case(host))
}

/// A header that is there exactly once.
fn only<'a>(headers: &'a HeaderMap, name: &HeaderName) -> Option<&'a str> {
    let mut values = headers.get_all(name).iter();
    let value = values.next()?;
    if values.next().is_some() {
        None
    } else {
        value.to_str().ok()
    }
}

/// Whom the request's cookie lets in.
async fn session(state: &WebState, headers: &HeaderMap) -> crate::store::Result<Option<Session>> {
    let Some(key) = cookie(headers) else {
        return Ok(None);
    };
    let key = session_hash(key);
    let found = state.store.key_use(&key, state.house.now_ms()).await?;
    Ok(found.map(|(place, carer)| Session { place, carer, key }))
}

/// The session's key as the browser sent it.
fn cookie(headers: &HeaderMap) -> Option<&str> {
    let pairs = headers
        .get_all(COOKIE)
        .iter()
        .filter_map(|value| value.to_str().ok());
    pairs
        .flat_map(|value| value.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .find_map(|(name, value)| (name == COOKIE_NAME).then_some(value))
}

/// A link's token as the store knows it.
pub(super) fn link_hash(token: &str) -> String {
    hex(&Sha256::digest(token))
}

/// A session's key as the store knows it; apart from links, so that neither passes for the other.
pub(super) fn session_hash(key: &str) -> String {
    hex(&Sha256::digest(format!("session:{key}")))
}

/// A fresh session key that nobody can guess.
pub(super) fn fresh_key() -> Result<String, getrandom::Error> {
    let mut bytes = [0; 32];
    getrandom::fill(&mut bytes)?;
    Ok(hex(&bytes))
}

/// Bytes as lower-case hexadecimal digits.
pub(super) fn hex(bytes: &[u8]) -> String {
    const DIGITS: [char; 16] = [
        '0', '1', '2', '3', '4', '5', '6', '7', '8', '9', 'a', 'b', 'c', 'd', 'e', 'f',
    ];
    bytes
        .iter()
        .flat_map(|byte| [DIGITS[usize::from(byte >> 4)], DIGITS[usize::from(byte & 15)]])
        .collect()
}

/// Sets what every response carries; what a route has said about caching stays.
fn dress(headers: &mut HeaderMap) {
    headers.insert(CONTENT_SECURITY_POLICY, HeaderValue::from_static(POLICY));
    headers.insert(X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    headers.insert(REFERRER_POLICY, HeaderValue::from_static("no-referrer"));
    let embedding = HeaderName::from_static("cross-origin-resource-policy");
    headers.insert(embedding, HeaderValue::from_static("same-origin"));
    headers
        .entry(CACHE_CONTROL)
        .or_insert(HeaderValue::from_static("no-store"));
}
