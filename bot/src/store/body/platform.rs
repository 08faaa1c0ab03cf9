//! Where places and carers are at home on the chat platform, and what the process keeps for itself.

use sqlx::{Row as _, query};

use super::error::Doing;
use super::journal::carer;
use super::{Conn, Row, sql};
use crate::store::{Change, PlaceId, Result, ServerRow, StoreError};

/// Writes what a change says of the platform. The caller holds a write transaction that has taken the place.
pub(super) async fn write(conn: &mut Conn, place: PlaceId, change: &Change) -> Result<()> {
    if let Some(row) = &change.server {
        query(sql::SERVER_PUT)
            .bind(place)
            .bind(row.server)
            .bind(row.channel)
            .execute(&mut *conn)
            .await
            .doing_unless_taken("linking a server", StoreError::Conflict)?;
    }
    for (who, account) in &change.accounts {
        let doing = "linking an account";
        for text in [sql::ACCOUNT_FREE, sql::ACCOUNT_ADD] {
            query(text)
                .bind(place)
                .bind(i64::from(*who))
                .bind(account)
                .execute(&mut *conn)
                .await
                .doing(doing)?;
        }
    }
    Ok(())
}

pub(super) async fn place_of_server(conn: &mut Conn, server: i64) -> Result<Option<PlaceId>> {
    let row = query(sql::SERVER_PLACE).bind(server).fetch_optional(conn).await;
    row.and_then(|row| row.map(|row| row.try_get(0)).transpose())
        .doing("finding a server's place")
}

pub(super) async fn server_of(conn: &mut Conn, place: PlaceId) -> Result<Option<ServerRow>> {
    let row = query(sql::SERVER).bind(place).fetch_optional(conn).await;
    row.and_then(|row| row.as_ref().map(|row| server_at(row, 0)).transpose())
        .doing("reading a place's server")
}

pub(super) async fn servers(conn: &mut Conn) -> Result<Vec<(PlaceId, ServerRow)>> {
    let rows = query(sql::SERVERS).fetch_all(conn).await;
    rows.and_then(|rows| {
        let pair = |row: &Row| Ok((row.try_get(0)?, server_at(row, 1)?));
        rows.iter().map(pair).collect()
    })
    .doing("listing servers")
}

pub(super) async fn carer_of(conn: &mut Conn, place: PlaceId, account: i64) -> Result<Option<u32>> {
    let row = query(sql::ACCOUNT)
        .bind(place)
        .bind(account)
        .fetch_optional(conn)
        .await;
    row.and_then(|row| row.as_ref().map(|row| carer(row, 0)).transpose())
        .doing("finding an account's carer")
}

pub(super) async fn accounts(conn: &mut Conn, place: PlaceId) -> Result<Vec<(u32, i64)>> {
    let rows = query(sql::ACCOUNTS).bind(place).fetch_all(conn).await;
    rows.and_then(|rows| {
        let pair = |row: &Row| Ok((carer(row, 0)?, row.try_get(1)?));
        rows.iter().map(pair).collect()
    })
    .doing("listing accounts")
}

pub(super) async fn kept(conn: &mut Conn, name: &str) -> Result<Option<String>> {
    let row = query(sql::KEPT).bind(name).fetch_optional(conn).await;
    row.and_then(|row| row.map(|row| row.try_get(0)).transpose())
        .doing("reading a kept value")
}

pub(super) async fn keep(conn: &mut Conn, name: &str, value: &str) -> Result<()> {
    query(sql::KEEP)
        .bind(name)
        .bind(value)
        .execute(conn)
        .await
        .doing("keeping a value")?;
    Ok(())
}

/// Removes photos whose entry was logged before a moment. Returns how many.
pub(super) async fn forget_photos(conn: &mut Conn, before_ms: i64) -> Result<u64> {
    let done = query(sql::PHOTOS_FORGET).bind(before_ms).execute(conn).await;
    Ok(done.doing("forgetting photos")?.rows_affected())
}

fn server_at(row: &Row, column: usize) -> sqlx::Result<ServerRow> {
    Ok(ServerRow {
        server: row.try_get(column)?,
        channel: row.try_get(column + 1)?,
    })
}
