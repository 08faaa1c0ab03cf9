//! Whether a connection is alive: every shard's heartbeats are acknowledged.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::time::{Duration, Instant};

use serenity::all::ShardManager;

use crate::clock::monotonic;

/// What was felt of a connection so far.
pub struct Pulse {
    silence_max: Duration,
    began: Instant,
    /// How long the last acknowledgement took, per shard, and when this was first seen: every acknowledgement takes
    /// another time.
    last: BTreeMap<u32, (Option<Duration>, Instant)>,
}

impl Pulse {
    /// Begins to feel; a connection may be silent for so long.
    #[must_use]
    pub fn new(silence_max: Duration) -> Self {
        Self {
            silence_max,
            began: monotonic(),
            last: BTreeMap::new(),
        }
    }

    /// Whether no shard has been silent for too long, and there is one.
    pub async fn is_felt(&mut self, shards: &Arc<ShardManager>) -> bool {
        let now = monotonic();
        let runners = shards.runners.lock().await;
        for (shard, info) in runners.iter() {
            let seen = self.last.entry(shard.0).or_insert((info.latency, now));
            if seen.0 != info.latency {
                *seen = (info.latency, now);
            }
        }
        // A shard that has vanished is silent too: its last sign of life grows old like any other's.
        let newest_of_each = self.last.values().map(|(_, at)| *at);
        let oldest = newest_of_each.min().unwrap_or(self.began);
        now.duration_since(oldest) <= self.silence_max
    }
}
