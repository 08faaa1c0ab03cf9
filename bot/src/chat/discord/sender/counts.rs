//! What was sent and what became of it, for measures.

use std::sync::atomic::{AtomicU64, Ordering};

/// What was sent and what became of it, since the start.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Requests put on the network, repeats included.
    pub sent: u64,
    /// Calls answered with a success.
    pub answered: u64,
    /// Calls the platform said no to.
    pub refused: u64,
    /// Answers "too many requests", shared limits included.
    pub refused_429: u64,
    /// Calls that failed for now on the network or at the platform.
    pub failed: u64,
    /// Calls that were put off without touching the network.
    pub held: u64,
    /// Calls that may or may not have arrived.
    pub unsure: u64,
    /// Answers that were none of the platform's.
    pub nonsense: u64,
}

/// The counters behind [`Counts`].
#[derive(Debug, Default)]
pub(super) struct Tally {
    pub(super) sent: AtomicU64,
    pub(super) answered: AtomicU64,
    pub(super) refused: AtomicU64,
    pub(super) refused_429: AtomicU64,
    pub(super) failed: AtomicU64,
    pub(super) held: AtomicU64,
    pub(super) unsure: AtomicU64,
    pub(super) nonsense: AtomicU64,
}

/// One more.
pub(super) fn add(counter: &AtomicU64) {
    counter.fetch_add(1, Ordering::Relaxed);
}

impl Tally {
    pub(super) fn read(&self) -> Counts {
        let of = |counter: &AtomicU64| counter.load(Ordering::Relaxed);
        Counts {
            sent: of(&self.sent),
            answered: of(&self.answered),
            refused: of(&self.refused),
            refused_429: of(&self.refused_429),
            failed: of(&self.failed),
            held: of(&self.held),
            unsure: of(&self.unsure),
            nonsense: of(&self.nonsense),
        }
    }
}
