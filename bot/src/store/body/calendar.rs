//! Addresses of calendars.

use sqlx::{Row as _, query};

use super::error::Doing;
use super::journal::carer;
use super::{Conn, sql};
use crate::store::{CalendarRow, PlaceId, Result};

/// Gives a carer's calendar an address, and the place a seed where it has none.
pub(super) async fn put(
    conn: &mut Conn,
    (place, who): (PlaceId, u32),
    (hash, alarm_min): (&str, Option<i64>),
    seed: &str,
) -> Result<()> {
    query(sql::CALENDAR_SEED)
        .bind(place)
        .bind(seed)
        .execute(&mut *conn)
        .await
        .doing("storing a calendar's seed")?;
    query(sql::CALENDAR_PUT)
        .bind(place)
        .bind(i64::from(who))
        .bind(hash)
        .bind(alarm_min)
        .execute(conn)
        .await
        .doing("storing a calendar's address")?;
    Ok(())
}

/// Ends the address of a carer's calendar.
pub(super) async fn end(conn: &mut Conn, (place, who): (PlaceId, u32)) -> Result<bool> {
    let ended = query(sql::CALENDAR_END)
        .bind(place)
        .bind(i64::from(who))
        .execute(conn)
        .await
        .doing("ending a calendar's address")?;
    Ok(ended.rows_affected() > 0)
}

/// The alarm of a carer's calendar, where it has an address.
pub(super) async fn of(conn: &mut Conn, (place, who): (PlaceId, u32)) -> Result<Option<Option<i64>>> {
    let row = query(sql::CALENDAR_OF)
        .bind(place)
        .bind(i64::from(who))
        .fetch_optional(conn)
        .await
        .doing("looking a calendar up")?;
    row.map(|row| row.try_get(0))
        .transpose()
        .doing("looking a calendar up")
}

/// The calendar that an address leads to.
pub(super) async fn find(conn: &mut Conn, hash: &str) -> Result<Option<CalendarRow>> {
    let row = query(sql::CALENDAR)
        .bind(hash)
        .fetch_optional(conn)
        .await
        .doing("looking a calendar up")?;
    let read = |row| {
        Ok(CalendarRow {
            place: sqlx::Row::try_get(&row, 0)?,
            carer: carer(&row, 1)?,
            alarm_min: sqlx::Row::try_get(&row, 2)?,
            seed: sqlx::Row::try_get(&row, 3)?,
        })
    };
    row.map(read).transpose().doing("looking a calendar up")
}
