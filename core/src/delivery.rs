//! The life of a post on its way out: pending → claimed → sent | retry | expired | dead.

use crate::civil::plus_minutes;
use jiff::{SignedDuration, Timestamp};

/// How often one version of a post is tried at most. What nobody has seen yet is tried on, with the longest wait
/// between, until it is no longer worth sending.
pub const ATTEMPTS_MAX: i64 = 12;
/// The first wait, in milliseconds.
pub const WAIT_FIRST_MS: i64 = 2_000;
/// The longest wait, in milliseconds.
pub const WAIT_MAX_MS: i64 = 600_000;
/// How long a claim holds, in milliseconds: a process that died gives its posts up after this.
pub const LEASE_MS: i64 = 30_000;
/// How many posts are claimed at once.
pub const BATCH_MAX: i64 = 100;

/// How an attempt failed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Failure {
    /// It may work later, not before so many milliseconds where that was said.
    Passing {
        /// The least wait.
        wait_ms: Option<i64>,
    },
    /// It will never work.
    Lasting,
}

/// What becomes of a post after a failed attempt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Next {
    /// It is tried again then.
    Retry(Timestamp),
    /// It is given up, visibly.
    Dead,
}

/// The wait before the next attempt in milliseconds: doubled each time, with the upper half of it drawn from the
/// seed so that many posts that failed together do not come back together.
///
/// ```
/// use wrackline_core::delivery::wait_ms;
/// assert!((1_000..=2_000).contains(&wait_ms(1, 7)));
/// assert!((300_000..=600_000).contains(&wait_ms(40, 7)));
/// ```
#[must_use]
pub fn wait_ms(attempts: i64, seed: u64) -> i64 {
    let doublings = u32::try_from(attempts.clamp(1, 20) - 1).unwrap_or(0);
    let full = WAIT_FIRST_MS.saturating_mul(1 << doublings).min(WAIT_MAX_MS);
    let half = full / 2;
    // SplitMix64 (Steele, Lea & Flood 2014): one step spreads neighbouring seeds apart.
    let mut mixed = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
    mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    mixed ^= mixed >> 31;
    half + i64::try_from(mixed % u64::try_from(half + 1).unwrap_or(1)).unwrap_or(0)
}

/// What becomes of a post after its `attempts`-th attempt failed.
#[must_use]
pub fn after_failure(failure: Failure, attempts: i64, now: Timestamp, seed: u64) -> Next {
    let Failure::Passing { wait_ms: least } = failure else {
        return Next::Dead;
    };
    if attempts >= ATTEMPTS_MAX {
        return Next::Dead;
    }
    let wait = wait_ms(attempts, seed).max(least.unwrap_or(0));
    let at = now.saturating_add(SignedDuration::from_millis(wait));
    Next::Retry(at.unwrap_or_else(|_| plus_minutes(now, 10)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn waits_grow_and_end() {
        let now = Timestamp::UNIX_EPOCH;
        let mut last = 0;
        for attempts in 1..ATTEMPTS_MAX {
            let Next::Retry(at) = after_failure(Failure::Passing { wait_ms: None }, attempts, now, 3) else {
                panic!("attempt {attempts} ended it");
            };
            let wait = at.as_millisecond();
            assert!(
                wait >= last / 4 && wait <= WAIT_MAX_MS,
                "attempt {attempts}: {wait} ms after {last} ms"
            );
            last = wait;
        }
        assert_eq!(
            after_failure(Failure::Passing { wait_ms: None }, ATTEMPTS_MAX, now, 3),
            Next::Dead
        );
        assert_eq!(after_failure(Failure::Lasting, 1, now, 3), Next::Dead);
    }

    #[test]
    fn a_wait_that_was_asked_for_is_kept() {
        let next = after_failure(
            Failure::Passing {
                wait_ms: Some(70_000),
            },
            1,
            Timestamp::UNIX_EPOCH,
            9,
        );
        assert_eq!(next, Next::Retry(Timestamp::from_millisecond(70_000).unwrap()));
    }
}
