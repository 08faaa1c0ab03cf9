//! Posts on their way out: claimed under a lease, sent by others, settled.

use sqlx::{Row as _, query};

use super::change::list;
use super::error::Doing;
use super::{Conn, Row, sql};
use crate::store::{PlaceId, PostRow, PostState, Result, Settled};

pub(super) async fn known_keys(conn: &mut Conn, place: PlaceId, keys: &[String]) -> Result<Vec<String>> {
    let doing = "looking keys up";
    let rows = query(sql::KEYS_KNOWN)
        .bind(place)
        .bind(list(keys))
        .fetch_all(conn)
        .await
        .doing(doing)?;
    rows.iter()
        .map(|row| row.try_get(0))
        .collect::<sqlx::Result<_>>()
        .doing(doing)
}

pub(super) async fn posts(conn: &mut Conn, place: PlaceId, since_ms: i64) -> Result<Vec<PostRow>> {
    let rows = query(sql::POSTS_SINCE)
        .bind(place)
        .bind(since_ms)
        .fetch_all(conn)
        .await;
    rows.and_then(|rows| rows.iter().map(post_of).collect())
        .doing("reading posts")
}

pub(super) async fn post(conn: &mut Conn, place: PlaceId, id: i64) -> Result<Option<PostRow>> {
    let row = query(sql::POST).bind(place).bind(id).fetch_optional(conn).await;
    row.and_then(|row| row.as_ref().map(post_of).transpose())
        .doing("reading a post")
}

/// The caller holds a write transaction. Nobody else claims between the two statements: SQLite has one writer, and
/// elsewhere the rows that were found are locked, and those that others have locked are passed over.
pub(super) async fn claim(
    conn: &mut Conn,
    now_ms: i64,
    lease_until_ms: i64,
    lease: &str,
    limit: i64,
) -> Result<Vec<PostRow>> {
    let doing = "claiming posts";
    let due = query(sql::POSTS_DUE)
        .bind(now_ms)
        .bind(limit.max(0))
        .fetch_all(&mut *conn)
        .await;
    let mut due: Vec<PostRow> = due
        .and_then(|rows| rows.iter().map(post_of).collect())
        .doing(doing)?;
    if due.is_empty() {
        return Ok(due);
    }
    // A row that changed while it was being locked is given as it is now, where it stood before.
    due.sort_by_key(|post| (post.next_at_ms, post.id));
    let ids: Vec<i64> = due.iter().map(|post| post.id).collect();
    query(sql::POSTS_LEASE)
        .bind(lease_until_ms)
        .bind(lease)
        .bind(list(&ids))
        .execute(conn)
        .await
        .doing(doing)?;
    for post in &mut due {
        post.next_at_ms = lease_until_ms;
        post.attempts += 1;
    }
    Ok(due)
}

/// Returns whether the lease was still held.
pub(super) async fn settle(
    conn: &mut Conn,
    place: PlaceId,
    post: i64,
    lease: &str,
    settled: &Settled,
) -> Result<bool> {
    let text = match settled {
        Settled::Sent { .. } => sql::SETTLE_SENT,
        Settled::Retry { .. } => sql::SETTLE_RETRY,
        Settled::Expired | Settled::Dead { .. } => sql::SETTLE_END,
    };
    let update = query(text).bind(place).bind(post).bind(lease);
    let update = match settled {
        Settled::Sent {
            message,
            version,
            at_ms,
            shown,
            known: _,
        } => update.bind(version).bind(message).bind(at_ms).bind(shown),
        Settled::Retry { next_at_ms, error } => update.bind(next_at_ms).bind(error),
        Settled::Expired => update.bind("expired").bind(None::<&str>),
        Settled::Dead { error } => update.bind("dead").bind(error),
    };
    let done = update.execute(conn).await.doing("settling a post")?;
    Ok(done.rows_affected() == 1)
}

fn post_of(row: &Row) -> sqlx::Result<PostRow> {
    let keys: String = row.try_get(2)?;
    let state: String = row.try_get(10)?;
    Ok(PostRow {
        id: row.try_get(0)?,
        place: row.try_get(1)?,
        keys: serde_json::from_str(&keys).map_err(|error| sqlx::Error::Decode(error.into()))?,
        destination: row.try_get(3)?,
        body: row.try_get(4)?,
        at_ms: row.try_get(5)?,
        not_after_ms: row.try_get(6)?,
        wanted: row.try_get(7)?,
        sent: row.try_get(8)?,
        message: row.try_get(9)?,
        state: state_of(&state)?,
        attempts: row.try_get(11)?,
        next_at_ms: row.try_get(12)?,
        error: row.try_get(13)?,
        shown: row.try_get(14)?,
    })
}

fn state_of(word: &str) -> sqlx::Result<PostState> {
    match word {
        "pending" => Ok(PostState::Pending),
        "sent" => Ok(PostState::Sent),
        "expired" => Ok(PostState::Expired),
        "dead" => Ok(PostState::Dead),
        _ => Err(sqlx::Error::Decode(
            format!("no such state of a post: {word}").into(),
        )),
    }
}
