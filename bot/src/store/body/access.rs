//! Keys that let a carer in.

use sqlx::{Row as _, query};

use super::error::Doing;
use super::journal::carer;
use super::{Conn, sql};
use crate::store::{PlaceId, Result, StoreError};

/// A key as it is looked up: whom it lets in, and whether its use ends it.
pub(super) struct Found {
    pub(super) who: (PlaceId, u32),
    pub(super) once: bool,
}

/// Stores a key, or moves the end of one that this carer has already.
pub(super) async fn put(
    conn: &mut Conn,
    (place, who): (PlaceId, u32),
    hash: &str,
    once: bool,
    until_ms: i64,
) -> Result<()> {
    let put = query(sql::ACCESS_PUT)
        .bind(hash)
        .bind(place)
        .bind(i64::from(who))
        .bind(once)
        .bind(until_ms)
        .execute(conn)
        .await
        .doing("storing a key")?;
    // Nothing is written when the key is another carer's: it must never change hands.
    if put.rows_affected() == 1 {
        Ok(())
    } else {
        Err(StoreError::Conflict)
    }
}

pub(super) async fn find(conn: &mut Conn, hash: &str, now_ms: i64) -> Result<Option<Found>> {
    let row = query(sql::ACCESS)
        .bind(hash)
        .bind(now_ms)
        .fetch_optional(conn)
        .await
        .doing("looking a key up")?;
    let found = row.map(|row| {
        Ok(Found {
            who: (row.try_get(0)?, carer(&row, 1)?),
            once: row.try_get(2)?,
        })
    });
    found.transpose().doing("looking a key up")
}

/// Uses a key for one use up. Of any number of callers at once, one gets it.
pub(super) async fn take(conn: &mut Conn, hash: &str, now_ms: i64) -> Result<Option<(PlaceId, u32)>> {
    let row = query(sql::ACCESS_TAKE)
        .bind(hash)
        .bind(now_ms)
        .fetch_optional(conn)
        .await;
    let who = row.and_then(|row| row.map(|row| Ok((row.try_get(0)?, carer(&row, 1)?))).transpose());
    who.doing("using a key")
}
