//! How long a call may still wait.

use std::time::{Duration, Instant};

use super::limits::Limits;
use crate::clock;

/// How long a call may still wait.
#[derive(Clone, Copy, Debug)]
pub(super) struct Patience {
    wait_max: Duration,
    request_max: Duration,
    end: Option<Instant>,
}

impl Patience {
    pub(super) fn new(limits: &Limits, within: Option<Duration>) -> Self {
        Self {
            wait_max: limits.wait_max,
            request_max: limits.request_max,
            end: within.and_then(|within| clock::monotonic().checked_add(within)),
        }
    }

    fn left(&self) -> Duration {
        self.end.map_or(Duration::MAX, |end| {
            end.saturating_duration_since(clock::monotonic())
        })
    }

    /// The longest wait that may begin now.
    pub(super) fn wait(&self) -> Duration {
        self.wait_max.min(self.left())
    }

    /// The longest request that may begin now.
    pub(super) fn request(&self) -> Duration {
        self.request_max.min(self.left())
    }
}
