//! How much, how fast, how long.

use std::num::NonZeroU16;
use std::time::Duration;

/// The most bytes of an answer that are read.
pub(super) const ANSWER_BYTES_MAX: usize = 4 * 1024 * 1024;

/// How often one call is put on the network at most, the first time included.
pub(super) const SENDS_MAX: u32 = 5;

/// The longest wait that is believed; a longer one is a slip, and moments so far off cannot be reckoned with.
pub(super) const WAIT_BELIEVED_MAX: Duration = Duration::from_secs(366 * 24 * 60 * 60);

/// How much, how fast, how long.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// The most requests in any one second, all channels together. Default 50.
    pub global_per_s: NonZeroU16,
    /// The longest a call waits for one permission: its turn, or a limit that the platform named. Default 8 s.
    pub wait_max: Duration,
    /// The longest one request may take, connecting and reading included. Default 10 s.
    pub request_max: Duration,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            global_per_s: NonZeroU16::new(50).expect("50 is not 0"),
            wait_max: Duration::from_secs(8),
            request_max: Duration::from_secs(10),
        }
    }
}
