//! Whole databases as files, of the same kind as SQLite's: a backup of either is restored into either.

use std::path::{Path, PathBuf};

use futures_util::TryStreamExt;
use sqlx::{AssertSqlSafe, Connection, Postgres, Row as _, Sqlite, Transaction, query};

use super::error::{Doing, other};
use super::open::{SCHEMA, be_alone, connect, make_schema};
use super::{Conn, sql};
use crate::store::files::{beside, failed, put_in_place, refuse_existing, remove_if_there, sync};
use crate::store::sqlite::{SqliteStore, copy_sound};
use crate::store::tables::TABLES;
use crate::store::{PgUrl, Result, Store, StoreError};

/// The schema that what was there before a restore is moved to.
pub const BEFORE_RESTORE: &str = "wrackline_before_restore";

const BACKING_UP: &str = "writing a backup";
const RESTORING: &str = "restoring a backup";

/// Writes all that a snapshot shows to a new file. The caller holds the snapshot.
///
/// # Errors
/// [`StoreError::Other`] when the file exists already or cannot be written, [`StoreError::Full`].
pub(super) async fn backup(conn: &mut Conn, file: &Path) -> Result<()> {
    refuse_existing(file, BACKING_UP).await?;
    let part = beside(file, ".part");
    remove_database(&part)
        .await
        .map_err(|error| failed(BACKING_UP, error))?;
    let written = write_file(conn, &part).await;
    if written.is_err() {
        // What was begun is of no use. That the copy failed is the error to tell.
        let _ = remove_database(&part).await;
    }
    written?;
    put_in_place(&part, file)
        .await
        .map_err(|error| failed(BACKING_UP, error))
}

async fn write_file(conn: &mut Conn, part: &Path) -> Result<()> {
    let store = SqliteStore::open(part).await?;
    let copied = async {
        let mut tx = store.writing().await?;
        to_sqlite(conn, &mut tx).await?;
        tx.commit().await.doing(BACKING_UP)
    };
    let copied = copied.await;
    // Closing empties the log into the file, which then holds everything by itself.
    store.close().await;
    copied?;
    sync(part).await.map_err(|error| failed(BACKING_UP, error))
}

async fn to_sqlite(conn: &mut Conn, tx: &mut Transaction<'_, Sqlite>) -> Result<()> {
    for table in &TABLES {
        let mut rows = query(AssertSqlSafe(table.select())).fetch(&mut *conn);
        while let Some(row) = rows.try_next().await.doing(BACKING_UP)? {
            let insert = query(AssertSqlSafe(table.insert()));
            let insert = table.take_over(&row, insert).doing(BACKING_UP)?;
            insert.execute(&mut **tx).await.map_err(in_file(BACKING_UP))?;
        }
    }
    // A number that was given once is given no place again.
    let given = "SELECT coalesce(pg_sequence_last_value(pg_get_serial_sequence('place', 'id')::regclass), 0)";
    let given = query(given).fetch_one(conn).await;
    let given: i64 = given.and_then(|row| row.try_get(0)).doing(BACKING_UP)?;
    for text in [
        "DELETE FROM sqlite_sequence WHERE name = 'place' AND $1 > 0",
        "INSERT INTO sqlite_sequence (name, seq) SELECT 'place', $1 WHERE $1 > 0",
    ] {
        let done = query(text).bind(given).execute(&mut **tx).await;
        done.map_err(in_file(BACKING_UP))?;
    }
    Ok(())
}

/// Puts a backup into a database of a server, in one transaction and while no process works on it. Places that are
/// there already are moved aside with all that belongs to them, to the schema [`BEFORE_RESTORE`]; returns its name.
///
/// # Errors
/// [`StoreError::Unreachable`] when `from` is no sound Wrackline database or of a newer schema than this program, or
/// the server cannot be used; [`StoreError::Locked`] while another process works on the database;
/// [`StoreError::Other`] when an earlier one still lies aside. Then nothing has changed.
pub async fn restore(from: &Path, url: &PgUrl) -> Result<Option<&'static str>> {
    let folder = Passing::new()?;
    // A copy may be brought up to date: the backup stays as it is.
    let file = folder.0.join("copy.db");
    copy_sound(from, &file).await?;
    let source = SqliteStore::open(&file).await?;
    let restored = restore_from(&source, url).await;
    source.close().await;
    restored
}

async fn restore_from(source: &SqliteStore, url: &PgUrl) -> Result<Option<&'static str>> {
    let mut from = source.snapshot().await?;
    let mut conn = connect(url).await?;
    let mut tx = conn.begin_with(sql::BEGIN_WRITE).await.doing(RESTORING)?;
    be_alone(&mut tx).await?;
    let aside = move_aside(&mut tx).await?;
    make_schema(&mut tx).await?;
    from_sqlite(&mut from, &mut tx).await?;
    tx.commit().await.doing(RESTORING)?;
    let _ = conn.close().await;
    Ok(aside)
}

/// Makes room in the schema's name, where the schema holds anything.
async fn move_aside(conn: &mut Conn) -> Result<Option<&'static str>> {
    let there = is_there(conn, SCHEMA).await?;
    if !there || is_empty(conn).await? {
        return Ok(None);
    }
    if is_there(conn, BEFORE_RESTORE).await? {
        return Err(other(
            RESTORING,
            format!("the schema {BEFORE_RESTORE} exists already"),
        ));
    }
    let rename = "ALTER SCHEMA wrackline RENAME TO wrackline_before_restore";
    query(rename).execute(conn).await.doing(RESTORING)?;
    Ok(Some(BEFORE_RESTORE))
}

async fn is_there(conn: &mut Conn, schema: &str) -> Result<bool> {
    let row = query("SELECT EXISTS (SELECT 1 FROM pg_namespace WHERE nspname = $1)")
        .bind(schema)
        .fetch_one(conn)
        .await;
    row.and_then(|row| row.try_get(0)).doing(RESTORING)
}

/// Whether a schema that is there has no place yet and keeps nothing else. Tables that are not ours are something.
async fn is_empty(conn: &mut Conn) -> Result<bool> {
    let tables = "SELECT count(*), count(*) FILTER (WHERE relname IN ('place', 'kept')) FROM pg_class
         WHERE relnamespace = 'wrackline'::regnamespace AND relkind = 'r'";
    let row = query(tables).fetch_one(&mut *conn).await.doing(RESTORING)?;
    let counts: (i64, i64) = (row.try_get(0).doing(RESTORING)?, row.try_get(1).doing(RESTORING)?);
    match counts {
        (0, _) => Ok(true),
        (_, 2) => {
            let rows = "SELECT NOT EXISTS (SELECT 1 FROM place) AND NOT EXISTS (SELECT 1 FROM kept)";
            let row = query(rows).fetch_one(conn).await;
            row.and_then(|row| row.try_get(0)).doing(RESTORING)
        }
        _ => Ok(false),
    }
}

async fn from_sqlite(from: &mut Transaction<'_, Sqlite>, tx: &mut Transaction<'_, Postgres>) -> Result<()> {
    for table in &TABLES {
        let mut rows = query(AssertSqlSafe(table.select())).fetch(&mut **from);
        while let Some(row) = rows.try_next().await.map_err(in_file(RESTORING))? {
            let insert = query(AssertSqlSafe(table.insert()));
            let insert = table.take_over(&row, insert).map_err(in_file(RESTORING))?;
            insert.execute(&mut **tx).await.doing(RESTORING)?;
        }
    }
    let given = "SELECT coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'place'), 0)";
    let given = query(given).fetch_one(&mut **from).await;
    let given: i64 = given.and_then(|row| row.try_get(0)).map_err(in_file(RESTORING))?;
    let set = "SELECT setval(pg_get_serial_sequence('place', 'id'), $1) WHERE $1 > 0";
    query(set).bind(given).execute(&mut **tx).await.doing(RESTORING)?;
    let set = "SELECT setval(pg_get_serial_sequence('post', 'id'), last)
         FROM (SELECT max(id) AS last FROM post) AS posts WHERE last IS NOT NULL";
    query(set).execute(&mut **tx).await.doing(RESTORING)?;
    Ok(())
}

/// Errors of the file rather than of the server.
fn in_file(doing: &'static str) -> impl FnOnce(sqlx::Error) -> StoreError {
    move |error| match &error {
        sqlx::Error::Database(told) if told.code().is_some_and(|code| code == "13") => StoreError::Full,
        _ => other(doing, error),
    }
}

async fn remove_database(file: &Path) -> std::io::Result<()> {
    for suffix in ["", "-wal", "-shm"] {
        remove_if_there(&beside(file, suffix)).await?;
    }
    Ok(())
}

/// A folder that goes when it is no longer needed, for this user's eyes alone.
struct Passing(PathBuf);

impl Passing {
    fn new() -> Result<Self> {
        use std::os::unix::fs::DirBuilderExt;
        let failed = |why: String| other(RESTORING, why);
        let mut letters = [0_u8; 8];
        getrandom::fill(&mut letters).map_err(|error| failed(error.to_string()))?;
        let name = format!("wrackline-restore-{:016x}", u64::from_ne_bytes(letters));
        let folder = std::env::temp_dir().join(name);
        let made = std::fs::DirBuilder::new().mode(0o700).create(&folder);
        made.map_err(|error| failed(format!("{}: {error}", folder.display())))?;
        Ok(Self(folder))
    }
}

impl Drop for Passing {
    fn drop(&mut self) {
        // What cannot be removed is left to whoever empties the temporary folder.
        let _ = std::fs::remove_dir_all(&self.0);
    }
}
