//! Reading a place: its head, its journal, and what lies beside it.

use sqlx::{Row as _, query};

use super::error::Doing;
use super::{Conn, Row, sql};
use crate::store::{EntryRow, Head, PhotoRow, PlaceId, Result, StandingRow, Tail};

pub(super) async fn places(conn: &mut Conn) -> Result<Vec<PlaceId>> {
    let rows = query(sql::PLACES).fetch_all(conn).await.doing("listing places")?;
    rows.iter()
        .map(|row| row.try_get(0))
        .collect::<sqlx::Result<_>>()
        .doing("listing places")
}

pub(super) async fn due_places(conn: &mut Conn, now_ms: i64, limit: i64) -> Result<Vec<PlaceId>> {
    let doing = "finding places that are due";
    let rows = query(sql::PLACES_DUE)
        .bind(now_ms)
        .bind(limit.max(0))
        .fetch_all(conn)
        .await
        .doing(doing)?;
    rows.iter()
        .map(|row| row.try_get(0))
        .collect::<sqlx::Result<_>>()
        .doing(doing)
}

pub(super) async fn next_moment(conn: &mut Conn) -> Result<Option<i64>> {
    let row = query(sql::NEXT_MOMENT).fetch_one(conn).await;
    row.and_then(|row| row.try_get(0))
        .doing("finding the next moment")
}

pub(super) async fn head(conn: &mut Conn, place: PlaceId) -> Result<Option<Head>> {
    let row = query(sql::HEAD)
        .bind(place)
        .fetch_optional(conn)
        .await
        .doing("reading a head")?;
    row.as_ref().map(head_of).transpose().doing("reading a head")
}

/// The caller holds a transaction, so that all parts are of one snapshot.
pub(super) async fn tail(conn: &mut Conn, place: PlaceId, after_seq: i64) -> Result<Tail> {
    let doing = "reading a journal";
    let head = query(sql::HEAD).bind(place).fetch_one(&mut *conn).await;
    let head = head.and_then(|row| head_of(&row)).doing(doing)?;
    let names = query(sql::NAMES)
        .bind(place)
        .fetch_all(&mut *conn)
        .await
        .doing(doing)?;
    let names = names
        .iter()
        .map(|row| Ok((carer(row, 0)?, row.try_get(1)?)))
        .collect::<sqlx::Result<_>>();
    let mut tail = Tail {
        head,
        entries: Vec::new(),
        names: names.doing(doing)?,
        notes: Vec::new(),
    };
    // Most often nothing was added since, and the head says so.
    if head.last_seq > after_seq {
        let entries = query(sql::ENTRIES_AFTER)
            .bind(place)
            .bind(after_seq)
            .fetch_all(&mut *conn)
            .await;
        tail.entries = entries
            .and_then(|rows| rows.iter().map(entry_of).collect())
            .doing(doing)?;
        let notes = query(sql::NOTES_AFTER)
            .bind(place)
            .bind(after_seq)
            .fetch_all(conn)
            .await
            .doing(doing)?;
        let notes = notes.iter().map(|row| Ok((row.try_get(0)?, row.try_get(1)?)));
        tail.notes = notes.collect::<sqlx::Result<_>>().doing(doing)?;
    }
    Ok(tail)
}

pub(super) async fn inbound(conn: &mut Conn, place: PlaceId, id: &str) -> Result<Option<String>> {
    let row = query(sql::INBOUND)
        .bind(place)
        .bind(id)
        .fetch_optional(conn)
        .await;
    row.and_then(|row| row.map(|row| row.try_get(0)).transpose())
        .doing("reading an answer")
}

pub(super) async fn photo(conn: &mut Conn, place: PlaceId, seq: i64) -> Result<Option<PhotoRow>> {
    let row = query(sql::PHOTO)
        .bind(place)
        .bind(seq)
        .fetch_optional(conn)
        .await
        .doing("reading a photo")?;
    let photo = row.map(|row| {
        Ok(PhotoRow {
            seq,
            media_type: row.try_get(0)?,
            bytes: row.try_get(1)?,
        })
    });
    photo.transpose().doing("reading a photo")
}

pub(super) async fn standings(conn: &mut Conn, place: PlaceId) -> Result<Vec<StandingRow>> {
    let rows = query(sql::STANDINGS).bind(place).fetch_all(conn).await;
    rows.and_then(|rows| rows.iter().map(standing_of).collect())
        .doing("reading marks")
}

fn head_of(row: &Row) -> sqlx::Result<Head> {
    Ok(Head {
        version: row.try_get(0)?,
        last_seq: row.try_get(1)?,
        next_at_ms: row.try_get(2)?,
        seen_at_ms: row.try_get(3)?,
        practice: row.try_get(4)?,
    })
}

fn entry_of(row: &Row) -> sqlx::Result<EntryRow> {
    Ok(EntryRow {
        seq: row.try_get(0)?,
        at_ms: row.try_get(1)?,
        logged_at_ms: row.try_get(2)?,
        by: carer(row, 3)?,
        said_by: carer(row, 4)?,
        body: row.try_get(5)?,
    })
}

fn standing_of(row: &Row) -> sqlx::Result<StandingRow> {
    Ok(StandingRow {
        turn: row.try_get(0)?,
        due_ms: row.try_get(1)?,
        overdue_ms: row.try_get(2)?,
        hazard_ms: row.try_get(3)?,
    })
}

/// A carer's number; databases know no unsigned integers.
pub(super) fn carer(row: &Row, column: usize) -> sqlx::Result<u32> {
    let number: i64 = row.try_get(column)?;
    u32::try_from(number).map_err(|error| sqlx::Error::Decode(error.into()))
}
