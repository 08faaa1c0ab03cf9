//! What was written for good, as seen right at the store and below all faults.

use std::sync::{Mutex, MutexGuard, PoisonError};

use wrackline::store::{Change, PlaceId, Settled};

/// A change that was written.
#[derive(Clone, Debug)]
pub struct Commit {
    /// The place.
    pub place: PlaceId,
    /// The version that it made.
    pub version: i64,
    /// What it changed.
    pub change: Change,
}

/// An attempt to send that was settled under its own lease.
#[derive(Clone, Debug)]
pub struct Settlement {
    /// The post.
    pub post: i64,
    /// How.
    pub settled: Settled,
}

#[derive(Debug, Default)]
struct Pages {
    commits: Vec<Commit>,
    settlements: Vec<Settlement>,
    transactions: u64,
}

/// The record that all processes on one store share.
#[derive(Debug, Default)]
pub struct Ledger(Mutex<Pages>);

impl Ledger {
    fn pages(&self) -> MutexGuard<'_, Pages> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    pub(super) fn commit(&self, place: PlaceId, version: i64, change: &Change) {
        self.pages().commits.push(Commit {
            place,
            version,
            change: change.clone(),
        });
    }

    pub(super) fn settle(&self, post: i64, settled: &Settled) {
        self.pages().settlements.push(Settlement {
            post,
            settled: settled.clone(),
        });
    }

    pub(super) fn count(&self) {
        self.pages().transactions += 1;
    }

    /// All changes that were written, in order.
    #[must_use]
    pub fn commits(&self) -> Vec<Commit> {
        self.pages().commits.clone()
    }

    /// How many changes were written.
    #[must_use]
    pub fn commit_count(&self) -> usize {
        self.pages().commits.len()
    }

    /// The changes that a line or press of this id caused.
    #[must_use]
    pub fn caused_by(&self, id: &str) -> Vec<Commit> {
        let is_of = |commit: &&Commit| {
            commit
                .change
                .inbound
                .as_ref()
                .is_some_and(|inbound| inbound.id == id)
        };
        self.pages().commits.iter().filter(is_of).cloned().collect()
    }

    /// All attempts to send that were settled, in order.
    #[must_use]
    pub fn settlements(&self) -> Vec<Settlement> {
        self.pages().settlements.clone()
    }

    /// How many write transactions were begun.
    #[must_use]
    pub fn transactions(&self) -> u64 {
        self.pages().transactions
    }
}
