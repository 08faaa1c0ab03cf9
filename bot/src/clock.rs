//! The clocks. This is the one file that reads one.
//!
//! Wall time says when something is due; waiting is done on the monotonic clock. The two are never mixed.

#![allow(clippy::disallowed_methods, reason = "the one file that reads a clock")]

use std::sync::atomic::{AtomicI64, Ordering};
use std::time::{Duration, Instant};

use jiff::Timestamp;

/// Wall time, as the process is to see it.
pub trait Clock: Send + Sync {
    /// Now.
    fn now(&self) -> Timestamp;
}

/// The machine's clock.
#[derive(Clone, Copy, Debug, Default)]
pub struct MachineClock;

impl Clock for MachineClock {
    fn now(&self) -> Timestamp {
        Timestamp::now()
    }
}

/// A clock that stands where it was put: for practice, replays and tests.
#[derive(Debug)]
pub struct SetClock(AtomicI64);

impl SetClock {
    /// A clock that stands at a moment.
    #[must_use]
    pub fn at(now: Timestamp) -> Self {
        Self(AtomicI64::new(now.as_millisecond()))
    }

    /// Puts it to another moment, forwards or back.
    pub fn put(&self, now: Timestamp) {
        self.0.store(now.as_millisecond(), Ordering::SeqCst);
    }
}

impl Clock for SetClock {
    fn now(&self) -> Timestamp {
        Timestamp::from_millisecond(self.0.load(Ordering::SeqCst)).unwrap_or(Timestamp::UNIX_EPOCH)
    }
}

/// Waits a while on the monotonic clock.
pub async fn wait(duration: Duration) {
    tokio::time::sleep(duration).await;
}

/// This moment on the monotonic clock: for time limits and waits, never for when something is due.
#[must_use]
pub fn monotonic() -> Instant {
    Instant::now()
}
