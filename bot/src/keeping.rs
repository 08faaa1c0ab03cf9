//! How long photos are kept: they show rooms and hands, and what they show of a pool is soon out of date. The entries
//! that they belong to stay.

use std::sync::Arc;
use std::time::Duration;

use jiff::{SignedDuration, Timestamp};

use crate::clock::{Clock, wait};
use crate::store::{Result, Store};

/// How often photos are looked through.
const LOOK_EVERY: Duration = Duration::from_secs(60 * 60);

/// Forgets the photos whose entry was logged more than `days` days of 24 hours ago; returns how many there were.
///
/// # Errors
/// Those of the store.
pub async fn step(store: &dyn Store, now: Timestamp, days: u32) -> Result<u64> {
    let span = SignedDuration::from_hours(24 * i64::from(days));
    // A span that reaches back before all time forgets nothing.
    let before = now.checked_sub(span).unwrap_or(Timestamp::MIN);
    store.forget_photos(before.as_millisecond()).await
}

/// Looks through the photos at once and every hour, for as long as the process runs.
pub async fn run(store: Arc<dyn Store>, clock: Arc<dyn Clock>, days: u32) {
    loop {
        match step(&*store, clock.now(), days).await {
            Ok(0) => {}
            Ok(photos) => tracing::info!(photos, days, "photos were kept for their days and are gone"),
            // The next look catches up.
            Err(error) => tracing::warn!(%error, "photos could not be looked through"),
        }
        wait(LOOK_EVERY).await;
    }
}
