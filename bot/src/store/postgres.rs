//! The store on PostgreSQL: a schema of its own in one database, which any number of processes share.
//!
//! Writes of one place take turns on the row of the place, whose version each of them checks; writes of several places
//! run beside each other. The modules in `body` are those of SQLite: of the driver they know `Conn`, `Row`, the meaning
//! of its errors and the texts in `sql`.

use std::path::Path;

use sqlx::pool::PoolConnection;
use sqlx::postgres::{PgConnection, PgPool, PgRow};
use sqlx::{Postgres, Transaction};

use super::{Result, StoreError};

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

mod copies;
mod meaning;
mod open;
mod sql;

pub use self::copies::{BEFORE_RESTORE, restore};
pub use self::open::CONNECTIONS_MAX;

type Adapter = PostgresStore;
type Conn = PgConnection;
type Row = PgRow;

/// The store on PostgreSQL. Clones share its connections.
#[derive(Clone, Debug)]
pub struct PostgresStore {
    pool: PgPool,
}

impl PostgresStore {
    async fn writing(&self) -> Result<Transaction<'static, Postgres>> {
        self.begin(sql::BEGIN_WRITE, "beginning to write").await
    }

    /// For a single statement, which is a transaction of its own.
    async fn writing_once(&self) -> Result<PoolConnection<Postgres>> {
        let conn = self.pool.acquire().await;
        conn.map_err(|error| self.waited(error, "beginning to write"))
    }

    async fn reading(&self) -> Result<PoolConnection<Postgres>> {
        let conn = self.pool.acquire().await;
        conn.map_err(|error| self.waited(error, "beginning to read"))
    }

    async fn snapshot(&self) -> Result<Transaction<'static, Postgres>> {
        self.begin(sql::BEGIN_READ, "beginning to read").await
    }

    async fn begin(&self, text: &'static str, doing: &'static str) -> Result<Transaction<'static, Postgres>> {
        let tx = self.pool.begin_with(text).await;
        tx.map_err(|error| self.waited(error, doing))
    }

    /// A wait in vain is one for other writers of this process, or one for a server that does not answer.
    fn waited(&self, error: sqlx::Error, doing: &'static str) -> StoreError {
        match error {
            sqlx::Error::PoolTimedOut if self.pool.size() < CONNECTIONS_MAX => {
                StoreError::Unreachable(meaning::SILENT.to_owned())
            }
            error => meaning::meaning(error, doing),
        }
    }

    async fn copy_to(&self, file: &Path) -> Result<()> {
        copies::backup(&mut *self.snapshot().await?, file).await
    }

    async fn end(&self) {
        self.pool.close().await;
    }
}
