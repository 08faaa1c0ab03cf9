//! The port, fulfilled by the bodies beside this file.

use std::path::Path;

use async_trait::async_trait;

use super::error::Doing;
use super::{Adapter, access, calendar, change, journal, platform, porch, posts};
use crate::store::{
    CalendarRow, Change, Head, PhotoRow, PlaceId, PorchRow, PostRow, Result, ServerRow, Settled, StandingRow,
    Store, Tail,
};

#[async_trait]
impl Store for Adapter {
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
        let mut tx = self.snapshot().await?;
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
        let known = match settled {
            Settled::Sent { known, .. } => known.as_slice(),
            _ => &[],
        };
        if known.is_empty() {
            return posts::settle(&mut *self.writing_once().await?, place, post, lease, settled).await;
        }
        let mut tx = self.writing().await?;
        let is_held = posts::settle(&mut tx, place, post, lease, settled).await?;
        if is_held {
            change::cover(&mut tx, place, known).await?;
        }
        tx.commit().await.doing("settling a post")?;
        Ok(is_held)
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

    async fn calendar_put(
        &self,
        place: PlaceId,
        carer: u32,
        hash: &str,
        alarm_min: Option<i64>,
        seed: &str,
    ) -> Result<()> {
        let mut tx = self.writing().await?;
        calendar::put(&mut tx, (place, carer), (hash, alarm_min), seed).await?;
        tx.commit().await.doing("giving a calendar an address")
    }

    async fn calendar_end(&self, place: PlaceId, carer: u32) -> Result<bool> {
        calendar::end(&mut *self.writing_once().await?, (place, carer)).await
    }

    async fn calendar_of(&self, place: PlaceId, carer: u32) -> Result<Option<Option<i64>>> {
        calendar::of(&mut *self.reading().await?, (place, carer)).await
    }

    async fn calendar(&self, hash: &str) -> Result<Option<CalendarRow>> {
        calendar::find(&mut *self.reading().await?, hash).await
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
        self.copy_to(file).await
    }

    async fn close(&self) {
        self.end().await;
    }
}
