//! Opening: connections as they have to be, and the schema brought up to date.

use std::time::Duration;

use sqlx::migrate::{MigrateError, Migrator};
use sqlx::postgres::{PgConnectOptions, PgPoolOptions};
use sqlx::{ConnectOptions, Connection, Postgres, Transaction, query};

use super::error::Doing;
use super::meaning::{SILENT, meaning};
use super::{Conn, PostgresStore, sql};
use crate::store::{PgUrl, Result, StoreError};

/// How many connections a process has to the server at most.
pub const CONNECTIONS_MAX: u32 = 8;

/// How long a connection is waited for, and a lock.
const WAIT: Duration = Duration::from_secs(5);

/// The schema that the tables are in.
pub(super) const SCHEMA: &str = "wrackline";

/// The number of the lock under which the schema is brought up to date, within the database.
const MIGRATING: i64 = 0x7772_6163_6b01;
/// The number of the lock that every connection shares, so that nothing is restored under it.
const AT_WORK: i64 = 0x7772_6163_6b02;

/// The steps of the schema. They take no lock of the library's: it would outlive a step that fails.
pub(super) fn steps() -> Migrator {
    let mut steps = sqlx::migrate!("../migrations/postgres");
    steps.set_locking(false);
    steps
}

impl PostgresStore {
    /// Opens a database of a server, and brings its schema up to date.
    ///
    /// # Errors
    /// [`StoreError::Unreachable`] when the server does not answer, does not take the user, has no such database, or
    /// the schema is newer than this program; [`StoreError::Locked`] and [`StoreError::Full`] as for any write.
    pub async fn open(url: &PgUrl) -> Result<Self> {
        let mut conn = connect(url).await?;
        let opened = bring_up_to_date(&mut conn).await;
        // Whether the server heard the farewell is all the same.
        let _ = conn.close().await;
        opened?;
        let pool = PgPoolOptions::new()
            .max_connections(CONNECTIONS_MAX)
            // One stays, so that the lock of those at work is always held.
            .min_connections(1)
            .acquire_timeout(WAIT)
            .after_connect(|conn, _| {
                Box::pin(async move {
                    let shared = query("SELECT pg_advisory_lock_shared($1)").bind(AT_WORK);
                    shared.execute(conn).await.map(|_| ())
                })
            });
        let pool = pool
            .connect_with(options(url)?)
            .await
            .doing("opening the database");
        Ok(Self {
            pool: pool.map_err(opening)?,
        })
    }
}

/// One connection beside any pool's. A server that is not there is told at once.
pub(super) async fn connect(url: &PgUrl) -> Result<Conn> {
    let options = options(url)?;
    let conn = tokio::time::timeout(WAIT, options.connect()).await;
    let conn = conn.map_err(|_| StoreError::Unreachable(SILENT.to_owned()))?;
    conn.doing("opening the database").map_err(opening)
}

fn options(url: &PgUrl) -> Result<PgConnectOptions> {
    let options = url
        .options()
        .map_err(|error| StoreError::Unreachable(error.to_string()))?;
    let wait = format!("{}ms", WAIT.as_millis());
    Ok(options
        .options([("search_path", SCHEMA), ("lock_timeout", wait.as_str())])
        .disable_statement_logging())
}

async fn bring_up_to_date(conn: &mut Conn) -> Result<()> {
    // Most often there is nothing to do, and a user who may not change the schema can still work in it.
    if is_up_to_date(conn).await {
        return Ok(());
    }
    let doing = "bringing the schema up to date";
    // All steps are in one transaction under one lock, so that of two openers one applies them.
    let mut tx = conn.begin_with(sql::BEGIN_WRITE).await.doing(doing)?;
    query("SELECT pg_advisory_xact_lock($1)")
        .bind(MIGRATING)
        .execute(&mut *tx)
        .await
        .doing(doing)?;
    make_schema(&mut tx).await.map_err(opening)?;
    tx.commit().await.doing(doing).map_err(opening)
}

/// Makes the schema where there is none, and applies the steps that it lacks.
pub(super) async fn make_schema(tx: &mut Transaction<'_, Postgres>) -> Result<()> {
    let doing = "bringing the schema up to date";
    let there = query("SELECT 1 FROM pg_namespace WHERE nspname = $1")
        .bind(SCHEMA)
        .fetch_optional(&mut **tx)
        .await
        .doing(doing)?;
    if there.is_none() {
        let make = "CREATE SCHEMA wrackline";
        query(make).execute(&mut **tx).await.doing(doing)?;
    }
    // `run` has the same body, but the future it gives could not be awaited in a spawned task.
    let done = steps().run_direct(None, &mut **tx, false).await;
    done.map_err(|error| match error {
        MigrateError::Execute(error) => meaning(error, doing),
        error => StoreError::Unreachable(error.to_string()),
    })
}

/// Whether exactly this program's steps were applied; `false` too when that cannot be told.
async fn is_up_to_date(conn: &mut Conn) -> bool {
    let applied = "SELECT version, checksum FROM _sqlx_migrations WHERE success ORDER BY version";
    let applied: Vec<(i64, Vec<u8>)> = sqlx::query_as(applied).fetch_all(conn).await.unwrap_or_default();
    let steps = steps();
    let steps = steps.iter().map(|step| (step.version, step.checksum.to_vec()));
    applied == steps.collect::<Vec<_>>()
}

/// Waits until no process is at work on the database, and keeps others out until the transaction ends.
///
/// # Errors
/// [`StoreError::Locked`] when one stays at work for as long as a lock is waited for.
pub(super) async fn be_alone(tx: &mut Transaction<'_, Postgres>) -> Result<()> {
    for lock in [MIGRATING, AT_WORK] {
        query("SELECT pg_advisory_xact_lock($1)")
            .bind(lock)
            .execute(&mut **tx)
            .await
            .doing("waiting for others to stop")?;
    }
    Ok(())
}

/// While a database is opened, whatever cannot be waited for or made room for makes it unreachable.
fn opening(error: StoreError) -> StoreError {
    match error {
        StoreError::Other { doing, source } => StoreError::Unreachable(format!("{doing}: {source}")),
        error => error,
    }
}
