//! Opening: connections as they have to be, and the schema brought up to date.

use std::path::Path;
use std::time::Duration;

use sqlx::migrate::{MigrateError, Migrator};
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};
use sqlx::{ConnectOptions, Connection};

use super::SqliteStore;
use super::error::Doing;
use super::meaning::meaning;
use crate::store::{Result, StoreError};

pub(super) static STEPS: Migrator = sqlx::migrate!("../migrations/sqlite");

/// How long a writer waits for the lock, or for the writers before it.
pub(super) const WAIT: Duration = Duration::from_secs(5);
/// How many snapshots are read at once.
const READERS_MAX: u32 = 2;

impl SqliteStore {
    /// Opens a database file, makes it and its folder when absent, and brings its schema up to date.
    ///
    /// # Errors
    /// [`StoreError::Unreachable`] when the file cannot be opened, is no database, or is of a newer schema than this
    /// program; [`StoreError::Locked`] and [`StoreError::Full`] as for any write.
    pub async fn open(path: &Path) -> Result<Self> {
        Self::open_waiting(path, WAIT).await
    }

    /// Opens a database that lives in memory, and as long as this store and its clones.
    ///
    /// # Errors
    /// As [`SqliteStore::open`].
    pub async fn open_memory() -> Result<Self> {
        let write = single(WAIT)
            .connect_with(options(Path::new(":memory:"), WAIT))
            .await
            .map_err(unreachable)?;
        // Another connection would be another database, so reads share the writer's.
        let store = Self {
            read: write.clone(),
            write,
        };
        store.bring_up_to_date().await?;
        Ok(store)
    }

    pub(super) async fn open_waiting(path: &Path, wait: Duration) -> Result<Self> {
        if let Some(folder) = path.parent() {
            tokio::fs::create_dir_all(folder).await.map_err(unreachable)?;
        }
        let writing = options(path, wait)
            .journal_mode(SqliteJournalMode::Wal)
            .create_if_missing(true);
        let write = single(wait)
            .connect_with(writing)
            .await
            .doing("opening the database")
            .map_err(opening)?;
        let read = pool(wait)
            .max_connections(READERS_MAX)
            .connect_lazy_with(options(path, wait).read_only(true));
        let store = Self { write, read };
        store.bring_up_to_date().await?;
        Ok(store)
    }

    async fn bring_up_to_date(&self) -> Result<()> {
        // A question beside a long write should not wait for the lock only to find that there is nothing to do.
        if self.is_up_to_date().await {
            return Ok(());
        }
        let doing = "bringing the schema up to date";
        // All steps are in one transaction that takes the lock first, so that of two openers one applies them.
        let mut tx = self.writing().await.map_err(opening)?;
        // `run` has the same body, but the future it gives could not be awaited in a spawned task.
        let steps = STEPS.run_direct(None, &mut *tx, false).await;
        steps.map_err(|error| match error {
            MigrateError::Execute(error) => opening(meaning(error, doing)),
            error => unreachable(error),
        })?;
        tx.commit().await.doing(doing).map_err(opening)
    }
}

impl SqliteStore {
    /// Whether exactly this program's steps were applied; `false` too when that cannot be told.
    async fn is_up_to_date(&self) -> bool {
        let applied = "SELECT version, checksum FROM _sqlx_migrations WHERE success ORDER BY version";
        let applied: Vec<(i64, Vec<u8>)> = sqlx::query_as(applied)
            .fetch_all(&self.write)
            .await
            .unwrap_or_default();
        let steps = STEPS.iter().map(|step| (step.version, step.checksum.to_vec()));
        applied == steps.collect::<Vec<_>>()
    }
}

fn options(path: &Path, wait: Duration) -> SqliteConnectOptions {
    SqliteConnectOptions::new()
        .filename(path)
        .busy_timeout(wait)
        .synchronous(SqliteSynchronous::Full)
        .foreign_keys(true)
        .disable_statement_logging()
}

fn pool(wait: Duration) -> SqlitePoolOptions {
    SqlitePoolOptions::new()
        .acquire_timeout(wait)
        // Connections to a file neither age nor break while they are idle: they are neither tested nor replaced.
        .test_before_acquire(false)
        .idle_timeout(None)
        .max_lifetime(None)
        // On a full disk SQLite ends the transaction by itself. The driver does not notice, and would refuse every
        // later transaction on that connection: it is replaced.
        .after_release(|conn, _| {
            Box::pin(async move {
                if conn.is_in_transaction() {
                    // Most often a rollback is still under way, and the ping waits for it.
                    conn.ping().await?;
                }
                Ok(!conn.is_in_transaction())
            })
        })
}

fn single(wait: Duration) -> SqlitePoolOptions {
    pool(wait).max_connections(1)
}

pub(super) fn unreachable(error: impl std::fmt::Display) -> StoreError {
    StoreError::Unreachable(error.to_string())
}

/// While a database is opened, whatever cannot be waited for or made room for makes it unreachable.
fn opening(error: StoreError) -> StoreError {
    match error {
        StoreError::Other { doing, source } => StoreError::Unreachable(format!("{doing}: {source}")),
        error => error,
    }
}
