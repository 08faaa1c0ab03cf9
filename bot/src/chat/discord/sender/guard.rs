//! The guard against a ban: the platform bans an address after 10,000 answers 401, 403 or 429 in ten minutes.

use std::collections::VecDeque;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

use super::refusal::Refused;
use crate::clock;

/// How many such answers there may be before nothing is sent any more.
const ANSWERS_MAX: usize = 8_000;

/// What they are counted over.
const WINDOW: Duration = Duration::from_secs(10 * 60);

/// Counts the answers that lead to a ban.
pub(super) struct Guard {
    answers_max: usize,
    window: Duration,
    seen: Mutex<VecDeque<Instant>>,
}

impl Default for Guard {
    fn default() -> Self {
        Self::new(ANSWERS_MAX, WINDOW)
    }
}

impl Guard {
    pub(super) fn new(answers_max: usize, window: Duration) -> Self {
        Self {
            answers_max,
            window,
            seen: Mutex::default(),
        }
    }

    /// One more such answer.
    pub(super) fn count(&self) {
        let mut seen = self.seen.lock().unwrap_or_else(PoisonError::into_inner);
        seen.push_back(clock::monotonic());
        if seen.len() == self.answers_max {
            tracing::error!(
                answers = seen.len(),
                "so many calls were refused that no more are made for a while"
            );
        }
    }

    /// Whether another call may be made.
    pub(super) fn check(&self) -> Result<(), Refused> {
        let now = clock::monotonic();
        let mut seen = self.seen.lock().unwrap_or_else(PoisonError::into_inner);
        while seen.front().is_some_and(|at| *at + self.window <= now) {
            seen.pop_front();
        }
        if seen.len() < self.answers_max {
            return Ok(());
        }
        let wait = seen
            .front()
            .map(|at| (*at + self.window).saturating_duration_since(now));
        Err(Refused::later(wait, "too many calls were refused lately"))
    }
}
