//! The store on SQLite: one file, one writer, a few readers.
//!
//! Writes go through one connection and begin by taking the lock; reads are snapshots that block nobody. The modules in
//! `body` hold the body. Of the driver they know `Conn`, `Row`, the meaning of its errors and the texts in `sql`.

use std::path::Path;

use sqlx::pool::PoolConnection;
use sqlx::sqlite::{SqliteConnection, SqlitePool, SqliteRow};
use sqlx::{Sqlite, Transaction};

use self::error::Doing;
use super::Result;

#[path = "body/access.rs"]
mod access;
#[path = "body/calendar.rs"]
mod calendar;
#[path = "body/change.rs"]
mod change;
#[path = "body/error.rs"]
mod error;
#[path = "body/journal.rs"]
mod journal;
#[path = "body/platform.rs"]
mod platform;
#[path = "body/porch.rs"]
mod porch;
#[path = "body/port.rs"]
mod port;
#[path = "body/posts.rs"]
mod posts;

mod files;
mod meaning;
mod open;
mod sql;
#[cfg(test)]
mod tests;

pub(super) use self::files::copy_sound;
pub use self::files::restore;

type Adapter = SqliteStore;
type Conn = SqliteConnection;
type Row = SqliteRow;

/// The store on SQLite. Clones share its connections.
#[derive(Clone, Debug)]
pub struct SqliteStore {
    write: SqlitePool,
    read: SqlitePool,
}

impl SqliteStore {
    pub(super) async fn writing(&self) -> Result<Transaction<'static, Sqlite>> {
        self.write
            .begin_with(sql::BEGIN_WRITE)
            .await
            .doing("beginning to write")
    }

    /// For a single statement, which is a transaction of its own.
    async fn writing_once(&self) -> Result<PoolConnection<Sqlite>> {
        self.write.acquire().await.doing("beginning to write")
    }

    async fn reading(&self) -> Result<PoolConnection<Sqlite>> {
        self.read.acquire().await.doing("beginning to read")
    }

    pub(super) async fn snapshot(&self) -> Result<Transaction<'static, Sqlite>> {
        self.read
            .begin_with(sql::BEGIN_READ)
            .await
            .doing("beginning to read")
    }

    async fn copy_to(&self, file: &Path) -> Result<()> {
        files::backup(&mut *self.reading().await?, file).await
    }

    async fn end(&self) {
        // The writer is the last to go: it alone can empty the write-ahead log into the file.
        self.read.close().await;
        self.write.close().await;
    }
}
