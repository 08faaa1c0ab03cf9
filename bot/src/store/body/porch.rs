//! The porch's transcript.

use sqlx::{Row as _, query};

use super::error::Doing;
use super::journal::carer;
use super::{Conn, Row, sql};
use crate::store::{PlaceId, PorchRow, Result};

/// A line that is to be added.
pub(super) struct NewLine<'a> {
    pub(super) key: &'a str,
    pub(super) at_ms: i64,
    pub(super) only_for: Option<u32>,
    pub(super) body: &'a str,
}

/// The caller holds a write transaction.
pub(super) async fn add(conn: &mut Conn, place: PlaceId, line: &NewLine<'_>) -> Result<PorchRow> {
    let doing = "adding to the porch";
    // Nobody else may add the same line between the look and the insert.
    if let Some(text) = sql::PLACE_HOLD {
        query(text).bind(place).execute(&mut *conn).await.doing(doing)?;
    }
    let earlier = query(sql::PORCH_BY_KEY)
        .bind(place)
        .bind(line.key)
        .fetch_optional(&mut *conn)
        .await;
    if let Some(row) = earlier.doing(doing)? {
        return line_of(&row).doing(doing);
    }
    let count = query(sql::PORCH_COUNT).bind(place).fetch_one(&mut *conn).await;
    let (id, revision) = count
        .and_then(|row| Ok((row.try_get(0)?, row.try_get(1)?)))
        .doing(doing)?;
    query(sql::PORCH_ADD)
        .bind(place)
        .bind(id)
        .bind(line.key)
        .bind(revision)
        .bind(line.at_ms)
        .bind(line.only_for.map(i64::from))
        .bind(line.body)
        .execute(conn)
        .await
        .doing(doing)?;
    Ok(PorchRow {
        id,
        revision,
        at_ms: line.at_ms,
        only_for: line.only_for,
        body: line.body.to_owned(),
    })
}

/// The caller holds a write transaction, and ends it without a trace when there was no such line.
pub(super) async fn edit(conn: &mut Conn, place: PlaceId, id: i64, body: &str) -> Result<Option<PorchRow>> {
    let doing = "editing the porch";
    let Some(raised) = query(sql::PORCH_RAISE)
        .bind(place)
        .fetch_optional(&mut *conn)
        .await
        .doing(doing)?
    else {
        return Ok(None);
    };
    let revision: i64 = raised.try_get(0).doing(doing)?;
    let row = query(sql::PORCH_EDIT)
        .bind(place)
        .bind(id)
        .bind(revision)
        .bind(body)
        .fetch_optional(conn)
        .await;
    row.and_then(|row| row.as_ref().map(line_of).transpose())
        .doing(doing)
}

pub(super) async fn after(
    conn: &mut Conn,
    place: PlaceId,
    revision: i64,
    limit: i64,
) -> Result<Vec<PorchRow>> {
    let rows = query(sql::PORCH_AFTER)
        .bind(place)
        .bind(revision)
        .bind(limit.max(0))
        .fetch_all(conn)
        .await;
    // The newest are asked for from the newest down, and handed out in the order in which they came.
    rows.and_then(|rows| rows.iter().rev().map(line_of).collect())
        .doing("reading the porch")
}

fn line_of(row: &Row) -> sqlx::Result<PorchRow> {
    let only_for: Option<i64> = row.try_get(3)?;
    Ok(PorchRow {
        id: row.try_get(0)?,
        revision: row.try_get(1)?,
        at_ms: row.try_get(2)?,
        only_for: only_for.map(|_| carer(row, 3)).transpose()?,
        body: row.try_get(4)?,
    })
}
