//! Medians and the like.

use std::time::{Duration, Instant};

/// The time that something takes, in milliseconds, and what comes of it.
pub(crate) async fn timed<T>(work: impl Future<Output = T>) -> (f64, T) {
    let clock = Instant::now();
    let done = work.await;
    (millis(clock.elapsed()), done)
}

/// A duration in milliseconds.
pub(crate) fn millis(spent: Duration) -> f64 {
    spent.as_secs_f64() * 1e3
}

/// The middle one.
pub(crate) fn median(values: &[f64]) -> f64 {
    share(values, 0.5)
}

/// The one that 95 of 100 do not exceed.
pub(crate) fn p95(values: &[f64]) -> f64 {
    share(values, 0.95)
}

fn share(values: &[f64], share: f64) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted[((sorted.len() - 1) as f64 * share).round() as usize]
}
