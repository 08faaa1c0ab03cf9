//! Limits that the platform named, until when each holds.

use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

use super::patience::Patience;
use super::refusal::Refused;
use super::route::Route;
use crate::clock;

/// The most routes whose bucket is remembered; beyond that all are learned anew.
const KNOWN_MAX: usize = 4096;

/// A bucket by the name the platform gave it, with what it is counted for (a channel, a guild, a webhook).
type Bucket = (Vec<u8>, String);

/// Limits that the platform named.
#[derive(Default)]
pub(super) struct Closed(Mutex<State>);

#[derive(Default)]
struct State {
    routes: HashMap<Route, Instant>,
    buckets: HashMap<Bucket, Instant>,
    /// Which bucket a route was last counted in.
    known: HashMap<Route, Bucket>,
}

impl Closed {
    /// A route is counted in a bucket.
    pub(super) fn learn(&self, route: &Route, bucket: &[u8]) {
        let bucket = (bucket.to_vec(), route.major());
        self.with(|state| {
            if state.known.get(route) == Some(&bucket) {
                return;
            }
            if state.known.len() >= KNOWN_MAX {
                state.known.clear();
            }
            state.known.insert(route.clone(), bucket);
        });
    }

    /// Closes a route, and the bucket it is known to be counted in, until a moment.
    pub(super) fn close(&self, route: &Route, until: Instant) {
        let now = clock::monotonic();
        self.with(|state| {
            state.routes.retain(|_, end| *end > now);
            state.buckets.retain(|_, end| *end > now);
            let end = state.routes.entry(route.clone()).or_insert(until);
            *end = until.max(*end);
            if let Some(bucket) = state.known.get(route) {
                let end = state.buckets.entry(bucket.clone()).or_insert(until);
                *end = until.max(*end);
            }
        });
    }

    /// How long a route is still closed.
    pub(super) fn left(&self, route: &Route) -> Duration {
        let until = self.with(|state| {
            let bucket = state
                .known
                .get(route)
                .and_then(|bucket| state.buckets.get(bucket));
            bucket.max(state.routes.get(route)).copied()
        });
        until.map_or(Duration::ZERO, |until| {
            until.saturating_duration_since(clock::monotonic())
        })
    }

    /// Waits until a route is open.
    pub(super) async fn wait(&self, route: &Route, patience: &Patience) -> Result<(), Refused> {
        loop {
            let left = self.left(route);
            if left.is_zero() {
                return Ok(());
            }
            if left > patience.wait() {
                return Err(Refused::later(
                    Some(left),
                    "the platform's limit for this is reached",
                ));
            }
            clock::wait(left).await;
        }
    }

    fn with<T>(&self, work: impl FnOnce(&mut State) -> T) -> T {
        work(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner))
    }
}
