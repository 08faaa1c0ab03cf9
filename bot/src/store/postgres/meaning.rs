//! What the driver's errors mean to the store. What the server says is repeated only where it says nothing of the
//! address or who signs in.

use std::io::ErrorKind;

use super::error::other;
use crate::store::StoreError;

/// When nothing answers at the address.
pub(super) const SILENT: &str = "no PostgreSQL server answers there";

pub(super) fn meaning(error: sqlx::Error, doing: &'static str) -> StoreError {
    let unreachable = |why: &str| StoreError::Unreachable(why.to_owned());
    match &error {
        sqlx::Error::Database(told) => match told.code().as_deref() {
            // A deadlock or a serialization failure: another writer was first, and the same may be done again.
            Some("40001" | "40P01") => StoreError::Conflict,
            Some("55P03") => StoreError::Locked,
            Some("53100") => StoreError::Full,
            Some("28P01" | "28000") => unreachable("the server does not take this user and password"),
            Some("3D000") => unreachable("the server has no database of this name"),
            Some("42501") => unreachable("this user may not do that in the database"),
            Some("53300") => unreachable("the server has no connection to spare"),
            Some("57P01" | "57P02" | "57P03") => unreachable("the server is starting or stopping"),
            _ => other(doing, error),
        },
        // All connections were busy for the whole wait: to the caller that is the same as a lock.
        sqlx::Error::PoolTimedOut => StoreError::Locked,
        sqlx::Error::Io(told) => match told.kind() {
            ErrorKind::ConnectionRefused | ErrorKind::NotFound | ErrorKind::TimedOut => unreachable(SILENT),
            _ => StoreError::Unreachable(format!("the connection to the server failed: {told}")),
        },
        sqlx::Error::Tls(_) => unreachable("no encrypted connection to the server can be made"),
        sqlx::Error::Protocol(_) => {
            unreachable("what answers there does not speak as a PostgreSQL server does")
        }
        sqlx::Error::Configuration(_) => unreachable("the address is none that can be used"),
        sqlx::Error::PoolClosed | sqlx::Error::WorkerCrashed => StoreError::Unreachable(error.to_string()),
        _ => other(doing, error),
    }
}
