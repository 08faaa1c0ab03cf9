//! The transcript as the page reads it: what is new since a revision, at once or as it comes.

use std::collections::VecDeque;
use std::convert::Infallible;
use std::time::Duration;

use axum::extract::{Query, State};
use axum::http::HeaderMap;
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::response::{IntoResponse, Response};
use axum::{Extension, Json};
use futures_util::stream;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use tokio::sync::broadcast::Receiver;
use tokio::sync::broadcast::error::RecvError;

use super::door::Session;
use super::refusal::unwell;
use super::{Leaving, WebState};
use crate::store::{PlaceId, PorchRow};

/// How many lines are read at a time; older ones are left to the journal.
const LINES: i64 = 300;

/// How often an idle stream shows that it is still there.
const ALIVE: Duration = Duration::from_secs(15);

/// From where to read on.
#[derive(Deserialize)]
pub(super) struct From {
    #[serde(default)]
    after: i64,
}

/// One line as the page gets it.
#[derive(Debug, Serialize)]
pub(super) struct Line {
    id: i64,
    revision: i64,
    at_ms: i64,
    only_me: bool,
    body: Value,
}

/// Those of the rows that a carer may see.
pub(super) fn mine(rows: Vec<PorchRow>, carer: u32) -> Vec<Line> {
    let visible = rows
        .into_iter()
        .filter(|row| row.only_for.is_none_or(|only| only == carer));
    visible.filter_map(line).collect()
}

/// A row as a line; one that cannot be read is left out rather than costing the reader all the others.
fn line(row: PorchRow) -> Option<Line> {
    let body = serde_json::from_str(&row.body)
        .inspect_err(|error| tracing::warn!(id = row.id, %error, "a porch line cannot be read"))
        .ok()?;
    Some(Line {
        id: row.id,
        revision: row.revision,
        at_ms: row.at_ms,
        only_me: row.only_for.is_some(),
        body,
    })
}

/// What is new after a revision, and up to which revision that is.
pub(super) async fn log(
    State(state): State<WebState>,
    Extension(session): Extension<Session>,
    Query(from): Query<From>,
) -> Response {
    match state.store.porch_after(session.place, from.after, LINES).await {
        Ok(rows) => {
            let revision = rows.last().map_or(from.after, |row| row.revision);
            Json(json!({"revision": revision, "lines": mine(rows, session.carer)})).into_response()
        }
        Err(error) => unwell(&state, &error),
    }
}

/// The same as it comes, one event a line.
pub(super) async fn events(
    State(state): State<WebState>,
    Extension(session): Extension<Session>,
    leaving: Option<Extension<Leaving>>,
    Query(from): Query<From>,
    headers: HeaderMap,
) -> Response {
    // A browser that reconnects by itself repeats the old address, but says which event it saw last.
    let seen = headers
        .get("last-event-id")
        .and_then(|id| id.to_str().ok()?.parse().ok());
    let reader = Reader {
        // Subscribed before the first look, so that nothing falls between the two.
        news: state.news.subscribe(),
        leaving: leaving.map(|Extension(leaving)| leaving),
        after: seen.unwrap_or(from.after),
        ready: VecDeque::new(),
        looked: false,
        state,
        session,
    };
    Sse::new(stream::unfold(reader, next))
        .keep_alive(KeepAlive::new().interval(ALIVE))
        .into_response()
}

/// One open stream.
struct Reader {
    state: WebState,
    session: Session,
    news: Receiver<PlaceId>,
    leaving: Option<Leaving>,
    after: i64,
    ready: VecDeque<Line>,
    looked: bool,
}

/// The next event; `None` ends the stream, and the page comes back by itself if it may.
async fn next(mut reader: Reader) -> Option<(Result<Event, Infallible>, Reader)> {
    loop {
        if let Some(line) = reader.ready.pop_front() {
            let text = serde_json::to_string(&line).ok()?;
            return Some((
                Ok(Event::default().id(line.revision.to_string()).data(text)),
                reader,
            ));
        }
        if reader.looked && !reader.stirs().await {
            return None;
        }
        reader.looked = true;
        reader.look().await?;
    }
}

impl Reader {
    /// Waits until the place may have something new; false when the stream is to end.
    async fn stirs(&mut self) -> bool {
        loop {
            let heard = tokio::select! {
                () = leave(self.leaving.as_mut()) => return false,
                heard = self.news.recv() => heard,
            };
            match heard {
                Ok(place) if place == self.session.place => return true,
                Ok(_) => {}
                // Too slow to have heard it all: the transcript itself tells what was missed.
                Err(RecvError::Lagged(_)) => return true,
                Err(RecvError::Closed) => return false,
            }
        }
    }

    /// Reads what is new, if the session still holds.
    async fn look(&mut self) -> Option<()> {
        let (store, place) = (&self.state.store, self.session.place);
        if self.state.house.ended(place, self.session.carer).await.is_some() {
            return None;
        }
        let held = store.key_use(&self.session.key, self.state.house.now_ms()).await;
        let rows = match held {
            Ok(Some(_)) => store.porch_after(place, self.after, LINES).await,
            Ok(None) => return None,
            Err(error) => Err(error),
        };
        let rows = rows
            .inspect_err(|error| tracing::warn!(%error, "a porch stream ends"))
            .ok()?;
        self.after = rows.last().map_or(self.after, |row| row.revision);
        self.ready = mine(rows, self.session.carer).into();
        Some(())
    }
}

/// Ends when the server is about to leave; never where nobody would tell.
async fn leave(leaving: Option<&mut Leaving>) {
    match leaving {
        Some(Leaving(told)) => {
            let _ = told.wait_for(|leave| *leave).await;
        }
        None => std::future::pending().await,
    }
}
