//! What the driver's errors mean to the store.

use sqlx::error::DatabaseError;

use super::error::other;
use crate::store::StoreError;

// Primary result codes of SQLite; the codes it gives carry further detail in their upper bits.
const BUSY: u32 = 5;
const LOCKED: u32 = 6;
const FULL: u32 = 13;
const CANNOT_OPEN: u32 = 14;
const NOT_A_DATABASE: u32 = 26;

pub(super) fn meaning(error: sqlx::Error, doing: &'static str) -> StoreError {
    match &error {
        sqlx::Error::Database(told) => match primary_code(told.as_ref()) {
            Some(BUSY | LOCKED) => StoreError::Locked,
            Some(FULL) => StoreError::Full,
            Some(CANNOT_OPEN | NOT_A_DATABASE) => StoreError::Unreachable(error.to_string()),
            _ => other(doing, error),
        },
        // The one writer was taken for the whole wait: to the caller that is the same as a locked file.
        sqlx::Error::PoolTimedOut => StoreError::Locked,
        sqlx::Error::PoolClosed | sqlx::Error::WorkerCrashed => StoreError::Unreachable(error.to_string()),
        _ => other(doing, error),
    }
}

fn primary_code(told: &dyn DatabaseError) -> Option<u32> {
    let code: u32 = told.code()?.parse().ok()?;
    Some(code & 0xff)
}
