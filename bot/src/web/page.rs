//! The pages: the porch itself, and what stands before it.

use axum::Extension;
use axum::extract::{Path, State};
use axum::http::header::{LOCATION, SET_COOKIE};
use axum::http::{Method, StatusCode};
use axum::response::{Html, IntoResponse, Response};
use serde_json::Value;

use super::WebState;
use super::door::{COOKIE_NAME, SESSION_MS, Session, fresh_key, link_hash, session_hash};
use super::refusal::{refuse, unwell, word};
use crate::store::StoreError;

const PORCH: &str = include_str!("assets/porch.html");
const STEP: &str = include_str!("assets/step.html");

/// The front page: the porch for those who are in, the way in for those who are not.
pub(super) async fn porch(State(state): State<WebState>, session: Option<Extension<Session>>) -> Response {
    let words = state.house.words();
    if let Some(Extension(session)) = session {
        if state.house.me(session.place, session.carer).await.is_some() {
            return Html(fill(PORCH, &words)).into_response();
        }
        if let Some(sentence) = state.house.ended(session.place, session.carer).await {
            return Html(ended(&words, &sentence)).into_response();
        }
    }
    Html(step(&words, "porch-outside-heading", "porch-outside-text")).into_response()
}

/// Trades a link's token for a session.
pub(super) async fn enter(
    State(state): State<WebState>,
    method: Method,
    Path(token): Path<String>,
) -> Response {
    // A look at the head alone must not use the link up.
    if method != Method::GET {
        return refuse(&state, StatusCode::METHOD_NOT_ALLOWED, "porch-refused-method");
    }
    match new_session(&state, &token).await {
        Ok(Entry::Ended(sentence)) => {
            let page = ended(&state.house.words(), &sentence);
            (StatusCode::FORBIDDEN, Html(page)).into_response()
        }
        Ok(Entry::In(key)) => {
            let seconds = SESSION_MS / 1000;
            let cookie = format!("{COOKIE_NAME}={key}; HttpOnly; SameSite=Lax; Path=/; Max-Age={seconds}");
            (
                StatusCode::SEE_OTHER,
                [(LOCATION, "/".to_owned()), (SET_COOKIE, cookie)],
            )
                .into_response()
        }
        Ok(Entry::No) => {
            let page = step(&state.house.words(), "porch-link-heading", "porch-link-text");
            (StatusCode::FORBIDDEN, Html(page)).into_response()
        }
        Err(error) => unwell(&state, &error),
    }
}

/// What a link opens.
enum Entry {
    /// The porch, by a new session's key.
    In(String),
    /// Nothing any more: the span of its sitter is over.
    Ended(String),
    /// Nothing.
    No,
}

/// Uses a link up and stores a new session's key.
async fn new_session(state: &WebState, token: &str) -> Result<Entry, StoreError> {
    // Keys of every use lie in one table, told apart by what stands before them: a link's token is letters and digits
    // alone, so that no key of a session can pass for one.
    if !token.bytes().all(|byte| byte.is_ascii_alphanumeric()) {
        return Ok(Entry::No);
    }
    // The key is drawn first: should that fail, the link is still good.
    let key = fresh_key().map_err(|error| StoreError::Other {
        doing: "drawing a session key",
        source: error.to_string().into(),
    })?;
    let now_ms = state.house.now_ms();
    let Some((place, carer)) = state.store.key_use(&link_hash(token), now_ms).await? else {
        return Ok(Entry::No);
    };
    if let Some(sentence) = state.house.ended(place, carer).await {
        return Ok(Entry::Ended(sentence));
    }
    state
        .store
        .key_put(place, carer, &session_hash(&key), false, now_ms + SESSION_MS)
        .await?;
    Ok(Entry::In(key))
}

/// The page for a sitter whose span is over.
fn ended(words: &Value, sentence: &str) -> String {
    let mut words = words.clone();
    words["sentence"] = Value::from(sentence);
    step(&words, "porch-ended-heading", "sentence")
}

/// A page of one heading, one sentence and the line to type in the shell.
fn step(words: &Value, heading: &str, text: &str) -> String {
    let page = STEP.replace("{{heading}}", &format!("{{{{{heading}}}}}"));
    fill(&page.replace("{{text}}", &format!("{{{{{text}}}}}")), words)
}

/// Puts the texts in place of their ids in double braces; each is escaped, so that none is read as markup.
fn fill(page: &str, words: &Value) -> String {
    let mut filled = String::with_capacity(page.len());
    let mut rest = page;
    while let Some((before, after)) = rest.split_once("{{") {
        filled.push_str(before);
        let Some((id, after)) = after.split_once("}}") else {
            break;
        };
        escape(&word(words, id), &mut filled);
        rest = after;
    }
    filled.push_str(rest);
    filled
}

/// Writes a text so that it is only ever text, in an element as in a quoted attribute.
fn escape(text: &str, into: &mut String) {
    for letter in text.chars() {
        match letter {
            '&' => into.push_str("&amp;"),
            '<' => into.push_str("&lt;"),
            '>' => into.push_str("&gt;"),
            '"' => into.push_str("&quot;"),
            '\'' => into.push_str("&#39;"),
            _ => into.push(letter),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::fill;
    use serde_json::json;

    #[test]
    fn texts_are_filled_in_as_text() {
        let words = json!({"a": "<b>\"shell\" & 'sand'</b>"});
        assert_eq!(
            fill("<p title=\"{{a}}\">{{none}}</p>", &words),
            "<p title=\"&lt;b&gt;&quot;shell&quot; &amp; &#39;sand&#39;&lt;/b&gt;\">none</p>"
        );
    }
}
