//! Writing a change: all of it or nothing.

use serde_json::{Value, json};
use sqlx::{Row as _, query};

use super::error::{Doing, other};
use super::{Conn, Row, platform, sql};
use crate::store::{Change, NewPost, PlaceId, Result, StandingRow, StoreError};

/// Makes a place and writes its first change.
pub(super) async fn create(conn: &mut Conn, practice: bool, change: &Change) -> Result<PlaceId> {
    let doing = "making a place";
    let place: PlaceId = query(sql::PLACE_ADD)
        .bind(practice)
        .bind(change.next_at_ms.flatten())
        .bind(change.seen_at_ms.unwrap_or(0))
        .fetch_one(&mut *conn)
        .await
        .and_then(|row: Row| row.try_get(0))
        .doing(doing)?;
    write(conn, place, 0, change).await?;
    Ok(place)
}

/// Raises the place's version if it is the expected one, and writes the change. Returns the new version.
pub(super) async fn commit(conn: &mut Conn, place: PlaceId, expected: i64, change: &Change) -> Result<i64> {
    let raised = query(sql::PLACE_RAISE)
        .bind(place)
        .bind(expected)
        .bind(change.next_at_ms.is_some())
        .bind(change.next_at_ms.flatten())
        .bind(change.seen_at_ms)
        .fetch_optional(&mut *conn)
        .await
        .doing("raising a place's version")?
        .ok_or(StoreError::Conflict)?;
    let last_seq = raised.try_get(0).doing("raising a place's version")?;
    write(conn, place, last_seq, change).await?;
    Ok(expected + 1)
}

async fn write(conn: &mut Conn, place: PlaceId, last_seq: i64, change: &Change) -> Result<()> {
    // The inbound id comes first: a repeated line may well call for a post that exists already, and has to be told
    // apart from a change that lost a race.
    write_inbound(conn, place, change).await?;
    write_entries(conn, place, last_seq, change).await?;
    write_beside(conn, place, change).await?;
    platform::write(conn, place, change).await?;
    for post in &change.posts {
        write_post(conn, place, post).await?;
    }
    if !change.covered.is_empty() {
        cover(conn, place, &change.covered).await?;
    }
    if !change.raise.is_empty() {
        query(sql::POSTS_RAISE)
            .bind(place)
            .bind(list(&change.raise))
            .execute(&mut *conn)
            .await
            .doing("raising posts")?;
    }
    if let Some(standings) = &change.standings {
        write_standings(conn, place, standings).await?;
    }
    Ok(())
}

async fn write_inbound(conn: &mut Conn, place: PlaceId, change: &Change) -> Result<()> {
    let Some(inbound) = &change.inbound else {
        return Ok(());
    };
    query(sql::INBOUND_ADD)
        .bind(place)
        .bind(&inbound.id)
        .bind(inbound.at_ms)
        .bind(&inbound.answer)
        .execute(conn)
        .await
        .doing_unless_taken("writing an answer", StoreError::Repeat)?;
    Ok(())
}

async fn write_entries(conn: &mut Conn, place: PlaceId, last_seq: i64, change: &Change) -> Result<()> {
    for (entry, seq) in change.entries.iter().zip(last_seq + 1..) {
        // A journal with a gap or a second numbering could not be read back as one order.
        if entry.seq != seq {
            return Err(StoreError::Conflict);
        }
        query(sql::ENTRY_ADD)
            .bind(place)
            .bind(entry.seq)
            .bind(entry.at_ms)
            .bind(entry.logged_at_ms)
            .bind(i64::from(entry.by))
            .bind(i64::from(entry.said_by))
            .bind(&entry.body)
            .execute(&mut *conn)
            .await
            .doing_unless_taken("writing an entry", StoreError::Conflict)?;
    }
    Ok(())
}

async fn write_beside(conn: &mut Conn, place: PlaceId, change: &Change) -> Result<()> {
    for (carer, name) in &change.names {
        query(sql::NAME_PUT)
            .bind(place)
            .bind(i64::from(*carer))
            .bind(name)
            .execute(&mut *conn)
            .await
            .doing("writing a name")?;
    }
    for (seq, text) in &change.notes {
        query(sql::NOTE_PUT)
            .bind(place)
            .bind(seq)
            .bind(text)
            .execute(&mut *conn)
            .await
            .doing("writing a note")?;
    }
    for photo in &change.photos {
        query(sql::PHOTO_PUT)
            .bind(place)
            .bind(photo.seq)
            .bind(&photo.media_type)
            .bind(&photo.bytes)
            .execute(&mut *conn)
            .await
            .doing("writing a photo")?;
    }
    Ok(())
}

/// Makes keys known that need no post.
pub(super) async fn cover(conn: &mut Conn, place: PlaceId, keys: &[String]) -> Result<()> {
    let done = query(sql::KEYS_COVER)
        .bind(place)
        .bind(list(keys))
        .execute(conn)
        .await;
    done.map(drop).doing("covering keys")
}

async fn write_post(conn: &mut Conn, place: PlaceId, post: &NewPost) -> Result<()> {
    let doing = "writing a post";
    // Without a key nothing would keep it from being wanted again, nor tell the transport that it was sent before.
    if post.keys.is_empty() {
        return Err(other(doing, "a post needs a key"));
    }
    let keys = list(&post.keys);
    let id: i64 = query(sql::POST_ADD)
        .bind(place)
        .bind(&keys)
        .bind(&post.destination)
        .bind(&post.body)
        .bind(post.at_ms)
        .bind(post.not_after_ms)
        .fetch_one(&mut *conn)
        .await
        .and_then(|row: Row| row.try_get(0))
        .doing(doing)?;
    query(sql::KEYS_ADD)
        .bind(place)
        .bind(id)
        .bind(&keys)
        .execute(conn)
        .await
        .doing_unless_taken(doing, StoreError::Conflict)?;
    Ok(())
}

async fn write_standings(conn: &mut Conn, place: PlaceId, wanted: &[StandingRow]) -> Result<()> {
    let doing = "writing marks";
    let rows = wanted
        .iter()
        .map(|row| json!([row.turn, row.due_ms, row.overdue_ms, row.hazard_ms]));
    let rows = Value::from_iter(rows).to_string();
    for text in [sql::STANDINGS_PUT, sql::STANDINGS_KEEP] {
        query(text)
            .bind(place)
            .bind(&rows)
            .execute(&mut *conn)
            .await
            .doing(doing)?;
    }
    Ok(())
}

/// A list as one parameter.
pub(super) fn list<T: Clone + Into<Value>>(items: &[T]) -> String {
    Value::from(items).to_string()
}
