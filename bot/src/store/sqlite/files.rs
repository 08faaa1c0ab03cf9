//! Whole databases as files: backup and restore.

use std::io;
use std::path::{Path, PathBuf};

use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions, Connection, Row as _, query};
use tokio::fs;

use super::Conn;
use super::error::{Doing, other};
use super::open::{STEPS, unreachable};
use crate::store::files::{
    beside, failed, put_in_place, refuse_existing, remove_if_there, sync, unless_absent,
};
use crate::store::{Result, StoreError};

const BACKING_UP: &str = "writing a backup";
const RESTORING: &str = "restoring a backup";

/// Writes a complete, consistent copy of the database to a new file.
///
/// # Errors
/// [`StoreError::Other`] when the file exists already or cannot be written, [`StoreError::Full`].
pub(super) async fn backup(conn: &mut Conn, file: &Path) -> Result<()> {
    refuse_existing(file, BACKING_UP).await?;
    let part = beside(file, ".part");
    copy(conn, &part, BACKING_UP).await?;
    put_in_place(&part, file)
        .await
        .map_err(|error| failed(BACKING_UP, error))
}

/// Puts a backup where the database belongs, while no program has that one open. A database that is there already is
/// moved aside, to `<name>.before-restore`; returns where it lies.
///
/// # Errors
/// [`StoreError::Unreachable`] when `from` is no sound Wrackline database or of a newer schema than this program,
/// [`StoreError::Other`] when an earlier database still lies aside or files cannot be written, [`StoreError::Full`].
/// Until the copy is complete, nothing at `to` has changed.
pub async fn restore(from: &Path, to: &Path) -> Result<Option<PathBuf>> {
    let there = fs::try_exists(to)
        .await
        .map_err(|error| failed(RESTORING, error))?;
    let aside = beside(to, ".before-restore");
    if there {
        refuse_existing(&aside, RESTORING).await?;
    }
    if let Some(folder) = to.parent() {
        fs::create_dir_all(folder)
            .await
            .map_err(|error| failed(RESTORING, error))?;
    }
    let part = beside(to, ".part");
    copy_sound(from, &part).await?;
    let moved = async {
        if there {
            fs::rename(to, &aside).await?;
        }
        // The old log goes with the old file, which is not complete without it; to the new file it would be poison.
        rename_if_there(&beside(to, "-wal"), &beside(&aside, "-wal")).await?;
        remove_if_there(&beside(to, "-shm")).await?;
        put_in_place(&part, to).await
    };
    moved.await.map_err(|error| failed(RESTORING, error))?;
    Ok(there.then_some(aside))
}

/// Copies a backup to a new file, after a look at whether it is one.
///
/// # Errors
/// [`StoreError::Unreachable`] when `from` is no sound Wrackline database or of a newer schema than this program.
pub(in crate::store) async fn copy_sound(from: &Path, to: &Path) -> Result<()> {
    let opened = SqliteConnectOptions::new()
        .filename(from)
        .read_only(true)
        .disable_statement_logging();
    let mut source = opened.connect().await.map_err(unreachable)?;
    check(&mut source, from).await?;
    copy(&mut source, to, RESTORING).await?;
    source.close().await.doing(RESTORING)
}

/// That a file is a sound Wrackline database which this program can read.
async fn check(conn: &mut Conn, file: &Path) -> Result<()> {
    let refuse = |why: String| StoreError::Unreachable(format!("{}: {why}", file.display()));
    let verdict = query("PRAGMA integrity_check(1)").fetch_one(&mut *conn).await;
    let verdict: String = verdict
        .and_then(|row| row.try_get(0))
        .map_err(|error| refuse(error.to_string()))?;
    if verdict != "ok" {
        return Err(refuse(verdict));
    }
    let applied = query("SELECT version, checksum, success FROM _sqlx_migrations ORDER BY version");
    let applied = applied.fetch_all(conn).await.unwrap_or_default();
    if applied.is_empty() {
        return Err(refuse("not a Wrackline database".to_owned()));
    }
    for row in applied {
        let version: i64 = row.try_get(0).doing(RESTORING)?;
        let checksum: Vec<u8> = row.try_get(1).doing(RESTORING)?;
        let complete: bool = row.try_get(2).doing(RESTORING)?;
        let known = STEPS
            .iter()
            .any(|step| step.version == version && *step.checksum == *checksum);
        if !known || !complete {
            return Err(refuse(format!("schema step {version} is not of this program")));
        }
    }
    Ok(())
}

/// Copies a database to a file that is made anew, and sees it on the disk.
async fn copy(conn: &mut Conn, to: &Path, doing: &'static str) -> Result<()> {
    remove_if_there(to).await.map_err(|error| failed(doing, error))?;
    let name = to
        .to_str()
        .ok_or_else(|| other(doing, "the file's name is not UTF-8"))?;
    let copied = query("VACUUM INTO $1")
        .bind(name)
        .execute(conn)
        .await
        .doing(doing);
    if copied.is_err() {
        // What was begun is of no use, and on a full disk in the way. That the copy failed is the error to tell.
        let _ = remove_if_there(to).await;
    }
    copied?;
    // The database leaves the copy to the operating system, which may still hold all of it in memory.
    sync(to).await.map_err(|error| failed(doing, error))
}

async fn rename_if_there(from: &Path, to: &Path) -> io::Result<()> {
    unless_absent(fs::rename(from, to).await)
}
