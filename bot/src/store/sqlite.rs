//! The store on SQLite: one file, one writer, a few readers.
//!
//! Writes go through one connection and begin by taking the lock; reads are snapshots that block nobody. The modules
//! below hold the body. Of the driver they know `Conn`, `Row`, the meaning of its errors and the texts in `sql`.

use std::path::Path;

use async_trait::async_trait;
use sqlx::pool::PoolConnection;
use sqlx::sqlite::{SqliteConnection, SqlitePool, SqliteRow};
use sqlx::{Sqlite, Transaction};

use self::error::Doing;
use super::{
    Change, Head, PhotoRow, PlaceId, PorchRow, PostRow, Result, ServerRow, Settled, StandingRow, Store, Tail,
};

mod access;
mod change;
mod error;
mod files;
mod journal;
mod open;
mod platform;
mod porch;
mod posts;
mod sql;
#[cfg(test)]
mod tests;

pub use self::files::restore;

type Conn = SqliteConnection;
type Row = SqliteRow;

/// The store on SQLite. Clones share its connections.
#[derive(Clone, Debug)]
pub struct SqliteStore {
    write: SqlitePool,
    read: SqlitePool,
}

impl SqliteStore {
    async fn writing(&self) -> Result<Transaction<'static, Sqlite>> {
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
}

#[async_trait]
impl Store for SqliteStore {
    async fn create_place(&self, practice: bool, change: &Change) -> Result<PlaceId> {
        let mut tx = self.writing().await?;
        let place = change::create(&mut tx, practice, change).await?;
        tx.commit().await.doing("making a place")?;
        Ok(place)
    }

    async fn places(&self) -> Result<Vec<PlaceId>> {
        journal::places(&mut *self.reading().await?).await
    }

    async fn head(&self, place: PlaceId) -> Result<Option<Head>> {
        journal::head(&mut *self.reading().await?, place).await
    }

    async fn tail(&self, place: PlaceId, after_seq: i64) -> Result<Tail> {
        let mut tx = self
            .read
            .begin_with(sql::BEGIN_READ)
            .await
            .doing("beginning to read")?;
        let tail = journal::tail(&mut tx, place, after_seq).await?;
        tx.rollback().await.doing("reading a journal")?;
        Ok(tail)
    }

    async fn commit(&self, place: PlaceId, expected_version: i64, change: &Change) -> Result<i64> {
        let mut tx = self.writing().await?;
        let version = change::commit(&mut tx, place, expected_version, change).await?;
        tx.commit().await.doing("committing a change")?;
        Ok(version)
    }

    async fn inbound(&self, place: PlaceId, id: &str) -> Result<Option<String>> {
        journal::inbound(&mut *self.reading().await?, place, id).await
    }

    async fn known_keys(&self, place: PlaceId, keys: &[String]) -> Result<Vec<String>> {
        posts::known_keys(&mut *self.reading().await?, place, keys).await
    }

    async fn posts(&self, place: PlaceId, since_ms: i64) -> Result<Vec<PostRow>> {
        posts::posts(&mut *self.reading().await?, place, since_ms).await
    }

    async fn post(&self, place: PlaceId, id: i64) -> Result<Option<PostRow>> {
        posts::post(&mut *self.reading().await?, place, id).await
    }

    async fn standings(&self, place: PlaceId) -> Result<Vec<StandingRow>> {
        journal::standings(&mut *self.reading().await?, place).await
    }

    async fn photo(&self, place: PlaceId, seq: i64) -> Result<Option<PhotoRow>> {
        journal::photo(&mut *self.reading().await?, place, seq).await
    }

    async fn due_places(&self, now_ms: i64, limit: i64) -> Result<Vec<PlaceId>> {
        journal::due_places(&mut *self.reading().await?, now_ms, limit).await
    }

    async fn next_moment(&self) -> Result<Option<i64>> {
        journal::next_moment(&mut *self.reading().await?).await
    }

    async fn claim(&self, now_ms: i64, lease_until_ms: i64, lease: &str, limit: i64) -> Result<Vec<PostRow>> {
        let mut tx = self.writing().await?;
        let claimed = posts::claim(&mut tx, now_ms, lease_until_ms, lease, limit).await?;
        tx.commit().await.doing("claiming posts")?;
        Ok(claimed)
    }

    async fn settle(&self, place: PlaceId, post: i64, lease: &str, settled: &Settled) -> Result<bool> {
        posts::settle(&mut *self.writing_once().await?, place, post, lease, settled).await
    }

    async fn porch_add(
        &self,
        place: PlaceId,
        key: &str,
        at_ms: i64,
        only_for: Option<u32>,
        body: &str,
    ) -> Result<PorchRow> {
        let mut tx = self.writing().await?;
        let row = porch::add(
            &mut tx,
            place,
            &porch::NewLine {
                key,
                at_ms,
                only_for,
                body,
            },
        )
        .await?;
        tx.commit().await.doing("adding to the porch")?;
        Ok(row)
    }

    async fn porch_edit(&self, place: PlaceId, id: i64, body: &str) -> Result<Option<PorchRow>> {
        let mut tx = self.writing().await?;
        let edited = porch::edit(&mut tx, place, id, body).await?;
        // A revision that no line got is not kept.
        let ended = if edited.is_some() {
            tx.commit().await
        } else {
            tx.rollback().await
        };
        ended.doing("editing the porch")?;
        Ok(edited)
    }

    async fn porch_after(&self, place: PlaceId, revision: i64, limit: i64) -> Result<Vec<PorchRow>> {
        porch::after(&mut *self.reading().await?, place, revision, limit).await
    }

    async fn key_put(&self, place: PlaceId, carer: u32, hash: &str, once: bool, until_ms: i64) -> Result<()> {
        access::put(
            &mut *self.writing_once().await?,
            (place, carer),
            hash,
            once,
            until_ms,
        )
        .await
    }

    async fn key_use(&self, hash: &str, now_ms: i64) -> Result<Option<(PlaceId, u32)>> {
        // Most keys last, and are looked up with every page: only one that is to be used up costs a write.
        let found = access::find(&mut *self.reading().await?, hash, now_ms).await?;
        match found {
            Some(found) if found.once => access::take(&mut *self.writing_once().await?, hash, now_ms).await,
            found => Ok(found.map(|found| found.who)),
        }
    }

    async fn place_of_server(&self, server: i64) -> Result<Option<PlaceId>> {
        platform::place_of_server(&mut *self.reading().await?, server).await
    }

    async fn server_of(&self, place: PlaceId) -> Result<Option<ServerRow>> {
        platform::server_of(&mut *self.reading().await?, place).await
    }

    async fn servers(&self) -> Result<Vec<(PlaceId, ServerRow)>> {
        platform::servers(&mut *self.reading().await?).await
    }

    async fn carer_of(&self, place: PlaceId, account: i64) -> Result<Option<u32>> {
        platform::carer_of(&mut *self.reading().await?, place, account).await
    }

    async fn accounts(&self, place: PlaceId) -> Result<Vec<(u32, i64)>> {
        platform::accounts(&mut *self.reading().await?, place).await
    }

    async fn kept(&self, name: &str) -> Result<Option<String>> {
        platform::kept(&mut *self.reading().await?, name).await
    }

    async fn keep(&self, name: &str, value: &str) -> Result<()> {
        platform::keep(&mut *self.writing_once().await?, name, value).await
    }

    async fn forget_photos(&self, before_ms: i64) -> Result<u64> {
        platform::forget_photos(&mut *self.writing_once().await?, before_ms).await
    }

    async fn backup(&self, file: &Path) -> Result<()> {
        files::backup(&mut *self.reading().await?, file).await
    }

    async fn close(&self) {
        // The writer is the last to go: it alone can empty the write-ahead log into the file.
        self.read.close().await;
        self.write.close().await;
    }
}
